"""The clock of the sound process: it goes on while the computer sleeps.

The program reads its own clock elsewhere and hands it in; this process outlives the program, so
it needs one of its own. On each system both read the same counter, so that an instant of one
means the same to the other.
"""

import sys
import time

_CLOCK_BOOTTIME = 7  # its number on Linux, where some Pythons are built without the name


def ticks() -> float:
    """Seconds on the clock that counts sleep and that nobody can set.

    Linux: CLOCK_BOOTTIME. macOS: CLOCK_MONOTONIC, which goes on in sleep there (clock_gettime(3)
    of that system). Windows: GetTickCount64.
    """
    if sys.platform == "linux":
        return time.clock_gettime(_CLOCK_BOOTTIME)
    if sys.platform == "win32":
        return _windows_ticks()
    return time.clock_gettime(time.CLOCK_MONOTONIC)


def _windows_ticks() -> float:
    import ctypes  # noqa: PLC0415 - elsewhere it would only slow the start

    kernel = ctypes.WinDLL("kernel32")  # type: ignore[attr-defined,unused-ignore]
    kernel.GetTickCount64.restype = ctypes.c_uint64
    return float(kernel.GetTickCount64()) / 1e3
