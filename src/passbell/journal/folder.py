"""Where passbell keeps its own files, readable by their owner only."""

import os
from pathlib import Path

import platformdirs

_HOME = "PASSBELL_HOME"


def home() -> Path:
    """The folder of the journal: PASSBELL_HOME, or the user's data folder of the platform."""
    named = os.environ.get(_HOME)
    return Path(named).expanduser() if named else platformdirs.user_data_path("passbell")


def log_folder() -> Path:
    """The folder of log files: inside PASSBELL_HOME, or the platform's folder for state."""
    named = os.environ.get(_HOME)
    return home() / "log" if named else platformdirs.user_state_path("passbell") / "log"


def make_folder(folder: Path) -> None:
    """Make a folder for its owner only (0700); one that is there keeps its permissions.

    Raises:
        OSError: when it cannot be made, or is no folder.
    """
    missing = [p for p in (folder, *folder.parents) if not p.exists()]
    for path in reversed(missing):
        path.mkdir(mode=0o700, exist_ok=True)
    if not folder.is_dir():
        raise NotADirectoryError(20, "there is a file of that name", str(folder))


def make_file(path: Path) -> None:
    """Make an empty file for its owner only (0600), or take others' access to it away.

    Raises:
        OSError: when it cannot be made.
    """
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        if os.fstat(handle).st_mode & 0o077:
            path.chmod(0o600)
        os.fsync(handle)
    finally:
        os.close(handle)
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk, so that a power cut does not lose a new file."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
