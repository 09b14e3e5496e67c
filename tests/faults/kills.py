"""Cooks in real terminals, killed with kill -9 at random moments, and what is left of them.

Run it as a program: python tests/faults/kills.py --kills 500 [--seed N]
Each round takes up the cook of the round before, presses random keys and kills the program at a
random moment, also while it starts. Then the journal must be whole, hold every act and note that
the screen had shown, and be what the engine makes of the same commands at the same instants; and
the next start must show that state, its countdowns where the wall clock says.
"""

import argparse
import contextlib
import os
import random
import signal
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

import tests.terminal as patience
from passbell.cli.main import main as passbell
from passbell.cook.engine import advance
from passbell.cook.state import CookState
from passbell.planfiles import bundled_folder, find_plan
from tests.faults.reading import (
    Recorded,
    Replay,
    Shown,
    fits,
    read_screen,
    recorded,
    second_shown,
    shows_no_more,
)
from tests.terminal import Terminal

SIZE = (40, 140)
PLANS = tuple(sorted(path.stem for path in bundled_folder().glob("*.toml")))
SPEEDS = ("1", "1", "4", "20")
KEYS = "\r" * 9 + "dddeepp++--tbfahruiq'm,; i19\x1b"
WORDS = ("152", "66c", "2 151", "chicken 152", "pork 149", "all", "oven 9:30", "+5", "nonsense")
LATE = 1.0
"""Seconds a countdown may differ from the wall clock at best, drawing included."""


@dataclass
class Tally:
    """What came of all rounds.

    Attributes:
        kills: programs killed; `starting` of them before their screen.
        acts, notes: acts and notes that a screen had shown at its end and that were looked for.
        screens: last screens that were the journal's state to the second.
        torn: last screens that were half drawn, of which only the acts were compared.
        resumed: cooks taken up again whose screen was the replayed state.
        entries: entries replayed.
        unwritten: times that the screen said that something was not recorded, on a full disk.
        late: seconds by which the first right clock of a resumed screen was behind the wall.
        lost: what went wrong.
    """

    kills: int = 0
    starting: int = 0
    acts: int = 0
    notes: int = 0
    screens: int = 0
    torn: int = 0
    resumed: int = 0
    entries: int = 0
    unwritten: int = 0
    late: list[float] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        late = sorted(self.late) or [0.0]
        return (
            f"{self.kills} kills ({self.starting} while starting), "
            f"{self.entries} entries replayed, "
            f"{f'{self.unwritten} times not recorded at first, ' if self.unwritten else ''}"
            f"{self.acts} acts and {self.notes} notes shown and found, "
            f"{self.screens} last screens equal to the journal and {self.torn} half drawn, "
            f"{self.resumed} cooks resumed as replayed, "
            f"first right clock at most {late[-1]:.2f} s off (median {late[len(late) // 2]:.2f}), "
            f"{len(self.lost)} lost"
        )


class Fork:
    """What of a process is used here, for one that was forked."""

    def __init__(self, pid: int) -> None:
        self.pid = pid
        self._code: int | None = None

    def poll(self) -> int | None:
        """Its exit code; None: it runs."""
        if self._code is None:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            self._code = os.waitstatus_to_exitcode(status) if pid else None
        return self._code

    def wait(self) -> int:
        """Wait for its end."""
        while self.poll() is None:
            time.sleep(0.01)
        return self._code or 0

    def send_signal(self, number: int) -> None:
        """Send it a signal."""
        if self.poll() is None:
            os.kill(self.pid, number)

    def kill(self) -> None:
        """End it at once."""
        self.send_signal(signal.SIGKILL)


class ForkedTerminal(Terminal):
    """The same program on a terminal, spared the time of its imports: most of a short life."""

    def _started(self, arguments, theirs, environment):  # type: ignore[no-untyped-def]
        """Fork this process, which has imported all, and run the command in the child."""
        pid = os.fork()
        if pid:
            return Fork(pid)
        try:
            os.setsid()
            with contextlib.suppress(OSError):  # a new session would be as urgent as any other
                Path("/proc/self/autogroup").write_text(str(os.nice(0)), encoding="ascii")
            for number in range(3):
                os.dup2(theirs, number)
            os.closerange(3, 256)
            os.environ.clear()
            os.environ.update(environment)
            time.tzset()
            sys.argv[1:] = arguments
            os._exit(passbell(list(arguments)))
        finally:
            os._exit(70)


