"""Alarms that are armed ring on when the program ends, is closed, or is killed."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from passbell.sound.board import SoundBoard
from passbell.sound.folders import own_sounds
from passbell.sound.pidfile import silence_orphan
from passbell.sound.ticks import ticks
from tests.sound.conftest import MakeBoard
from tests.sound.helpers import Speaker, alarms, alive, until, up


def test_after_closing_nothing_rings(board: SoundBoard, speaker: Speaker) -> None:
    pid = board.pid
    assert pid
    board.sync(alarms(after=0.3))
    due = ticks() + 0.4
    board.close()
    assert not alive(pid)
    assert until(lambda: ticks() > due)
    assert speaker.heard() == []


def test_left_ringing_it_rings_and_the_next_start_ends_it(
    board: SoundBoard, speaker: Speaker, make_board: MakeBoard, tmp_path: Path
) -> None:
    pid = board.pid
    assert pid
    board.sync(alarms(after=0.3))
    board.close(ring_on=True)
    assert until(lambda: speaker.heard() == ["do_it_1"])
    assert alive(pid)
    later = make_board(pid_file=tmp_path / "sound.pid")
    later.start()
    assert up(later)
    assert not alive(pid)
    assert later.take_reason() is None


def test_a_program_that_ends_right_after_it_armed_is_heard(speaker: Speaker) -> None:
    """A window is closed in the moment a step is done: what was armed then is on its way still."""
    script = """
from passbell.sound.board import SoundBoard
from passbell.sound.pattern import Alarm
from passbell.sound.ticks import ticks
board = SoundBoard(ticks)
board.start()
board.sync({str(n): Alarm(str(n), "soon", ticks() + 0.3) for n in range(50)})
board.close(ring_on=True)
"""
    subprocess.run([sys.executable, "-c", script], check=True, timeout=60)
    assert until(lambda: speaker.heard() == ["soon_1"])


@pytest.fixture
def armed_and_killed(speaker: Speaker, tmp_path: Path) -> Iterator[None]:
    """A program that armed an alarm is killed before it rings, with more time where it must be."""
    path = tmp_path / "sound.pid"
    killed = any(_killed_in_time(path, speaker, lead) for lead in (0.6, 3.0, 10.0))
    yield
    assert silence_orphan(path)
    assert killed


def _killed_in_time(path: Path, speaker: Speaker, lead: float) -> bool:
    """Whether it had not rung yet when its program was killed; else all of it is forgotten."""
    script = f"""
import pathlib, time
from passbell.sound.board import SoundBoard
from passbell.sound.pattern import Alarm
from passbell.sound.ticks import ticks
board = SoundBoard(ticks, pid_file=pathlib.Path({str(path)!r}))
board.start()
while board.player is None:
    board.poll()
    time.sleep(0.02)
board.sync({{"a": Alarm("a", "probe", ticks() + {lead})}})
while board._keeper._sent:  # what no answer has come to may be on its way still
    board.poll()
    time.sleep(0.01)
print("armed", flush=True)
time.sleep(30)
"""
    command = [sys.executable, "-c", script]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout
        assert program.stdout.readline() == "armed\n"
        program.kill()
        program.wait()
    if not speaker.samples():
        return True
    silence_orphan(path)
    speaker.forget()
    return False


@pytest.mark.usefixtures("armed_and_killed")
def test_a_killed_program_swallows_no_alarm(speaker: Speaker) -> None:
    assert until(lambda: speaker.heard() == ["probe_1"])
    assert speaker.samples() == [read(own_sounds() / "probe_1.wav")]


def read(path: Path) -> bytes:
    """The samples of one of our files: all that follows its 44 bytes of header."""
    return path.read_bytes()[44:]
