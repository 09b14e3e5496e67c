"""Cooks that end otherwise than by kill -9: told to, with their terminal, on a full disk, doubled.

Run it as a program: python tests/faults/ends.py KIND [--times 100] [--seed N]
with KIND one of SIGTERM, SIGHUP, closed (terminal), stopped (kill -STOP, go on, SIGTERM), full
(disk; it mounts a file system of 2 MB, as root only), two (programs at one cook). Each time
the cook of the time before is taken up and keys are pressed at random, as in kills.py, whose looks
at what is left are taken here too: the journal is whole, it is what the engine makes of the same
commands, and holds what the screen had shown. Besides, where a program can still act, its exit
code is as promised and its terminal as it was.
"""

import argparse
import os
import random
import signal
import subprocess
import sys
import tempfile
import termios
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

import tests.terminal as patience
from tests.faults.kills import SIZE, ForkedTerminal, Killer, Tally, processes
from tests.terminal import Terminal

CODES = {"SIGTERM": 143, "SIGHUP": 129, "closed": 129, "stopped": 143}
"""Exit codes promised: 128 and the number of the signal."""

REFUSED = 2
"""The exit code of a program that finds its cook open in another one."""

KINDS = (*CODES, "full", "two")


class Ender(Killer):
    """Rounds of one kitchen that end in one way.

    Args:
        home: its folder.
        dice: decides everything.
        tally: what came of it.
        kind: how they end.
        fresh: as for `Killer`.
    """

    def __init__(
        self, home: Path, dice: random.Random, tally: Tally, kind: str, *, fresh: bool
    ) -> None:
        super().__init__(home, dice, tally, fresh)
        self.kind = kind

    def _kill(self, terminal: Terminal) -> None:
        """End a program, and see how it went."""
        opened = "DISH UP" in terminal.text
        if self.kind == "full" and opened:
            self._fill(terminal)
        elif self.kind == "two" and opened:
            self._double(terminal)
        elif self.kind == "stopped" and opened:
            self._stop(terminal)
        if self.kind in CODES:
            self._end(terminal, opened)
        else:
            terminal.kill(signal.SIGKILL)
        self._tally.kills += 1

    def _end(self, terminal: Terminal, opened: bool) -> None:
        if self.kind == "closed":
            os.close(terminal._ours)
            terminal._ours = os.open(os.devnull, os.O_RDONLY)
        else:
            number = signal.SIGHUP if self.kind == "SIGHUP" else signal.SIGTERM
            terminal.program.send_signal(number)
        until = time.monotonic() + patience.PATIENCE
        while terminal.program.poll() is None and time.monotonic() < until:
            if self.kind == "closed":
                time.sleep(0.05)
            else:
                terminal.read(0.05)
        code = terminal.program.poll()
        if code is None:
            self._tally.lost.append(f"{self.kind}: it did not end")
        elif opened and code != CODES[self.kind]:
            self._tally.lost.append(f"{self.kind}: exit code {code}\n{terminal.text}")
        if self.kind != "closed":
            ours = termios.tcgetattr(terminal._ours)[3]
            if not (ours & termios.ICANON and ours & termios.ECHO):
                self._tally.lost.append(f"{self.kind}: the terminal is left raw, opened: {opened}")

    def _stop(self, terminal: Terminal) -> None:
        """Stopped from outside, not by the keyboard, and gone on with; some keys."""
        for _ in range(self._dice.randint(1, 3)):
            terminal.program.send_signal(signal.SIGSTOP)
            time.sleep(self._dice.uniform(0, 0.5))
            terminal.program.send_signal(signal.SIGCONT)
            terminal.read(self._dice.uniform(0, 0.3))
            terminal.type(self._dice.choice("\rd+"))

    def _fill(self, terminal: Terminal) -> None:
        """Keys on a full disk; then there is room again, and time to try again."""
        big = self._home.parent / "big"
        with big.open("wb", buffering=0) as file:
            try:
                while True:
                    file.write(bytes(4096))
            except OSError:
                pass
        for _ in range(self._dice.randint(2, 8)):
            terminal.type(self._dice.choice("\rd+e"))
            terminal.read(self._dice.uniform(0.05, 0.5))
        if "not recorded" in terminal.text:
            self._tally.unwritten += 1
        big.unlink()
        terminal.read(5)

    def _double(self, terminal: Terminal) -> None:
        """Another program at the same cook: it may not write, and the first goes on."""
        words = ("cook", self._plan, "--asap", "--mute")
        kind = Terminal if self._exec else ForkedTerminal
        with kind(words, self._home, SIZE) as other:
            other.wait_for("Go on with it?")
            for _ in range(self._dice.randint(1, 4)):
                terminal.type(self._dice.choice("\rd+e"))
                terminal.read(self._dice.uniform(0, 0.3))
            other.type("\r")
            until = time.monotonic() + patience.PATIENCE
            while other.program.poll() is None and time.monotonic() < until:
                terminal.read(0.05)
                if "DISH UP" in other.read(0.05):
                    break
            if other.program.poll() != REFUSED:
                self._tally.lost.append(f"two at one cook:\n{other.text}")
        terminal.read(0.3)
        if terminal.program.poll() is not None:
            self._tally.lost.append("the first ended with the second")


def run(kind: str, times: int, seed: int, *, fresh: bool = False) -> Tally:
    """So many ends of one kind."""
    dice, tally = random.Random(f"{kind} {seed}"), Tally()
    with tempfile.TemporaryDirectory(prefix="passbell-ends-") as name:
        if kind == "full":
            mount = ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", name]
            subprocess.run(mount, check=True)
        try:
            ender = Ender(Path(name) / "home", dice, tally, kind, fresh=fresh)
            while tally.kills < times:
                before = len(tally.lost)
                ender.round()
                for lost in tally.lost[before:]:
                    print(lost, flush=True)
                if times > 25 and tally.kills % 25 == 0:
                    print(kind, tally, flush=True)
            until = time.monotonic() + 5
            while processes(Path(name)) and time.monotonic() < until:
                time.sleep(0.1)
            tally.lost += [f"process {pid} is left" for pid in processes(Path(name))]
        finally:
            if kind == "full":
                subprocess.run(["umount", name], check=True)
    return tally


def main() -> int:
    """Run as many as asked for and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("kind", choices=KINDS)
    parser.add_argument("--times", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    patience.PATIENCE = 120.0
    signal.signal(signal.SIGHUP, signal.SIG_DFL)  # nohup has it ignored
    tally = run(args.kind, args.times, args.seed)
    print(args.kind, tally)
    return 1 if tally.lost else 0


if __name__ == "__main__":
    sys.exit(main())
