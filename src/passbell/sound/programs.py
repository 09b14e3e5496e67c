"""A program of the system as the player of a sound."""

import os
import subprocess
import time
from pathlib import Path

from passbell.sound.players import PlayerError
from passbell.sound.wavfile import Wav

PROOF_TIME = 1.5
"""Seconds a program may take over the silent sound."""

_OVERTIME = 3.0  # seconds a program may take beyond the length of its sound


class ProgramPlayer:
    """A program of the system that plays one file and ends.

    Args:
        name: its name on the PATH.
        options: what it is told before the file.

    Raises:
        PlayerError: when it is not there.
    """

    def __init__(self, name: str, *options: str) -> None:
        self.name = name
        self._command = (_on_path(name), *options)
        self._running: subprocess.Popen[bytes] | None = None
        self._until = 0.0

    def prove(self, silence: Wav) -> None:
        """See `Player`."""
        self.play(silence)
        assert self._running
        try:
            self._running.wait(PROOF_TIME)
        except subprocess.TimeoutExpired:
            self.stop()
            raise PlayerError("it does not end") from None
        self.check()

    def play(self, wav: Wav) -> None:
        """See `Player`."""
        self.stop()
        nowhere = subprocess.DEVNULL
        try:
            self._running = subprocess.Popen(  # noqa: S603 - a fixed program and our own file
                (*self._command, wav.path), stdin=nowhere, stdout=nowhere, stderr=nowhere
            )
        except OSError as error:
            raise PlayerError(f"it does not start ({error.strerror})") from None
        self._until = time.perf_counter() + wav.seconds + _OVERTIME

    def check(self) -> None:
        """See `Player`."""
        if self._running is None:
            return
        code = self._running.poll()
        if code:
            self._running = None
            raise PlayerError(f"it ended with {code}")
        if code == 0:
            self._running = None
        elif time.perf_counter() > self._until:
            self.stop()
            raise PlayerError("it does not end")

    def stop(self) -> None:
        """See `Player`."""
        if self._running:
            self._running.kill()
            self._running.wait()
            self._running = None


def _on_path(name: str) -> str:
    for folder in os.get_exec_path():
        path = Path(folder) / name
        if path.is_file() and os.access(path, os.X_OK):
            return str(path)
    raise PlayerError("it is not installed")
