"""A real terminal for tests: a program on a pty, its screen read by a terminal emulator."""

import contextlib
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Sequence
from fcntl import ioctl
from pathlib import Path
from types import TracebackType
from typing import Self

import pyte

PATIENCE = 90.0
"""Seconds to wait for something to be shown, on a machine with other work."""


class Terminal:
    """`passbell` with these arguments, on a terminal of its own."""

    def __init__(
        self, arguments: Sequence[str], home: Path, size: tuple[int, int] = (24, 80)
    ) -> None:
        self._screen = pyte.Screen(size[1], size[0])
        self._stream = pyte.ByteStream(self._screen)
        self._ours, theirs = pty.openpty()
        ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", size[0], size[1], 0, 0))
        environment = os.environ | {
            "PASSBELL_HOME": str(home),
            "TERM": "xterm-256color",
            "TZ": "UTC",
        }
        for name in ("NO_COLOR", "COLUMNS", "LINES"):  # side by side, tests are told a size
            environment.pop(name, None)
        self.program = self._started(arguments, theirs, environment)
        os.close(theirs)

    def _started(
        self, arguments: Sequence[str], theirs: int, environment: dict[str, str]
    ) -> "subprocess.Popen[bytes]":
        """The program, begun on its end of the terminal."""
        return subprocess.Popen(
            [sys.executable, "-c", "from passbell.cli.main import run; run()", *arguments],
            stdin=theirs,
            stdout=theirs,
            stderr=theirs,
            env=environment,
            start_new_session=True,
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.kill()
        os.close(self._ours)

    def read(self, seconds: float) -> str:
        """What the screen shows after so many seconds at most, reading all that comes."""
        until = time.monotonic() + seconds
        while (left := until - time.monotonic()) > 0:
            ready, _, _ = select.select([self._ours], [], [], min(left, 0.1))
            if ready:
                try:
                    data = os.read(self._ours, 65536)
                except OSError:
                    break
                if not data:
                    break
                self._stream.feed(data)
        return self.text

    @property
    def text(self) -> str:
        """What the screen shows."""
        buffer, columns = self._screen.buffer, range(self._screen.columns)
        lines = (buffer[y] for y in range(self._screen.lines))
        return "\n".join("".join([line[x].data for x in columns]).rstrip() for line in lines)

    def wait_for(self, *wanted: str) -> str:
        """Read until the screen shows that, or one of several things.

        Raises:
            AssertionError: when it does not within the patience.
        """
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            shown = self.read(0.1)
            if any(text in shown for text in wanted):
                return self.text
        raise AssertionError(f"{' or '.join(map(repr, wanted))} is not shown:\n{self.text}")

    def open_cook(self) -> None:
        """Wait for the large cook screen, and close the cautions that stand before a first cook."""
        if "BEFORE THE FIRST COOK" in self.wait_for("DISH UP", "BEFORE THE FIRST COOK"):
            self.type("\x1b")
            self.wait_for("DISH UP")

    def type(self, keys: str | bytes) -> None:
        """Send keys."""
        os.write(self._ours, keys.encode() if isinstance(keys, str) else keys)

    def kill(self, number: int = signal.SIGKILL) -> None:
        """Send a signal to the program and wait for its end."""
        with contextlib.suppress(ProcessLookupError):
            self.program.send_signal(number)
        self.end()

    def end(self) -> int:
        """Wait for the end of the program, reading what it still shows; its exit code."""
        until = time.monotonic() + PATIENCE
        while self.program.poll() is None and time.monotonic() < until:
            self.read(0.1)
        if self.program.poll() is None:
            self.program.kill()
        return self.program.wait()
