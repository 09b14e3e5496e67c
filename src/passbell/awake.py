"""Ask the system, through its own command, not to sleep while a cook runs."""

import contextlib
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence

CANNOT = "The computer may fall asleep: switch that off in its settings while you cook."
"""What the cook is told where the system cannot be asked."""

_SYSTEM_REQUIRED = 0x80000001  # ES_CONTINUOUS | ES_SYSTEM_REQUIRED, from memory
_CONTINUOUS = 0x80000000


def command(platform: str, pid: int) -> Sequence[str] | None:
    """The system's own command that keeps it awake as long as it runs; None: there is none.

    Args:
        platform: as in `sys.platform`.
        pid: the program that asks.
    """
    if platform == "darwin":
        return ("caffeinate", "-i", "-s", "-w", str(pid))
    if platform.startswith("linux"):
        why = ("--who=passbell", "--why=a meal is being cooked", "--mode=block")
        return ("systemd-inhibit", "--what=idle:sleep:handle-lid-switch", *why, "cat")
    return None


class KeepAwake:
    """Keeps the computer awake from `start` to `stop`, and never beyond this program's life."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._windows = False

    def start(self) -> None:
        """Ask; it does not wait for the answer, which `refused` tells."""
        if sys.platform == "win32":
            self._windows = _windows(_SYSTEM_REQUIRED)
            return
        asked = command(sys.platform, os.getpid())
        program = shutil.which(asked[0]) if asked is not None else None
        if asked is None or program is None:
            return
        with contextlib.suppress(OSError):
            self._process = subprocess.Popen(  # noqa: S603 - the system's own command, no shell
                (program, *asked[1:]),
                stdin=subprocess.PIPE,  # closed when this program ends, however that happens
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                start_new_session=True,
            )

    def refused(self) -> str:
        """A sentence for the cook when the computer may fall asleep; empty while it may not."""
        if self._windows or (self._process is not None and self._process.poll() is None):
            return ""
        return CANNOT

    def stop(self) -> None:
        """Let the computer sleep again."""
        if self._windows:
            self._windows = not _windows(_CONTINUOUS)
        process, self._process = self._process, None
        if process is None:
            return
        if process.stdin is not None:
            with contextlib.suppress(OSError):
                process.stdin.close()
        process.terminate()
        try:
            process.wait(1.0)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def _windows(state: int) -> bool:
    import ctypes  # noqa: PLC0415 - only there

    kernel = ctypes.WinDLL("kernel32")  # type: ignore[attr-defined,unused-ignore]
    return bool(kernel.SetThreadExecutionState(state))
