"""Ask Linux for short turns at the processor, so that other work keeps no key and no bell waiting.

A program that waits a lot and works little, as this one does, comes to its turn the sooner the
shorter the turns it asks for; it gets no more of the processor by that (the kernel's
Documentation/scheduler/sched-eevdf.rst: a task may ask for a slice of its own by sched_setattr(2)).
Nobody needs a right for it. Linux before 6.12 takes no notice, and other systems are not asked.
"""

import os
import platform
import struct
import sys

TURN = 100_000
"""Nanoseconds of a turn: the shortest that the kernel gives."""

_SET = {"x86_64": 314, "aarch64": 274, "riscv64": 274}
"""The number of the call: the kernel's tables, arch/x86/entry/syscalls and asm-generic/unistd.h."""

_ATTRIBUTES = struct.Struct("=IIQiIQQQ")
"""struct sched_attr of sched_setattr(2), its first version: size, policy, flags, nice, priority,
runtime, deadline, period."""


def ask_for_short_turns() -> bool:
    """Ask for this thread, and for the threads and programs it starts from now on.

    Returns:
        Whether the system took it; who runs the program under another policy is left alone.
    """
    number = _SET.get(platform.machine()) if sys.platform == "linux" else None
    if number is None or sys.maxsize < 2**32 or os.sched_getscheduler(0) != os.SCHED_OTHER:
        return False
    import ctypes  # noqa: PLC0415 - only there

    nice = os.getpriority(os.PRIO_PROCESS, 0)
    wanted = _ATTRIBUTES.pack(_ATTRIBUTES.size, os.SCHED_OTHER, 0, nice, 0, TURN, 0, 0)
    return bool(ctypes.CDLL(None).syscall(number, 0, wanted, 0) == 0)
