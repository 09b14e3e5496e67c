"""What the sound process costs beside a bare child that only loads simpleaudio, in the same run.

    python tests/bench/bench_sound.py [runs, 15]

Prints medians and worst values: from start to ready (samples loaded, the player proved), from a
command to the sound being started, how late a deadline rings, how soon a crash and a hang are
noticed and replaced when the board is polled four times a second, and memory; the bare child's
figures and the ratios beside. The sound card is an ALSA device that writes into a file. Nothing
is asserted: the figures belong to the machine, the ratios to the program.
"""

import os
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from passbell.sound.board import SoundBoard
from passbell.sound.pattern import Alarm
from passbell.sound.ticks import ticks
from tests.sound.helpers import Speaker, Talk

POLL = 0.25
BARE = "import simpleaudio, sys; print('ready', flush=True); sys.stdin.readline()"


def main() -> None:
    """Measure, and print a line for each figure."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    with tempfile.TemporaryDirectory() as folder:
        os.environ["ALSA_CONFIG_PATH"] = str(Speaker(Path(folder)).config)
        pairs = [(bare(), started()) for _ in range(runs)]
        show("bare child: start to ready, ms", [1e3 * one[0] for one, _ in pairs])
        show("ours: start to ready, ms", [1e3 * other[0] for _, other in pairs])
        ratio("  ratio", [other[0] / one[0] for one, other in pairs])
        show("bare child: memory, MB", [one[1] for one, _ in pairs])
        show("ours: memory, MB", [other[1] for _, other in pairs])
        ratio("  ratio", [other[1] / one[1] for one, other in pairs])
        with talking() as talk:
            show("ping there and back, ms", asked(talk, "ping", 20 * runs))
            show("play: command to started, ms", asked(talk, "play do_it_1", 5 * runs))
            time.sleep(2)  # an alarm lets the sound before it end
            show("deadline: rings late by, ms", lateness(talk, runs))
            show("ours after these sounds: memory, MB", [memory(talk.process.pid)])
        for what, number in (("crash", signal.SIGSEGV), ("hang", signal.SIGSTOP)):
            noticed, ready = zip(*faults(number, runs // 4), strict=True)
            show(f"{what}: noticed, another started, ms", noticed)
            show(f"{what}: and known to be ready, ms", ready)
        show("poll of the board, ms", polls(40))


def bare() -> tuple[float, float]:
    """Seconds to ready and memory of a child that only loads simpleaudio."""
    began = time.perf_counter()
    pipe = subprocess.PIPE
    with subprocess.Popen([sys.executable, "-P", "-c", BARE], stdin=pipe, stdout=pipe) as child:
        assert child.stdout
        child.stdout.readline()
        took = time.perf_counter() - began
        size = memory(child.pid)
        child.kill()
    return took, size


def started() -> tuple[float, float]:
    """The same of ours."""
    began = time.perf_counter()
    with talking() as talk:
        return time.perf_counter() - began, memory(talk.process.pid)


@contextmanager
def talking() -> Iterator[Talk]:
    """A sound process that is ready."""
    talk = Talk()
    try:
        talk.wait_for("player simpleaudio")
        yield talk
    finally:
        talk.end()


def asked(talk: Talk, command: str, times: int) -> list[float]:
    """Milliseconds from writing a command to its answer."""
    return [1e3 * timed(lambda: talk.ask(command)) for _ in range(times)]


def lateness(talk: Talk, times: int) -> list[float]:
    """Milliseconds from the due time of an alarm to its sound having been started."""
    late = []
    for number in range(times):
        due = ticks() + 0.1
        talk.ask(f"arm ={number} probe {due!r} -")
        talk.wait_for("rang")
        late.append(1e3 * (ticks() - due))
        talk.ask(f"cancel ={number}")
    return late


def faults(number: int, times: int) -> list[tuple[float, float]]:
    """Milliseconds from a signal to another process, and to that one being ready."""
    return [fault(number) for _ in range(max(times, 2))]


def fault(number: int) -> tuple[float, float]:
    """One of them, on a board of its own so that no player is given up."""
    board = SoundBoard(ticks)
    try:
        board.start()
        poll_until(board, lambda: board.player is not None, 0.01)
        before = board.pid
        assert before
        began = time.perf_counter()
        os.kill(before, number)
        poll_until(board, lambda: board.pid != before, POLL)
        noticed = time.perf_counter() - began
        poll_until(board, lambda: board.player is not None, POLL)
        return 1e3 * noticed, 1e3 * (time.perf_counter() - began)
    finally:
        board.close()


def polls(times: int) -> list[float]:
    """Milliseconds the board keeps its caller, at four polls a second beside twelve alarms."""
    board = SoundBoard(ticks)
    try:
        board.start()
        alarms = {str(n): Alarm(str(n), "do_it", ticks() + 60 + n) for n in range(12)}
        found = []
        for _ in range(times):
            board.sync(alarms)
            found.append(1e3 * timed(board.poll))
            time.sleep(POLL / 5)
        return found
    finally:
        board.close()


def poll_until(board: SoundBoard, true: Callable[[], bool], step: float) -> None:
    """Poll a board in this step until something holds."""
    end = time.perf_counter() + 10
    while not true() and time.perf_counter() < end:
        time.sleep(step)
        board.poll()


def timed(work: Callable[[], object]) -> float:
    """Seconds something takes."""
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def memory(pid: int) -> float:
    """Resident memory of a process, MB."""
    status = Path(f"/proc/{pid}/status").read_text()
    return int(status.split("VmRSS:")[1].split()[0]) / 1024


def show(what: str, values: Sequence[float]) -> None:
    """One line: the median, and the worst."""
    print(f"{what:46}{statistics.median(values):9.2f}   worst {max(values):9.2f}", flush=True)


def ratio(what: str, values: list[float]) -> None:
    """One line: a median ratio."""
    print(f"{what:46}{statistics.median(values):9.2f}", flush=True)


if __name__ == "__main__":
    main()
