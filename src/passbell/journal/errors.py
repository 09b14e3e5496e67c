"""What can go wrong with a file, said so that a cook can mend it."""

import errno
import sqlite3
from pathlib import Path

# Our statements are fixed and our files were just opened for writing, so a table that is not
# there, or a file that calls itself read-only, is a damaged one.
_DAMAGED = {sqlite3.SQLITE_ERROR, sqlite3.SQLITE_READONLY}
_SAYS = {
    sqlite3.SQLITE_FULL: ("the disk is full", "make room on it and try again"),
    sqlite3.SQLITE_BUSY: (
        "another program is busy with it",
        "wait a moment and try again, or close the other passbell",
    ),
    sqlite3.SQLITE_LOCKED: (
        "another program is busy with it",
        "wait a moment and try again, or close the other passbell",
    ),
    sqlite3.SQLITE_READONLY: (
        "it cannot be written",
        "make it writable, or name another folder in PASSBELL_HOME",
    ),
    sqlite3.SQLITE_CANTOPEN: (
        "it cannot be opened",
        "look whether its folder is there and writable, or name another in PASSBELL_HOME",
    ),
}
_DISK = ("the disk gave an error", "look at the disk, or name another folder in PASSBELL_HOME")
_NO_FOLDER = ("it cannot be written", "make it writable, or name another folder in PASSBELL_HOME")


class JournalError(Exception):
    """The journal cannot do what was asked; nothing was half-written.

    Args:
        what: what is wrong and where, as a sentence without its full stop.
        mend: what to do about it, as a sentence without its full stop.
    """

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(f"{what}; {mend}")
        self.what = what
        self.mend = mend


class Missing(JournalError):
    """What was written of a cook is no longer there: the file was damaged under it."""


class Damaged(sqlite3.DatabaseError):
    """Content that is not what was written, noticed by us before SQLite would."""

    sqlite_errorcode = sqlite3.SQLITE_CORRUPT


def is_damage(error: sqlite3.Error) -> bool:
    """Whether SQLite says that the file itself is damaged."""
    code = getattr(error, "sqlite_errorcode", 0)
    return code in _DAMAGED or _primary(error) in {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}


def sqlite_trouble(error: sqlite3.Error, path: Path) -> JournalError:
    """SQLite's error as the cook should read it."""
    what, mend = _SAYS.get(_primary(error), _DISK)
    return JournalError(f"The journal {path}: {what}", mend)


def file_trouble(error: OSError, path: Path) -> JournalError:
    """The operating system's error about a file or folder as the cook should read it."""
    if error.errno in {errno.ENOSPC, errno.EDQUOT}:
        what, mend = _SAYS[sqlite3.SQLITE_FULL]
    else:
        what, mend = _NO_FOLDER
    return JournalError(f"The journal {path}: {what} ({error.strerror})", mend)


def _primary(error: sqlite3.Error) -> int:
    return getattr(error, "sqlite_errorcode", 0) & 0xFF
