"""A fault of the program: one line for the cook, the rest into a file."""

import os
import platform
import sys
import tempfile
import traceback
from pathlib import Path

import passbell

_MOST = 500_000


def fault_text(error: BaseException) -> str:
    """Write a fault down; returns the sentence that says so and where."""
    kind = type(error).__name__
    try:
        path = write_fault(error)
    except OSError as trouble:
        where = f"The details could not be written ({trouble.strerror}): {error}"
    else:
        where = f"The details are in {path}"
    return (
        f"this is a fault of the program, not of your plan ({kind}). Start passbell again: "
        f"an unfinished cook goes on where it stood. {where}"
    )


def write_fault(error: BaseException) -> Path:
    """Add a traceback to the file of faults, readable by its owner only; returns the file.

    Raises:
        OSError: when neither the log folder nor the folder for temporary files takes it.
    """
    entry = f"{_heading()}\n{''.join(traceback.format_exception(error))}\n"
    try:
        from passbell.journal.folder import log_folder, make_folder  # noqa: PLC0415

        folder = log_folder()
        make_folder(folder)
        return _add(folder / "faults.log", entry)
    except OSError:
        return _add(Path(tempfile.mkdtemp(prefix="passbell-")) / "faults.log", entry)


def _heading() -> str:
    from passbell.clock import SystemClock, local_datetime  # noqa: PLC0415

    when = local_datetime(SystemClock().now().utc).isoformat(timespec="seconds")
    return (
        f"{when} passbell {passbell.__version__}, Python {platform.python_version()}, "
        f"{sys.platform}, {' '.join(map(repr, sys.argv))}"
    )


def _add(path: Path, entry: str) -> Path:
    old = path.is_file() and path.stat().st_size > _MOST
    flags = os.O_WRONLY | os.O_CREAT | (os.O_TRUNC if old else os.O_APPEND)
    with os.fdopen(os.open(path, flags, 0o600), "w", encoding="utf-8", errors="replace") as file:
        file.write(entry)
    return path
