"""What the tests of the sound share: a sound card made of a file, players of paper, patience."""

import contextlib
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from queue import Empty, SimpleQueue

from passbell.sound.board import SoundBoard
from passbell.sound.folders import own_sounds
from passbell.sound.pattern import Alarm, Kind
from passbell.sound.ticks import ticks
from passbell.sound.wavfile import NAMES, read_wav

OURS = {read_wav(own_sounds() / f"{name}.wav").frames: name for name in NAMES}

_ALSA = """</usr/share/alsa/alsa.conf>
pcm.!default {{
    type file
    slave.pcm "null"
    file "| cat > {folder}/part.$$ && mv {folder}/part.$$ {folder}/$$.raw"
    format "raw"
}}
"""


class Speaker:
    """An ALSA device that writes every sound sent to it into a file of its own."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self.config = folder / "asound.conf"
        self.config.write_text(_ALSA.format(folder=folder))

    def samples(self) -> list[bytes]:
        """The samples of each sound that came out, oldest first, without the silent proofs."""
        files = sorted(self._folder.glob("*.raw"), key=lambda path: path.stat().st_mtime_ns)
        return [data for path in files if any(data := path.read_bytes())]

    def forget(self) -> None:
        """Take away what came out so far."""
        for path in self._folder.glob("*.raw"):
            path.unlink()

    def heard(self) -> list[str]:
        """The name of each sound that came out whole; "?" for samples that are none of ours."""
        return [OURS.get(data, "?") for data in self.samples()]


PATIENT = 30.0
"""Seconds after which a test gives up on a busy machine; nothing waits that long unasked."""


def until(true: Callable[[], object], seconds: float = PATIENT) -> bool:
    """Wait until something holds; whether it came to."""
    end = time.perf_counter() + seconds
    while time.perf_counter() < end:
        if true():
            return True
        time.sleep(0.01)
    return bool(true())


def polled(board: SoundBoard, true: Callable[[], object], seconds: float = PATIENT) -> bool:
    """The same while the board is polled, though more often than a session would."""

    def look() -> object:
        board.poll()
        return true()

    return until(look, seconds)


def alive(pid: int) -> bool:
    """Whether a process runs; one that ended and was not waited for does not."""
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def write_player(folder: Path, name: str, script: str) -> None:
    """Put a program on the path that plays nothing and does what the script says."""
    path = folder / name
    path.write_text(f"#!/bin/sh\n{script}\n")
    path.chmod(0o755)


class Talk:
    """A sound process spoken to by hand."""

    def __init__(self, *arguments: str) -> None:
        command = [sys.executable, "-P", "-m", "passbell.sound.child", "--folder"]
        self.process = subprocess.Popen(
            [*command, str(own_sounds()), *arguments],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
            env={**os.environ, "PYTHONMALLOC": "malloc"},
            text=True,
        )
        self.news: list[str] = []
        self._lines: SimpleQueue[str] = SimpleQueue()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self) -> None:
        assert self.process.stdout
        for line in self.process.stdout:
            self._lines.put(line.rstrip("\n"))
        self._lines.put("")

    def line(self) -> str:
        """The next line, "" at the end."""
        try:
            return self._lines.get(timeout=PATIENT)
        except Empty:
            raise AssertionError(f"it says nothing more: {self.news}") from None

    def wait_for(self, name: str) -> str:
        """The next news of this name; all before it are kept in `news`."""
        while line := self.line():
            self.news.append(line.removeprefix("news "))
            if line.startswith(f"news {name}"):
                return line
        raise AssertionError(f"it ended without {name}: {self.news}")

    def send(self, line: str) -> None:
        assert self.process.stdin
        self.process.stdin.write(f"{line}\n")
        self.process.stdin.flush()

    def ask(self, line: str) -> str:
        """The answer to one command."""
        self.send(line)
        while (answer := self.line()).startswith("news"):
            self.news.append(answer.removeprefix("news "))
        return answer

    def arm(self, key: str, kind: str, after: float, rung: float | None = None) -> None:
        """Arm an alarm so many seconds from now."""
        last = "-" if rung is None else repr(ticks() + rung)
        assert self.ask(f"arm {key} {kind} {ticks() + after!r} {last}") == "ok arm"

    def hang_up(self) -> None:
        """Do what the system does when the program dies."""
        assert self.process.stdin
        with contextlib.suppress(OSError):
            self.process.stdin.close()

    def end(self) -> None:
        self.process.kill()
        self.process.wait()
        self.hang_up()
        self._reader.join()
        assert self.process.stdout
        self.process.stdout.close()


MakeTalk = Callable[..., Talk]


def alarms(kind: Kind = "do_it", after: float = 0.0, key: str = "stir, éh\n") -> dict[str, Alarm]:
    """One alarm, due in so many seconds."""
    return {key: Alarm(key, kind, ticks() + after)}


def up(board: SoundBoard) -> bool:
    """Wait until a player has been found; whether one was."""
    return polled(board, lambda: board.player not in {None, "none"})


class HandClock:
    """A clock that stands still until it is moved; the sound process is none of its business."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now
