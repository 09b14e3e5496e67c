"""The file by which a later start finds a sound process that outlived its program.

The process holds a lock on the file for as long as it lives, so a file left behind by a crash of
the computer, or a number that went to another program since, is never mistaken for it. Where the
system has no such locks nothing is kept; the process then leaves by itself a little later.
"""

import os
import signal
import time
from collections.abc import Callable
from pathlib import Path
from typing import IO

try:
    import fcntl
except ImportError:  # pragma: no cover - Windows
    fcntl = None  # type: ignore[assignment,unused-ignore]

ORPHAN = "orphan"
"""The word in the file of a process whose program is gone."""

_PROGRAM = b"passbell.sound.child"
_TRIES = 20
_WAIT = 0.025  # seconds between two tries


class PidFile:
    """The file as the sound process holds it.

    Args:
        path: where.

    Raises:
        OSError: when it cannot be written, or another process holds it.
    """

    def __init__(self, path: Path) -> None:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        flags = os.O_RDWR | os.O_CREAT | os.O_APPEND
        self._file = os.fdopen(os.open(path, flags, 0o600), "a+")
        try:
            _lock(self._file)
        except OSError:
            self._file.close()
            raise
        self._write(f"{os.getpid()}\n")

    def orphaned(self) -> None:
        """Write down that the program is gone, so that a later one may end this process."""
        self._write(f"{os.getpid()} {ORPHAN}\n")

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()

    def _write(self, text: str) -> None:
        self._file.truncate(0)
        self._file.write(text)
        self._file.flush()


def silence_orphan(path: Path) -> bool:
    """End the sound process an earlier start left behind, if one rings on.

    Args:
        path: the file that start was given.

    Returns:
        Whether there was one. A missing, stale or unreadable file is no error, and a process
        whose program still runs is left alone.
    """
    pid = _orphan(path)
    if pid is None:
        return False
    for number in (signal.SIGTERM, signal.SIGKILL):
        try:
            os.kill(pid, number)
        except ProcessLookupError:
            break
        except PermissionError:
            return False
        if _wait_until(lambda: not _held(path)):
            break
    return True


def _orphan(path: Path) -> int | None:
    try:
        words = path.read_text("ascii").split()
    except (OSError, ValueError):
        return None
    if len(words) != 2 or words[1] != ORPHAN or not words[0].isdigit():
        return None
    pid = int(words[0])
    return pid if _held(path) and _is_ours(pid) else None


def _held(path: Path) -> bool:
    """Whether a living process holds the lock."""
    if fcntl is None:
        return False
    try:
        with path.open("a+") as file:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    except OSError:
        return False
    return False


def _is_ours(pid: int) -> bool:
    """Whether the process runs our program, as far as the system can tell."""
    try:
        return _PROGRAM in Path(f"/proc/{pid}/cmdline").read_bytes()
    except OSError:
        return not Path("/proc/self/cmdline").exists()


def _lock(file: IO[str]) -> None:
    if fcntl is None:
        return
    for left in reversed(range(_TRIES)):
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if not left:
                raise
            time.sleep(_WAIT)  # another start may be looking at it
        else:
            return


def _wait_until(true: Callable[[], bool]) -> bool:
    for _ in range(_TRIES):
        if true():
            return True
        time.sleep(_WAIT)
    return False
