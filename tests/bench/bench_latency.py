"""How soon a cue that falls due is heard and seen, and how soon a key is seen, under load.

Run it as a program: python tests/bench/bench_latency.py [cooks] [busy]
Some cooks (6) of twenty invented dishes, three seconds apart, in a pseudo terminal, beside `busy`
processes (2) that never rest; the first dish, due before there is a screen, does not count. The
sound library is a fake that notes when it is told to play; the screen is read by a terminal
emulator, and a look counts from when its bytes were read. Keys come at moments drawn from a seed.
Beside what a key takes stands the processor time of the whole program in the 0.2 s from it on,
which the regular looks at the cook are part of. What measures is more urgent than what is
measured, so that its own waits are not counted. Nothing is asserted: the figures belong to the
machine, whose load is printed beside them. On a machine that others load too, `nice -n -12` in
front leaves about the two busy processes to compete with.
"""

import contextlib
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, field
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from passbell.cook.cue import CueKey
from passbell.cook.events import FellDue
from tests.faults.reading import recorded
from tests.terminal import Terminal

CUES, APART = 20, 3
"""How many cues a cook has, and seconds between two."""

EARLY = 0.01
"""Seconds by which two clocks may disagree about an instant."""

AFTER = 0.2
"""Seconds from a key on in which processor time is counted as its own."""

PATH = os.environ.get("PYTHONPATH", "")

PLAYER = """
import os, time
def play_buffer(frames, *shape):
    if any(frames):
        with open(os.environ["HEARD"], "a") as file:
            file.write(f"{time.clock_gettime(7)!r}\\n")
def stop_all():
    pass
"""


def plan(cues: int) -> str:
    """So many dishes that are finished for so long that each begins after the one before.

    A minute more for each: no first one is over, and in the way, while the last ones begin.
    """
    dish = '[[component]]\nname = "dish {0}"\nsteps = [{{ finish = "warm it", time = "{1} s" }}]\n'
    dishes = (dish.format(n, 60 + APART * (cues - n)) for n in range(cues))
    head = f'title = "Invented row of dishes"\nserves = 1\nhands = {cues}\ncall = "0 min"\n'
    return head + "".join(dishes)


class Look(Terminal):
    """A terminal of which is known when what it shows was read."""

    def __init__(self, arguments: Sequence[str], home: Path) -> None:
        super().__init__(arguments, home)
        urgent(self.program.pid)

    def until(self, true: Callable[[str], bool], seconds: float) -> float | None:
        """When something was first shown; None: not in that time."""
        end = time.time() + seconds
        while time.time() < end:
            self.read(0.003)
            at = time.time()
            if true(self.text):
                return at
        return None


def urgent(pid: int, more: int = 0) -> None:
    """Make the session of a process as urgent as this program, or more, whatever started it."""
    with contextlib.suppress(OSError):  # Linux groups processes by session (sched(7), autogroup)
        nice = max(-20, os.nice(0) - more)
        Path(f"/proc/{pid}/autogroup").write_text(str(nice), encoding="ascii")


def busy_loop() -> "subprocess.Popen[bytes]":
    """A process that never rests, as urgent as the cook; it ends with this one, even killed."""
    code = "import os; began = os.getppid()\nwhile os.getppid() == began: pass"
    endless = [sys.executable, "-c", code]
    process = subprocess.Popen(endless, start_new_session=True)
    urgent(process.pid)
    return process


def main() -> None:
    """Measure and print."""
    urgent(os.getpid(), more=7)
    cooks = int(sys.argv[1]) if len(sys.argv) > 1 else 6
    busy = int(sys.argv[2]) if len(sys.argv) > 2 else 2
    loads = [busy_loop() for _ in range(busy)]
    found = Found()
    try:
        for cook in range(cooks):
            with tempfile.TemporaryDirectory(prefix="passbell-latency-") as name:
                measure(Path(name), found, random.Random(cook).random)
    finally:
        for load in loads:
            load.kill()
            load.wait()
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores, {busy} of it ours")
    for what, taken in asdict(found).items():
        _line(what.replace("_", " "), taken)


