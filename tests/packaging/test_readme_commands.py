"""The commands in the README, run as they are printed, in a fresh clone on a real terminal."""

import os
import pty
import re
import select
import signal
import struct
import subprocess
import termios
import time
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from fcntl import ioctl
from pathlib import Path

import pyte
import pytest

ROOT = Path(__file__).parents[2]
ROWS, COLUMNS = 24, 80
FENCED = re.compile(r"^```(?:sh|bash)\n(.*?)^```", re.DOTALL | re.MULTILINE)
PATIENCE = 150.0
"""Seconds for making the environment, installing into it and drawing the first screen."""


def commands() -> list[str]:
    """The fenced shell commands of the README, in order."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return [found.strip() for found in FENCED.findall(text)]


def cooked_plan(command: str) -> Path:
    """The bundled plan that the first command cooks."""
    match = re.search(r"passbell cook ([\w-]+)", command)
    assert match, command
    return ROOT / "plans" / f"{match[1]}.toml"


@pytest.fixture
def clone(tmp_path: Path) -> Path:
    """The project as someone gets it: what is committed, and nothing this checkout made."""
    subprocess.run(
        ["git", "-c", "safe.directory=*", "clone", "-q", "--no-local", str(ROOT), "clone"],
        cwd=tmp_path,
        check=True,
    )
    return tmp_path / "clone"


@contextmanager
def on_a_terminal(command: str, folder: Path, home: Path) -> Iterator[int]:
    """Run a command in a shell on a terminal of its own; gives the terminal's other end."""
    ours, theirs = pty.openpty()
    ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", ROWS, COLUMNS, 0, 0))
    environment = os.environ | {"TERM": "xterm-256color", "PASSBELL_HOME": str(home)}
    for name in ("VIRTUAL_ENV", "PYTHONPATH", "NO_COLOR", "CI"):
        environment.pop(name, None)
    shell = subprocess.Popen(
        ["bash", "-c", command],
        cwd=folder,
        env=environment,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        start_new_session=True,
    )
    os.close(theirs)
    try:
        yield ours
    finally:
        os.killpg(shell.pid, signal.SIGKILL)
        shell.wait()
        os.close(ours)


def shown(terminal: int, wanted: str) -> str:
    """What the terminal shows as soon as it shows that, or when patience or the program ends."""
    screen = pyte.Screen(COLUMNS, ROWS)
    stream = pyte.ByteStream(screen)
    end = time.monotonic() + PATIENCE
    text = ""
    while wanted not in text and time.monotonic() < end:
        if not select.select([terminal], [], [], 1.0)[0]:
            continue
        try:
            stream.feed(os.read(terminal, 65536))
        except OSError:
            break
        text = "\n".join(screen.display)
    return text


def test_the_first_command_leads_from_a_fresh_clone_to_a_cook(clone: Path, tmp_path: Path) -> None:
    first = commands()[0]
    title = tomllib.loads(cooked_plan(first).read_text(encoding="utf-8"))["title"]
    begins = title[:12]  # the headline cuts a long one
    with on_a_terminal(first, clone, tmp_path / "home") as terminal:
        text = shown(terminal, begins)
    assert begins in text, text
    assert "Traceback" not in text


def test_the_second_command_is_the_one_that_ci_runs() -> None:
    second = commands()[1]
    assert second == "python3 tests/run.py"
    assert second in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_ci_can_be_run_as_it_lies_there() -> None:
    script = ROOT / ".ci" / "run"
    assert script.stat().st_mode & 0o111
    subprocess.run(["bash", "-n", str(script)], check=True)
