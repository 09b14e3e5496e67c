"""Asking the system not to sleep: through its own command, ended with the program."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from passbell.awake import CANNOT, KeepAwake, command


def fake(folder: Path, name: str, script: str) -> None:
    path = folder / name
    path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    path.chmod(0o755)


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}/bin{os.pathsep}/usr/bin")
    return tmp_path


def asked(path: Path) -> int:
    """The number of the command that was asked, once it has begun."""
    file = path / "pid"
    for _ in range(600):
        if file.exists() and file.read_text().strip():
            return int(file.read_text())
        time.sleep(0.05)
    raise AssertionError("the system was not asked")


def gone(pid: int) -> bool:
    """Whether a process ends within some seconds; a dead one that nobody fetched has ended."""
    stat = Path(f"/proc/{pid}/stat")
    for _ in range(600):
        try:
            if stat.read_text().rpartition(") ")[2].startswith("Z"):
                return True
        except (FileNotFoundError, ProcessLookupError):
            return True
        time.sleep(0.05)
    return False


HOLDS = 'echo $$ > "$(dirname "$0")/pid"; shift 4; exec "$@"'


def test_the_lock_is_held_until_it_is_let_go(path: Path) -> None:
    fake(path, "systemd-inhibit", HOLDS)
    awake = KeepAwake()
    awake.start()
    pid = asked(path)
    assert awake.refused() == ""
    awake.stop()
    assert gone(pid)


def test_it_ends_when_the_program_that_asked_is_killed(path: Path) -> None:
    fake(path, "systemd-inhibit", HOLDS)
    program = (
        "import os, time; from passbell.awake import KeepAwake; KeepAwake().start(); "
        "time.sleep(0.5); os.kill(os.getpid(), 9)"
    )
    subprocess.run([sys.executable, "-c", program], check=False)
    assert gone(asked(path))


@pytest.mark.parametrize("script", ["exit 1", "echo no bus >&2; exit 5"])
def test_a_refusal_is_said(path: Path, script: str) -> None:
    fake(path, "systemd-inhibit", script)
    awake = KeepAwake()
    awake.start()
    for _ in range(600):
        if awake.refused():
            break
        time.sleep(0.05)
    assert awake.refused() == CANNOT
    awake.stop()


def test_a_system_without_the_command_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("PATH", str(tmp_path))
    awake = KeepAwake()
    awake.start()
    assert awake.refused() == CANNOT
    awake.stop()


def test_each_system_is_asked_by_its_own_command() -> None:
    assert command("darwin", 7) == ("caffeinate", "-i", "-s", "-w", "7")
    linux = command("linux", 7)
    assert linux is not None
    assert linux[0] == "systemd-inhibit"
    assert command("sunos5", 7) is None