@dataclass
class Found:
    """Milliseconds, one for each time it was measured."""

    due_to_the_command_to_sound: list[float] = field(default_factory=list)
    due_to_the_screen: list[float] = field(default_factory=list)
    Done_to_the_screen: list[float] = field(default_factory=list)
    a_digit_to_the_screen: list[float] = field(default_factory=list)
    Esc_to_the_screen: list[float] = field(default_factory=list)
    processor_time_of_done: list[float] = field(default_factory=list)
    processor_time_of_a_digit: list[float] = field(default_factory=list)
    processor_time_of_escape: list[float] = field(default_factory=list)


def measure(folder: Path, found: Found, chance: Callable[[], float]) -> None:
    """One cook; every cue is seen, then done."""
    (folder / "simpleaudio.py").write_text(PLAYER)
    (folder / "row.toml").write_text(plan(CUES))
    os.environ["PYTHONPATH"] = os.pathsep.join((str(folder), PATH))
    os.environ["HEARD"] = str(folder / "heard")
    seen: dict[int, float] = {}
    with Look(("cook", str(folder / "row.toml"), "--asap"), folder / "home") as terminal:
        terminal.wait_for("FINISH dish 0")
        for number in range(CUES - 1):
            at = terminal.until(partial(_due, number), 20)
            if at is not None:
                seen[number] = at
            terminal.read(0.75 + 0.4 * chance())  # what has just become first takes no Done
            done = partial(_first, number + 1)
            _press(terminal, "\r", done, found.Done_to_the_screen, found.processor_time_of_done)
            terminal.read(0.2 + 0.2 * chance())
            _press(
                terminal, "7", _typed, found.a_digit_to_the_screen, found.processor_time_of_a_digit
            )
            terminal.read(0.2 * chance())
            _press(terminal, "\x1b", _gone, found.Esc_to_the_screen, found.processor_time_of_escape)
    _compare(folder, {n: at for n, at in seen.items() if n}, found)


def _due(number: int, text: str) -> bool:
    return _first(number, text) and " DUE" in text.split("then", 1)[0]


def _first(number: int, text: str) -> bool:
    return f"FINISH dish {number} " in text.split("\n", 2)[1]


def _typed(text: str) -> bool:
    return "7▏" in text


def _gone(text: str) -> bool:
    return not _typed(text)


def _press(
    terminal: Look,
    key: str,
    shown: Callable[[str], bool],
    taken: list[float],
    worked: list[float],
) -> None:
    """Press a key and note how long it takes to be seen, and what work it makes."""
    spent, began = _spent(terminal.program.pid), time.time()
    terminal.type(key)
    at = terminal.until(shown, 5)
    if at is not None:
        taken.append(1e3 * (at - began))
    terminal.read(began + AFTER - time.time())
    if spent:
        worked.append(1e3 * (_spent(terminal.program.pid) - spent))


def _spent(pid: int) -> float:
    """Processor time of all threads of a process, in seconds (proc(5), schedstat); 0: not told."""
    tasks = Path(f"/proc/{pid}/task").glob("*/schedstat")
    return sum(int(task.read_text().split()[0]) for task in tasks) / 1e9


def _compare(folder: Path, seen: dict[int, float], found: Found) -> None:
    """What was seen and heard beside the instants that the cook recorded."""
    cook = recorded(folder / "home")
    meta = cook.row.meta
    due = {
        CueKey.read(event.cue).owner: event.at
        for event in reversed(cook.events)
        if isinstance(event, FellDue) and event.at
    }
    heard = [float(line) - meta.awake for line in (folder / "heard").read_text().split()]
    for number, at in due.items():
        if number not in seen:
            continue
        found.due_to_the_screen.append(1e3 * (seen[number] - meta.started_utc - at))
        later = [one - at for one in heard if one >= at - EARLY]
        if later:
            found.due_to_the_command_to_sound.append(1e3 * min(later))


def _line(what: str, milliseconds: list[float]) -> None:
    """One line: how many, the median, the 99th of a hundred, the worst."""
    if not milliseconds:
        print(f"{what}: none")
        return
    ordered = sorted(milliseconds)
    p99 = ordered[min(len(ordered) - 1, int(0.99 * len(ordered)))]
    print(
        f"{what:36} n {len(ordered):3}   median {statistics.median(ordered):7.1f} ms   "
        f"p99 {p99:7.1f} ms   worst {ordered[-1]:7.1f} ms"
    )


if __name__ == "__main__":
    main()
