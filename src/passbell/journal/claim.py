"""One program for one cook: a lock that ends with the program, however that ends."""

import os
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Self

from passbell.journal.errors import JournalError, file_trouble

_LOCKED_BYTE = 64  # beyond the text, which Windows would otherwise lock away from readers


class Claim:
    """The right to write a run, held until `release` or the end of the program.

    The operating system holds the lock and drops it when the program dies, so a lock that a
    crash left behind is nobody's.
    """

    def __init__(self, handle: int, path: Path) -> None:
        self._handle = handle
        self._path = path

    @classmethod
    def take(cls, path: Path, thing: str) -> Self:
        """Take the lock that the file at `path` stands for.

        Args:
            path: the lock file; it is made when it is not there.
            thing: what is locked, for the message ("this cook").

        Raises:
            JournalError: when another program holds it; says which and since when.
        """
        try:
            handle = _locked(path)
        except OSError as error:
            raise file_trouble(error, path) from None
        if handle is None:
            raise JournalError(
                f"Another passbell {_holder(path)} has {thing} open",
                "go on there, or close it and try again",
            )
        os.truncate(handle, 0)
        os.write(handle, f"{os.getpid()}\n".encode())
        return cls(handle, path)

    def release(self) -> None:
        """Give the lock back; a second time does nothing."""
        if self._handle < 0:
            return
        handle, self._handle = self._handle, -1
        if os.name == "posix":  # while it is still held, so nobody's lock file is removed
            self._path.unlink(missing_ok=True)
        os.close(handle)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.release()


def _locked(path: Path) -> int | None:
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        if not _lock(handle):
            os.close(handle)
            return None
        if _same_file(handle, path):
            return handle
        os.close(handle)  # its holder removed it between the opening and the locking


def _same_file(handle: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False


def _holder(path: Path) -> str:
    try:
        pid = int(path.read_text("ascii") or "0")
        since = datetime.fromtimestamp(path.stat().st_mtime, UTC).astimezone()
    except (OSError, ValueError):
        return "on this computer"
    return f"(process {pid}, since {since:%H:%M})"


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> bool:
        os.lseek(handle, _LOCKED_BYTE, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        os.lseek(handle, 0, os.SEEK_SET)
        return True
else:
    import fcntl

    def _lock(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
