"""Writing plan files and the kitchen's file: whole or not at all, the old one always kept."""

import os
import tempfile
from pathlib import Path

from passbell.units import MendableError, clean_text, quoted

MOST_KEPT = 999
"""Old versions beyond this are not kept beside a plan."""


class PenError(MendableError):
    """A file that could not be written; the old one is as it was."""


def rewrite(path: Path, before: str, after: str) -> Path:
    """Put a new text in place of an old one in one step; returns where the old one is kept.

    The old file stays beside it as `NAME.~1~`, `NAME.~2~` and so on, the way GNU `cp` numbers its
    backups. A power cut leaves either the old file or the new one, whole.

    Args:
        path: the file; where it is a link, what it leads to is written.
        before: the text it must still hold.
        after: the text it is to hold.

    Raises:
        PenError: when it holds something else by now, or cannot be written.
    """
    try:
        path = path.resolve(strict=True)
        if path.read_bytes() != before.encode():
            raise PenError(f"{_named(path)} was changed meanwhile", "look at it, then try again")
        kept = _keep(path)
        replace_whole(path, after.encode(), path.stat().st_mode & 0o777)
    except OSError as error:
        raise _refused(path, error) from None
    return kept


def write_new(path: Path, text: str) -> None:
    """Write a file that is not there yet, and the folders to it.

    Raises:
        PenError: when there is a file of that name, or it cannot be written.
    """
    _make_folder(path)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o644)
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            _write(file.fileno(), text.encode())
    except FileExistsError:
        raise PenError(f"there is a file {_named(path)} already", "give it another name") from None
    except OSError as error:
        raise _refused(path, error) from None


def write_over(path: Path, text: str) -> None:
    """Write a file of the program's own in one step, whatever was there, and the folders to it.

    Raises:
        PenError: when it cannot be written.
    """
    _make_folder(path)
    try:
        replace_whole(path, text.encode(), 0o600)
    except OSError as error:
        raise _refused(path, error) from None


def replace_whole(path: Path, data: bytes, mode: int) -> None:
    """Put a file in place in one step, and make it last: the old one or the new one, whole.

    Args:
        path: the file; where it is a link, what it leads to is written.
        data: all of it.
        mode: its permissions.

    Raises:
        OSError: when it cannot be written; what was there is as it was.
    """
    path = path.resolve()
    handle, name = tempfile.mkstemp(prefix=f".{path.name[:80]}.", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            _write(file.fileno(), data)
        Path(name).chmod(mode)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    _sync(path.parent)


def _make_folder(path: Path) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _refused(path, error) from None


def _keep(path: Path) -> Path:
    """The old file under a number of its own, by a second name where the disk knows such."""
    for number in range(1, MOST_KEPT + 1):
        kept = path.with_name(f"{path.name}.~{number}~")
        try:
            os.link(path, kept)
        except FileExistsError:
            continue
        except OSError:
            handle = os.open(kept, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o644)
            with os.fdopen(handle, "wb") as file:
                _write(file.fileno(), path.read_bytes())
        return kept
    raise PenError(f"{MOST_KEPT} old versions of {_named(path)} are kept", "take some away")


def _write(handle: int, data: bytes) -> None:
    while data:
        data = data[os.write(handle, data) :]
    os.fsync(handle)


def _sync(folder: Path) -> None:
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _named(path: Path) -> str:
    return quoted(path.name)


def _refused(path: Path, error: OSError) -> PenError:
    reason = (error.strerror or type(error).__name__).casefold()
    what = f"{clean_text(str(path), 1000)} cannot be written: {reason}"
    return PenError(what, "look at the disk and at who may write there")
