"""Short turns are asked for, and nothing else about the program changes.

What the kernel made of it is read back by sched_getattr(2), whose number stands beside that of
sched_setattr in the kernel's tables.
"""

import ctypes
import os
import platform
import struct
import subprocess
import sys

import pytest

from passbell.turns import TURN, ask_for_short_turns

READ = {"x86_64": 315, "aarch64": 275, "riscv64": 275}

ASKED = sys.platform == "linux" and platform.machine() in READ
"""Whether this system is asked at all; the others are told apart below."""


def asked(code: str) -> str:
    """What a program of its own prints after asking: the tests' own turns stay as they are."""
    head = "import os; from tests.test_turns import *; from passbell.turns import *; "
    return subprocess.run(
        [sys.executable, "-c", head + code], capture_output=True, text=True, check=True
    ).stdout.strip()


def attributes() -> tuple[int, int, int]:
    """Policy, niceness and length of a turn of this thread, as the kernel tells them."""
    told = ctypes.create_string_buffer(48)
    assert ctypes.CDLL(None).syscall(READ[platform.machine()], 0, told, 48, 0) == 0
    _, policy, _, nice, _, runtime, _, _ = struct.unpack("=IIQiIQQQ", told.raw)
    return policy, nice, runtime


def newer(*least: int) -> bool:
    """Whether the kernel is that new."""
    return tuple(int(n) for n in platform.release().split(".")[:2]) >= least


def test_the_turns_are_short_and_the_niceness_stays() -> None:
    if not ASKED:
        assert asked("print(ask_for_short_turns())") == "False"
        return
    said = asked("os.nice(3); print(ask_for_short_turns(), *attributes())")
    took, policy, nice, runtime = said.split()
    assert (took, policy, nice) == ("True", str(os.SCHED_OTHER), str(os.nice(0) + 3))
    if newer(6, 12):  # before, the kernel keeps no turn of its own for such a program
        assert int(runtime) == TURN


def test_threads_that_are_started_then_have_them_too() -> None:
    code = (
        "from threading import Thread; ask_for_short_turns(); "
        "thread = Thread(target=lambda: print(attributes()[2])); thread.start(); thread.join()"
    )
    assert not ASKED or not newer(6, 12) or int(asked(code)) == TURN


def test_who_chose_another_policy_keeps_it() -> None:
    if not ASKED:
        return
    said = asked(
        "os.sched_setscheduler(0, os.SCHED_BATCH, os.sched_param(0)); "
        "print(ask_for_short_turns(), os.sched_getscheduler(0) == os.SCHED_BATCH)"
    )
    assert said == "False True"


def test_other_systems_are_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "darwin")
    assert not ask_for_short_turns()


def test_other_processors_are_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(platform, "machine", lambda: "unheard-of")
    assert not ask_for_short_turns()
