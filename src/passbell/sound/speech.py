"""Says a line aloud through a speech program that the system has.

What is said goes to the program's standard input, as data: no shell ever sees it, and nothing in
it is an option. The program is never waited for. One that hangs is ended after `LONGEST` seconds,
and until then nothing else stands still.
"""

import contextlib
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from passbell.units import clean_text

LONGEST = 15.0
"""Seconds a program may take over one line."""

LONGEST_LINE = 300
"""Characters of one line at most."""

_PARTING = 0.5  # seconds a program that was ended has to be gone
_VOLUME = "VOLUME"  # stands for per cent in what a program is told
_WINDOWS = (
    "[Console]::InputEncoding = [Text.Encoding]::UTF8; "
    "Add-Type -AssemblyName System.Speech; "
    "$voice = New-Object System.Speech.Synthesis.SpeechSynthesizer; "
    f"$voice.Volume = {_VOLUME}; "
    "$voice.Speak([Console]::In.ReadToEnd())"
)

SPEAKERS: dict[str, tuple[str, ...]] = {
    "espeak-ng": ("--stdin", "-a", _VOLUME),
    "espeak": ("--stdin", "-a", _VOLUME),
    "say": ("-f", "-"),
    "powershell.exe": ("-NoProfile", "-NonInteractive", "-Command", _WINDOWS),
}
"""Speech programs, the best first, and what tells each to say what it reads.

The last speaks through the speech interface of Windows. Those for macOS and Windows are untried
on real machines so far.
"""

_HIDDEN = getattr(subprocess, "CREATE_NO_WINDOW", 0)

_COMMANDS = str.maketrans(dict.fromkeys("[]<>{}\\|", " "))
"""Signs that speech programs take for phonemes, orders or markup of their own."""


class _Line(NamedTuple):
    """A line that is to be said.

    Attributes:
        text: what.
        at: not before this instant.
    """

    text: str
    at: float


class Speaker:
    """Says one line at a time; a newer one that waits takes the place of an older one.

    Args:
        clock: seconds on a clock that runs forward.
        on: whether it speaks from the start.

    Attributes:
        on: whether it speaks; a program that fails switches it off.
        percent: how loud, of the program's own usual loudness.
    """

    def __init__(self, clock: Callable[[], float], *, on: bool = False) -> None:
        self._clock = clock
        self._command = find_speaker()
        self._running: subprocess.Popen[bytes] | None = None
        self._leaving: list[subprocess.Popen[bytes]] = []
        self._until = 0.0
        self._waiting: _Line | None = None
        self._fault = ""
        self.percent = 100
        self.on = on and self._command is not None

    @property
    def program(self) -> str | None:
        """The name of the speech program; None: the system has none."""
        return Path(self._command[0]).stem if self._command else None

    @property
    def busy(self) -> bool:
        """Whether something is being said or waits to be."""
        return self._running is not None or self._waiting is not None

    def take_fault(self) -> str:
        """Why nothing could be said, once; empty: all is well."""
        fault, self._fault = self._fault, ""
        return fault

    def say(self, text: str, after: float = 0.0) -> None:
        """Say a line, now or so many seconds from now; nothing while it is switched off."""
        line = said(text)
        if self.on and line:
            self._waiting = _Line(line, self._clock() + after)
            self.poll()

    def poll(self) -> None:
        """Begin what waits, end what hangs; to be called a few times a second."""
        now, running = self._clock(), self._running
        self._leaving = [each for each in self._leaving if each.poll() is None]
        if running is not None and running.poll() is not None:
            self._running = None
            if running.returncode:
                self._fail(f"ended with {running.returncode}")
        elif running is not None and now >= self._until:
            self._kill()
            self._fail("did not end and was stopped")
        if self._waiting is not None and self._running is None and now >= self._waiting.at:
            line, self._waiting = self._waiting.text, None
            self._begin(line, now)

    def stop(self) -> None:
        """Fall silent at once."""
        self._waiting = None
        self._kill()

    def close(self) -> None:
        """Fall silent and let go of the program, within half a second."""
        self.stop()
        for leaving in self._leaving:
            with contextlib.suppress(subprocess.TimeoutExpired):
                leaving.wait(_PARTING)

    def _begin(self, line: str, now: float) -> None:
        assert self._command is not None
        nowhere = subprocess.DEVNULL
        words = [word.replace(_VOLUME, str(self.percent)) for word in self._command]
        try:
            self._running = subprocess.Popen(  # noqa: S603 - a fixed program, the text is its input
                words,
                stdin=subprocess.PIPE,
                stdout=nowhere,
                stderr=nowhere,
                start_new_session=True,
                creationflags=_HIDDEN,
            )
        except OSError as error:
            self._fail(f"does not start ({error.strerror})")
            return
        self._until = now + LONGEST
        assert self._running.stdin is not None
        # A line is far smaller than a pipe holds: this never waits for the program to read it.
        with contextlib.suppress(OSError):
            self._running.stdin.write(f"{line}\n".encode())
        with contextlib.suppress(OSError):
            self._running.stdin.close()

    def _fail(self, why: str) -> None:
        self.on, self._waiting = False, None
        self._fault = f"{self.program} {why}: nothing is spoken any more."

    def _kill(self) -> None:
        """End the program and what it has started; it is not waited for either."""
        running, self._running = self._running, None
        if running is None or running.poll() is not None:
            return
        with contextlib.suppress(OSError):
            if sys.platform == "win32":
                running.kill()
            else:
                os.killpg(running.pid, signal.SIGKILL)
        self._leaving.append(running)


def find_speaker() -> tuple[str, ...] | None:
    """The command of the first speech program the system has; None: it has none."""
    for name, arguments in SPEAKERS.items():
        for folder in os.get_exec_path():
            path = Path(folder) / name
            if path.is_file() and os.access(path, os.X_OK):
                return (str(path), *arguments)
    return None


def said(text: str) -> str:
    """A text as it is handed over: clean, short, and without signs a speech program would obey."""
    return clean_text(clean_text(text).translate(_COMMANDS), LONGEST_LINE)
