"""Small files that people write, read with a bound: a pipe or a device hangs nobody."""

import errno
import os
import stat
from pathlib import Path

_WAITS_FOR_NOBODY = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


def read_small(path: Path, most: int) -> bytes:
    """The bytes of an ordinary file, one more than `most` of them when there are more.

    Args:
        path: the file.
        most: how many bytes are of use.

    Raises:
        OSError: when it cannot be opened, or is a folder, a pipe or a device.
        ValueError: when no file can have such a name.
    """
    handle = os.open(path, os.O_RDONLY | _WAITS_FOR_NOBODY)
    with os.fdopen(handle, "rb") as file:
        mode = os.fstat(handle).st_mode
        if stat.S_ISDIR(mode):
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
        if not stat.S_ISREG(mode):
            raise OSError(errno.EINVAL, "it is no ordinary file", str(path))
        return file.read(most + 1)
