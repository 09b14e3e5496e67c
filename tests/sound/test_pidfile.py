"""A file left behind never leads to the end of a process that is none of ours."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from passbell.sound.pidfile import PidFile, silence_orphan
from tests.sound.helpers import alive


@pytest.fixture
def bystander() -> Iterator["subprocess.Popen[bytes]"]:
    """A process that has nothing to do with us."""
    with subprocess.Popen(["/bin/sleep", "30"]) as process:
        yield process
        process.kill()


@pytest.mark.parametrize("text", ["", "x orphan", "12", "-1 orphan", "1 orphan extra", "\xff\xfe"])
def test_a_file_that_makes_no_sense_is_harmless(tmp_path: Path, text: str) -> None:
    path = tmp_path / "sound.pid"
    path.write_text(text, encoding="latin-1")
    assert not silence_orphan(path)
    assert not silence_orphan(tmp_path / "missing" / "sound.pid")
    assert not silence_orphan(tmp_path)


def test_a_stale_file_is_harmless(tmp_path: Path, bystander: "subprocess.Popen[bytes]") -> None:
    """Its number went to another process since; nobody holds the lock."""
    path = tmp_path / "sound.pid"
    path.write_text(f"{bystander.pid} orphan\n")
    assert not silence_orphan(path)
    assert alive(bystander.pid)


def test_a_number_that_is_not_ours_is_left_alone_even_under_a_lock(
    tmp_path: Path, bystander: "subprocess.Popen[bytes]"
) -> None:
    path = tmp_path / "sound.pid"
    script = (
        "import pathlib, sys, time; from passbell.sound.pidfile import PidFile\n"
        "file = PidFile(pathlib.Path(sys.argv[1])); file._write(f'{sys.argv[2]} orphan\\n')\n"
        "print('held', flush=True); time.sleep(30)"
    )
    command = [sys.executable, "-c", script, str(path), str(bystander.pid)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdout
        assert holder.stdout.readline() == "held\n"
        assert not silence_orphan(path)
        assert alive(bystander.pid)
        holder.kill()


def test_two_processes_cannot_hold_one_file(tmp_path: Path) -> None:
    first = PidFile(tmp_path / "sound.pid")
    with pytest.raises(BlockingIOError):
        PidFile(tmp_path / "sound.pid")
    first.close()
    PidFile(tmp_path / "sound.pid").close()
