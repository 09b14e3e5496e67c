"""Sound that fails in the middle of a cook: how long the cook waits (never), and what is heard.

Run it as a program: python tests/faults/sound.py
Fakes stand in the place of the sound library and of the players of the system; the sound process
and the board are the real ones. For each fault the longest call of the board is printed, when the
alarm was first heard, by whom, and what the cook was told.
"""

import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from passbell.sound import keeper
from passbell.sound.board import SoundBoard
from passbell.sound.pattern import Alarm
from passbell.sound.ticks import ticks

NATIVE = """
import os, time
def play_buffer(frames, *shape):
    state = open(os.environ["FAKE_SOUND"] + "/native").read()
    if state == "hang":
        time.sleep(30)
    if state == "gone":
        raise RuntimeError("no such device")
    if state == "crash":
        os.abort()
    if any(frames):
        open(os.environ["FAKE_SOUND"] + "/heard", "a").write("native\\n")
def stop_all():
    pass
"""
PROGRAM = """#!/bin/sh
PATH=/usr/bin:/bin
read state < "$FAKE_SOUND/NAME" || true
case "$1$2" in *silence*) quiet=1;; esac
case "$state" in
  hang) [ -n "$quiet" ] || exec sleep 30;;
  gone) exit 1;;
  killed) [ -n "$quiet" ] || kill -9 $$;;
esac
[ -n "$quiet" ] || echo NAME >> "$FAKE_SOUND/heard"
"""


@dataclass
class Heard:
    """What a fault came to.

    Attributes:
        player: the player in use in the end.
        by: who was heard, in order; "bell" is the terminal's.
        after: seconds from the alarm to the first of them.
        longest: seconds of the longest call of the board.
        work: seconds of processor time of the longest call.
        told: what the cook was told.
    """

    player: str | None = None
    by: list[str] = field(default_factory=list)
    after: float = 0.0
    longest: float = 0.0
    work: float = 0.0
    told: list[str] = field(default_factory=list)


class Kitchen:
    """A sound card and players of paper.

    Args:
        folder: an empty one.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        (folder / "simpleaudio.py").write_text(NATIVE)
        for name in ("native", "paplay", "aplay"):
            self.be(name, "gone")
        for name in ("paplay", "aplay"):
            path = folder / "bin" / name
            path.parent.mkdir(exist_ok=True)
            path.write_text(PROGRAM.replace("NAME", name))
            path.chmod(0o755)

    def be(self, name: str, state: str) -> None:
        """Let a player be fine, gone, hung, killed or crashed."""
        (self._folder / name).write_text(state if name == "native" else f"{state}\n")

    def environment(self) -> dict[str, str]:
        """What leads the sound process to them."""
        path = os.pathsep.join(filter(None, (str(self._folder), os.environ.get("PYTHONPATH"))))
        return {
            "FAKE_SOUND": str(self._folder),
            "PYTHONPATH": path,
            "PATH": str(self._folder / "bin"),
        }

    def heard(self) -> list[str]:
        """Who has played something that is not silence."""
        path = self._folder / "heard"
        return path.read_text().split() if path.exists() else []


@contextmanager
def kitchen() -> Iterator[Kitchen]:
    """A kitchen whose environment holds while it is in use."""
    before = dict(os.environ)
    with tempfile.TemporaryDirectory(prefix="passbell-sound-") as name:
        made = Kitchen(Path(name))
        os.environ.update(made.environment())
        try:
            yield made
        finally:
            os.environ.clear()
            os.environ.update(before)


FAULTS: dict[str, tuple[dict[str, str], dict[str, str], str]] = {
    "the sound server hangs for 30 s": (
        {"native": "fine", "paplay": "fine"},
        {"native": "hang"},
        "paplay",
    ),
    "the sound library ends its process": (
        {"native": "fine", "aplay": "fine"},
        {"native": "crash"},
        "aplay",
    ),
    "the device is unplugged": (
        {"native": "fine", "paplay": "fine"},
        {"native": "gone"},
        "paplay",
    ),
    "the player is killed": ({"paplay": "fine", "aplay": "fine"}, {"paplay": "killed"}, "aplay"),
    "the player hangs": ({"paplay": "fine", "aplay": "fine"}, {"paplay": "hang"}, "aplay"),
    "the last player goes": ({"native": "fine"}, {"native": "gone"}, "none"),
}
"""For each fault: what works before, what fails, and the player in use in the end."""


def fault(name: str, patience: float = 15.0) -> Heard:
    """Let something fail just before an alarm."""
    before, after, last = FAULTS[name]
    with kitchen() as place:
        for player, state in before.items():
            place.be(player, state)
        board, found = SoundBoard(ticks), Heard()
        try:
            board.start()
            _poll(board, found, lambda: board.player not in (None, "none"), patience)
            found.told.clear()
            for player, state in after.items():
                place.be(player, state)
            began = ticks()
            board.sync({"a": Alarm("a", "do_it", began)})
            _poll(
                board,
                found,
                lambda: bool(_hears(place, found, began)) and board.player == last,
                patience,
            )
            found.player = board.player
            _poll(board, found, lambda: False, 0.5)
        finally:
            board.close()
    return found


def back_again(patience: float = 15.0) -> Heard:
    """The device is unplugged with nothing else there, and plugged in again."""
    retry, keeper.RETRY = keeper.RETRY, 0.4
    try:
        with kitchen() as place:
            board, found = SoundBoard(ticks), Heard()
            try:
                board.start()
                _poll(board, found, lambda: board.player == "none", patience)
                _poll(board, found, lambda: False, 1.0)
                place.be("native", "fine")
                _poll(board, found, lambda: board.player == "simpleaudio", patience)
                began = ticks()
                board.sync({"a": Alarm("a", "do_it", began)})
                _poll(board, found, lambda: _hears(place, found, began) == "native", patience)
            finally:
                board.close()
        return found
    finally:
        keeper.RETRY = retry


def _hears(place: Kitchen, found: Heard, began: float) -> str:
    """The last one heard; when the first was is noted."""
    by = found.by + [name for name in place.heard() if name not in found.by]
    if by and not found.after:
        found.after = ticks() - began
    found.by = by
    return by[-1] if by else ""


def _poll(board: SoundBoard, found: Heard, true: Callable[[], bool], seconds: float) -> None:
    """Poll as a session does until something holds, measuring every call."""
    end = time.perf_counter() + seconds
    while not true() and time.perf_counter() < end:
        began, worked = time.perf_counter(), time.thread_time()
        bells = board.poll()
        reason = board.take_reason()
        found.longest = max(found.longest, time.perf_counter() - began)
        found.work = max(found.work, time.thread_time() - worked)
        if bells and "bell" not in found.by:
            found.by.append("bell")
        if reason:
            found.told.append(reason)
        time.sleep(0.05)


def main() -> int:
    """Try every fault and print what came of it."""
    lost = 0
    for name in FAULTS:
        found = fault(name)
        lost += (
            not found.by
            or found.player != FAULTS[name][2]
            or len(set(found.told)) != len(found.told)
        )
        print(f"{name}: now {found.player}, heard by {', '.join(found.by)} after "
              f"{found.after:.2f} s; longest call "
              f"{1e3 * found.longest:.1f} ms, of it work {1e3 * found.work:.1f} ms")  # fmt: skip
        print("".join(f"    told: {text}\n" for text in found.told), end="")
    found = back_again()
    lost += "native" not in found.by
    print(f"unplugged and plugged in again: heard by {', '.join(found.by)}; told {found.told}")
    print(f"{len(FAULTS) + 1} faults, {lost} lost")
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
