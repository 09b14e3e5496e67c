"""What the cook screen costs beside an empty Textual application, in the same run.

Run it as a program: python tests/bench/bench_screen.py [seconds]
It prints the first frame (by the clock, and in processor time, which a busy machine stretches
less), processor share at four looks a second with twelve components, bytes to the terminal and
memory, and their ratios. "cook" is the cook screen on a view made up for it; "command" is the
whole command, with its plan read, scheduled and journalled first; "models" is the empty
application with the plan's data models loaded, which the command cannot do without. Of several
runs the least is taken, since a busy machine only ever adds. Nothing is asserted: the figures
belong to the machine, the ratios to the program.
"""

import fcntl
import os
import pty
import select
import struct
import subprocess
import sys
import tempfile
import termios
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SIZE = (120, 40)
TICKS = os.sysconf("SC_CLK_TCK")
RUNS = 5
HOME = tempfile.TemporaryDirectory()

BLANK = """
import sys
from textual.app import App
from textual.widgets import Static
class Blank(App):
    ENABLE_COMMAND_PALETTE = False
    def compose(self):
        yield Static("nothing here")
Blank().run()
"""

MODELS = BLANK.replace("import sys", "import sys, passbell.plan.model")

COOK = """
import sys, time
from dataclasses import replace
from passbell.tui.app import make_app, run_cook
from tests.tui.sample import COMING, FakeDesk, cue, row

class Twelve(FakeDesk):
    def __init__(self):
        super().__init__()
        self.rows = tuple(row(f"component {n}", "in", "in", 600 + 40 * n) for n in range(12))
        self.start = time.monotonic()
    def tick(self):
        gone = int(time.monotonic() - self.start)
        rows = tuple(replace(r, left=(r.left or 0) - gone) for r in self.rows)
        cards = (replace(COMING.cards[0], lines=(cue(due_in=600 - gone),)),)
        clock = time.strftime("%H:%M:%S", time.gmtime(66000 + gone))
        hands = replace(COMING.hands, free=600 - gone)
        ahead = tuple(replace(c, due_in=c.due_in - gone) for c in COMING.following)
        return replace(COMING, at=1500 + gone, rows=rows, cards=cards, clock=clock, hands=hands,
                       following=ahead)

sys.exit(run_cook(Twelve(), make_app()))
"""

COMMAND = """
import sys
from passbell.cli.main import run
sys.argv = ["passbell", "cook", "tray-supper", "--asap", "--new", "--mute"]
run()
"""


@dataclass(frozen=True)
class Cost:
    """What one run cost.

    Attributes:
        frame: milliseconds to the first frame.
        work: of those the processor's.
        cpu: per cent of a core afterwards.
        bytes: bytes a second to the terminal afterwards.
        rss: megabytes at the end.
    """

    frame: float
    work: float
    cpu: float
    bytes: float
    rss: float


def measure(source: str, marker: bytes, seconds: float) -> Cost:
    """Run a program in a terminal of its own and look at it for so many seconds."""
    master, slave = pty.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", SIZE[1], SIZE[0], 0, 0))
    env = os.environ | {
        "TERM": "xterm-256color",
        "PYTHONPATH": f"{ROOT / 'src'}:{ROOT}",
        "COLORTERM": "",
    }
    began = time.perf_counter()
    program = subprocess.Popen(
        [sys.executable, "-c", source],
        stdin=slave,
        stdout=slave,
        stderr=slave,
        env=env | {"PASSBELL_HOME": HOME.name},
        start_new_session=True,
    )
    try:
        frame = _until(master, marker) - began
        work = _cpu(program.pid) / TICKS
        os.write(master, b"\x1b")  # what stands before the first cook is read
        _drain(master, 1.0)
        cpu = _cpu(program.pid)
        written = _drain(master, seconds)
        spent = (_cpu(program.pid) - cpu) / TICKS / seconds * 100
        rss = _rss(program.pid)
        return Cost(frame * 1000, work * 1000, spent, written / seconds, rss)
    finally:
        program.kill()
        program.wait()
        os.close(master)
        os.close(slave)


def _until(master: int, marker: bytes) -> float:
    seen, end = b"", time.perf_counter() + 30
    while marker not in seen:
        if not select.select([master], [], [], max(0, end - time.perf_counter()))[0]:
            raise TimeoutError(f"{marker!r} was not drawn")
        seen += os.read(master, 65536)
    return time.perf_counter()


def _drain(master: int, seconds: float) -> int:
    end, got = time.perf_counter() + seconds, 0
    while (left := end - time.perf_counter()) > 0:
        ready, _, _ = select.select([master], [], [], left)
        if ready:
            got += len(os.read(master, 65536))
    return got


def _cpu(pid: int) -> int:
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return int(fields[11]) + int(fields[12])


def _rss(pid: int) -> float:
    for line in Path(f"/proc/{pid}/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    return 0.0


def main() -> None:
    """Measure all by turns and print the least of each and the ratios to the empty application."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    programs = {
        "blank": (BLANK, b"nothing here"),
        "models": (MODELS, b"nothing here"),
        "cook": (COOK, b"component 11"),
        "command": (COMMAND, b"SWITCH ON oven"),
    }
    costs: dict[str, list[Cost]] = {name: [] for name in programs}
    for run in range(RUNS):
        for name, (source, marker) in programs.items():
            costs[name].append(measure(source, marker, seconds if run == 0 else 0.5))
    print(f"{'':8}{'first frame':>22}{'of it work':>20}{'memory':>20}{'core':>9}{'terminal':>12}")
    for name, runs in costs.items():
        first = costs["blank"]
        frame, frame_0 = (min(c.frame for c in each) for each in (runs, first))
        work, work_0 = (min(c.work for c in each) for each in (runs, first))
        print(
            f"{name:8}{frame:12.0f} ms ×{frame / frame_0:5.2f}{work:10.0f} ms ×{work / work_0:5.2f}"
            f"{runs[0].rss:10.1f} MB ×{runs[0].rss / first[0].rss:5.2f}"
            f"{runs[0].cpu:7.2f} %{runs[0].bytes:8.0f} B/s"
        )


if __name__ == "__main__":
    main()
