"""The program on a fake desk in a pseudo terminal of the system, its screen kept by pyte."""

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pyte

LONG = 90.0
"""Seconds after which a test gives up; the machine may be busy. Nothing waits that long unasked."""


ASK = 2.0
"""Seconds between two askings."""


class Terminal:
    """The program, its terminal, and what the terminal shows."""

    def __init__(self, record: Path, size: tuple[int, int] = (80, 24), **env: str) -> None:
        self.record = record
        self.screen = pyte.Screen(*size)
        self.stream = pyte.ByteStream(self.screen)
        self.raw = b""
        self.seen = 0
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
        self.before = termios.tcgetattr(slave)
        self.slave = slave
        ignored = env.pop("IGNORE_HUP", "")
        self.program = subprocess.Popen(
            [sys.executable, "-m", "tests.tui.terminal_child", str(record)],
            stdin=slave, stdout=slave, stderr=slave, start_new_session=True,
            env=environment() | env,
            preexec_fn=_ignore_hup if ignored else _take_terminal,  # noqa: PLW1509
        )  # fmt: skip

    def read(self, seconds: float = 0.05) -> None:
        """Read what has been drawn."""
        ready, _, _ = select.select([self.master], [], [], seconds)
        with suppress(OSError):
            data = os.read(self.master, 65536) if ready else b""
            self.raw += data
            self.stream.feed(data)

    @property
    def text(self) -> str:
        return "\n".join(self.screen.display)

    def until(self, true: Callable[[], bool], read: bool = True) -> None:
        end = time.monotonic() + LONG
        while not true():
            assert time.monotonic() < end, self.text
            if read:
                self.read()
            else:
                time.sleep(0.05)

    def shows(self, words: str) -> None:
        self.until(lambda: words in self.text)

    def goes_on(self, ticks: int = 5) -> None:
        """Wait until its desk was looked at so many times more."""
        before = self.ticks()
        self.until(lambda: self.ticks() > before + ticks)

    def stopped(self) -> bool:
        """Whether the system has stopped it, as after SIGSTOP (proc(5): state T)."""
        status = Path(f"/proc/{self.program.pid}/stat").read_text(encoding="utf-8")
        return status.rpartition(")")[2].split()[0] == "T"

    def send(self, data: bytes) -> None:
        os.write(self.master, data)

    def asked_to_leave(self) -> bool:
        """Ask to leave; keys that came before may still be on their way, so ask again.

        Not too soon: the guard takes a key that comes on the heels of itself for a cloth.
        """
        self.send(b"\x11")
        end = time.monotonic() + ASK
        while "Leave all the same?" not in self.text and time.monotonic() < end:
            self.read()
        return "Leave all the same?" in self.text

    def ticks(self) -> int:
        """How often its desk was looked at; the file is empty for a moment at each look."""
        lines = self.record.read_text(encoding="utf-8").split() if self.record.exists() else []
        self.seen = max(self.seen, int(lines[1]) if len(lines) > 1 else 0)
        return self.seen

    def exit_code(self) -> int:
        """Wait for the end, reading all the while."""
        self.until(lambda: self.program.poll() is not None)
        seen = -1
        while len(self.raw) > seen:
            seen = len(self.raw)
            self.read()
        return self.program.wait()

    def restored(self) -> bool:
        """Whether the terminal is as it was: modes, screen, cursor, mouse, keys."""
        after = termios.tcgetattr(self.slave)
        modes = after[:4] == self.before[:4]
        ends = [self.raw.rfind(code) for code in (b"\x1b[?1049l", b"\x1b[?25h", b"\x1b[?1000l",
                                                  b"\x1b[?2004l", b"\x1b[<u")]  # fmt: skip
        starts = [self.raw.rfind(code) for code in (b"\x1b[?1049h", b"\x1b[?25l", b"\x1b[?1000h",
                                                    b"\x1b[?2004h", b"\x1b[>25u")]  # fmt: skip
        return modes and all(end > start for end, start in zip(ends, starts, strict=True))

    def close(self) -> None:
        if self.program.poll() is None:
            self.program.kill()
        self.program.wait()
        for number in (self.master, self.slave):
            with suppress(OSError):
                os.close(number)


def environment() -> dict[str, str]:
    """What the program is told of its surroundings: a terminal of many colours, in UTF-8."""
    kept = {k: v for k, v in os.environ.items() if k in ("PATH", "HOME", "PYTHONPATH", "TMPDIR")}
    here = str(Path(__file__).resolve().parents[2])
    path = os.pathsep.join(filter(None, (here, os.environ.get("PYTHONPATH"))))
    return kept | {"TERM": "xterm-256color", "LANG": "C.UTF-8", "PYTHONPATH": path}


def _take_terminal() -> None:
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


def _ignore_hup() -> None:
    signal.signal(signal.SIGHUP, signal.SIG_IGN)