class Killer:
    """Rounds of one kitchen.

    Args:
        home: its folder.
        dice: decides everything.
        tally: what came of it.
        fresh: every program is a new interpreter, not only those killed while they start.
    """

    def __init__(self, home: Path, dice: random.Random, tally: Tally, fresh: bool) -> None:
        self._home, self._dice, self._tally, self._exec = home, dice, tally, fresh
        self._replay = Replay()
        self._plan, self._speed = PLANS[0], SPEEDS[0]
        self._going = False
        self._notes: list[str] = []

    def round(self) -> None:
        """Start or go on, press keys, kill, look what is left."""
        if not self._going or self._dice.random() < 0.08:
            self._plan, self._speed = self._dice.choice(PLANS), self._dice.choice(SPEEDS)
            self._notes, self._going = [], False
        new = () if self._going else ("--new",)
        words = ("cook", self._plan, "--asap", "--mute", "--speed", self._speed, *new)
        starting = self._dice.random() < 0.15
        kind = Terminal if starting or self._exec else ForkedTerminal
        with kind(words, self._home, SIZE) as terminal:
            if starting:
                terminal.read(self._dice.uniform(0, 1.5))
                self._tally.starting += 1
                self._kill(terminal)
                return
            self._opened(terminal)
            looks = list(self._keys(terminal))
            self._kill(terminal)
            looks.append(self._look(terminal))
        self._examine(looks)

    def _kill(self, terminal: Terminal) -> None:
        terminal.kill(signal.SIGKILL)
        self._tally.kills += 1

    def _opened(self, terminal: Terminal) -> None:
        """Wait for the screen; on one gone on with, compare it with what was recorded."""
        if self._going:
            terminal.wait_for("is not finished. Go on with it?")
            before = recorded(self._home)
            terminal.type("\r")
            terminal.open_cook()
            self._compare(terminal, before)
        else:
            terminal.open_cook()
        self._going = True

    def _compare(self, terminal: Terminal, before: Recorded) -> None:
        """Whether a screen that was just opened shows the recorded state, grown to now."""
        state = self._replay.states(before)[-1]
        started, off = before.row.meta.started_utc, 1e9
        until = time.monotonic() + patience.PATIENCE
        while time.monotonic() < until:
            terminal.read(0.1)
            shown, now = self._look(terminal), time.time()
            if shown.clock is None:
                continue
            gone = (now - started) * before.row.meta.speed
            nearest = min(abs(gone - at) for at in second_shown(shown, started))
            off = min(off, nearest / before.row.meta.speed)
            # Grown once, not at every look: food that waits for hours is planned anew for long.
            grown = min(*second_shown(shown, started), int(gone)) - 1
            state = advance(state, max(0, grown)).state
            if off <= LATE and fits(shown, state, started):
                self._tally.resumed += 1
                self._tally.late.append(off)
                return
        self._tally.lost.append(f"resumed otherwise than replayed, {off:.1f} s:\n{terminal.text}")

    def _keys(self, terminal: Terminal) -> Iterator[Shown]:
        for _ in range(self._dice.randint(0, 12)):
            if self._dice.random() < 0.15:
                yield from self._note(terminal)
            elif self._dice.random() < 0.15:
                for key in ("i", self._dice.choice(WORDS), "\r"):
                    terminal.type(key)
                    terminal.read(0.1)
            else:
                terminal.type(self._dice.choice(KEYS))
            terminal.read(self._dice.uniform(0.02, 0.4))
            yield self._look(terminal)

    def _note(self, terminal: Terminal) -> Iterator[Shown]:
        """Write a note; it counts as acknowledged once it stands among the last acts."""
        text = f"n{self._dice.randrange(10**6)}"
        for key in ("\x1b", "n", text, "\r"):
            terminal.type(key)
            terminal.read(0.2)
        for _ in range(6):
            shown = self._look(terminal)
            yield shown
            if f"note: {text}" in shown.acts:
                self._notes.append(text)
                return
            terminal.read(0.2)

    def _look(self, terminal: Terminal) -> Shown:
        return read_screen(terminal.text, names_of(self._plan))

    def _examine(self, looks: list[Shown]) -> None:
        """What the journal must be after a kill."""
        tally, found = self._tally, recorded(self._home)
        before = self._replay.length
        try:
            states = self._replay.states(found)
        except AssertionError as error:
            tally.lost.append(f"the engine makes other events: {error}")
            return
        tally.entries += self._replay.length - (before if before <= self._replay.length else 0)
        told = {remark.text for remark in found.state.remarks}
        struck = " ".join(line.words for line in found.state.log)
        lost = [note for note in self._notes if note not in told and note not in struck]
        tally.lost += [f"note {note} was shown and is not recorded" for note in lost]
        tally.notes += len(self._notes)
        self._last_screen(looks, states, found)
        if found.state.served is not None:
            self._going = False

    def _last_screen(self, looks: list[Shown], states: list[CookState], found: Recorded) -> None:
        """Whether one of the last screens is recorded; a half drawn one: at least its acts."""
        tally, started = self._tally, found.row.meta.started_utc
        last = [shown for shown in looks if shown.clock is not None][-3:]
        for shown in reversed(last):
            if any(fits(shown, state, started) for state in reversed(states[-12:])):
                tally.screens += 1
                tally.acts += len(shown.acts)
                return
        if last and shows_no_more(last[-1], found.state):
            tally.torn += 1
            tally.acts += len(last[-1].acts)
        elif last:
            tally.lost.append(f"the last screens are not recorded: {last}")


@cache
def names_of(plan: str) -> tuple[str, ...]:
    """The components of a bundled plan."""
    return tuple(component.name for component in find_plan(plan).plan.components)


def processes(home: Path) -> list[int]:
    """Living processes that name a folder."""
    found = []
    for path in Path("/proc").iterdir():
        if path.name.isdigit() and int(path.name) != os.getpid():
            try:
                if str(home).encode() in (path / "cmdline").read_bytes():
                    found.append(int(path.name))
            except OSError:
                continue
    return found


def run(kills: int, seed: int, fresh: bool = True) -> Tally:
    """So many kills."""
    dice, tally = random.Random(seed), Tally()
    with tempfile.TemporaryDirectory(prefix="passbell-kills-") as folder:
        killer = Killer(Path(folder), dice, tally, fresh)
        while tally.kills < kills:
            before = len(tally.lost)
            killer.round()
            for lost in tally.lost[before:]:
                print(lost, flush=True)
            if tally.kills % 25 == 0 and kills > 25:
                print(tally, flush=True)
        until = time.monotonic() + 5
        while processes(Path(folder)) and time.monotonic() < until:
            time.sleep(0.1)
        tally.lost += [f"process {pid} is left" for pid in processes(Path(folder))]
    return tally


def main() -> int:
    """Run as many as asked for and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--fresh", action="store_true", help="never fork, always start anew")
    args = parser.parse_args()
    patience.PATIENCE = 120.0
    tally = run(args.kills, args.seed, args.fresh)
    print(tally)
    return 1 if tally.lost else 0


if __name__ == "__main__":
    sys.exit(main())
