"""A day beside the stove: does it drift, does it grow, does it leave anything behind?

Run it as a program: python tests/faults/soak.py [--hours 24] [--speed 600] [--warm 60]
A cook of an invented meal that takes a day, in a real terminal at speed; a Done now and then, the
rest of the time cues wait and the meal is planned anew again and again. Memory, threads and file
descriptors of the program are read from the system from `warm` real seconds after its start on,
when the caches of all that is drawn are full, and compared with those a day later.
"""

import argparse
import re
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.faults.kills import SIZE, processes
from tests.faults.reading import recorded
from tests.terminal import Terminal

PLAN = """
title = "Invented meal of a day and more"
serves = 4
[[appliance]]
name = "oven"
preheat = "10 min"
[[component]]
name = "bread"
steps = [
  { prep = "mix", time = "10 min" },
  { rest = "in the cold", time = "26 h" },
  { cook = "bake", on = "oven", time = "50 min" },
]
[[component]]
name = "joint"
food = "pork_whole"
steps = [
  { prep = "salt", time = "10 min" },
  { rest = "in the fridge", time = "27 h" },
  { cook = "roast", on = "oven", time = "80 min", until = "63 °C" },
]
[[component]]
name = "stock"
steps = [
  { prep = "cut", time = "20 min" },
  { prep = "soak", time = "20 h", hands = "5 min" },
  { finish = "strain", time = "10 min" },
]
"""


@dataclass(frozen=True)
class Size:
    """What a program holds: memory in MB, threads, open files, its own processes."""

    memory: float
    threads: int
    files: int
    children: int


def size_of(pid: int, home: Path) -> Size:
    """What a program holds now; memory that is its own and in use (anonymous)."""
    status = Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    number = {key: int(re.findall(rf"{key}:\s+(\d+)", status)[0]) for key in ("RssAnon", "Threads")}
    files = len(list(Path(f"/proc/{pid}/fd").iterdir()))
    return Size(number["RssAnon"] / 1024, number["Threads"], files, len(processes(home)))


def soak(hours: float, speed: int, warm: float) -> tuple[list[Size], float, int]:
    """The sizes at each tenth, seconds the clock is off at the end, entries recorded."""
    with tempfile.TemporaryDirectory(prefix="passbell-soak-") as name:
        home = Path(name) / "home"
        plan = Path(name) / "day.toml"
        plan.write_text(PLAN)
        words = ("cook", str(plan), "--asap", "--mute", "--speed", str(speed))
        with Terminal(words, home, SIZE) as terminal:
            terminal.open_cook()
            _pass_by(terminal, warm, 0)
            sizes = [size_of(terminal.program.pid, home)]
            print(f" warm after {warm * speed / 3600:.1f} h  {sizes[-1]}", flush=True)
            for tenth in range(10):
                _pass_by(terminal, hours * 3600 / speed / 10, tenth)
                sizes.append(size_of(terminal.program.pid, home))
                print(f"{(tenth + 1) * hours / 10:5.1f} h  {sizes[-1]}", flush=True)
            off = _off(terminal, recorded(home).row.meta.started_utc, speed)
            entries = len(recorded(home).entries)
        time.sleep(2)
        sizes.append(Size(0, 0, 0, len(processes(home))))
    return sizes, off, entries


def _pass_by(terminal: Terminal, seconds: float, tenth: int) -> None:
    """Let real time pass; a key now and then."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        terminal.read(min(1.5, max(0.1, until - time.monotonic())))
        terminal.type("\r" if tenth % 2 == 0 else "m")


def _off(terminal: Terminal, started: float, speed: int) -> float:
    """Real seconds by which the clock on the screen differs, at the best of some looks."""
    off = 1e9
    for _ in range(40):
        terminal.read(0.1)
        shown = re.match(r"\s+(\d\d):(\d\d):(\d\d)", terminal.text)
        if shown is not None:
            day = sum(int(n) * unit for n, unit in zip(shown.groups(), (3600, 60, 1), strict=True))
            right = (started + (time.time() - started) * speed) % 86400
            off = min(off, abs((day - right + 43200) % 86400 - 43200) / speed)
    return off


def main() -> int:
    """Soak and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--hours", type=float, default=24.0)
    parser.add_argument("--speed", type=int, default=600)
    parser.add_argument("--warm", type=float, default=60.0)
    args = parser.parse_args()
    sizes, off, entries = soak(args.hours, args.speed, args.warm)
    grown = max(size.memory for size in sizes[1:-1]) - sizes[0].memory
    leaked = sizes[-2].files - sizes[0].files, sizes[-2].threads - sizes[0].threads
    print(
        f"{args.hours:g} h at {args.speed}: {entries} entries, memory grew {grown:.1f} MB, files "
        f"and threads {leaked}, {sizes[-1].children} processes left, clock {off:.2f} s off"
    )
    return 1 if grown > 2 or leaked != (0, 0) or sizes[-1].children or off > 1 else 0


if __name__ == "__main__":
    sys.exit(main())
