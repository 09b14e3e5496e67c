"""The board: whatever happens to the sound process, an alarm is heard and nobody waits for it."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

import pytest

from passbell.sound.board import GRACE, SoundBoard
from passbell.sound.folders import own_sounds
from passbell.sound.keeper import RETRY
from passbell.sound.pattern import Alarm, Kind
from passbell.sound.pidfile import silence_orphan
from passbell.sound.ticks import ticks
from tests.sound.conftest import MakeBoard
from tests.sound.helpers import Speaker, alive, polled, until, write_player

BLINK = 0.05
"""Seconds a call may take here, on a machine that does other things besides."""

WAITS = 10.0
"""Seconds after which something did wait for a process that never answers."""


def alarms(kind: Kind = "do_it", after: float = 0.0, key: str = "stir, éh\n") -> dict[str, Alarm]:
    return {key: Alarm(key, kind, ticks() + after)}


def up(board: SoundBoard) -> bool:
    return polled(board, lambda: board.player not in {None, "none"})


@pytest.fixture
def board(speaker: Speaker, make_board: MakeBoard, tmp_path: Path) -> SoundBoard:
    """A board that is up, on the sound card of this test."""
    made = make_board(pid_file=tmp_path / "sound.pid")
    made.start()
    assert up(made)
    return made


def test_simpleaudio_is_in_use_and_an_alarm_is_heard(board: SoundBoard, speaker: Speaker) -> None:
    assert board.status == "sound: simpleaudio"
    board.sync(alarms(after=0.2))
    assert until(lambda: speaker.heard() == ["do_it_1"])  # without a poll: the deadline is there
    assert board.poll() == 0
    assert board.take_reason() is None


def test_what_is_no_longer_wanted_falls_silent(board: SoundBoard, speaker: Speaker) -> None:
    wanted = alarms("probe", 0.6, "a") | alarms("do_it", 0.6, "b")
    board.sync(wanted)
    board.sync({"b": wanted["b"]})
    assert polled(board, lambda: speaker.heard() == ["do_it_1"])
    board.sync(alarms("late", 0.1, "c"))  # once this is heard, an earlier one would have been
    assert polled(board, lambda: "late_1" in speaker.heard())
    assert speaker.heard() == ["do_it_1", "late_1"]


def test_the_same_alarms_again_ring_no_second_time(board: SoundBoard, speaker: Speaker) -> None:
    wanted = alarms()
    for _ in range(5):
        board.sync(wanted)
        board.poll()
        time.sleep(0.05)
    assert until(speaker.heard)
    assert speaker.heard() == ["do_it_1"]


@pytest.mark.parametrize("number", [signal.SIGSEGV, signal.SIGKILL])
def test_a_crash_is_noticed_by_a_poll(board: SoundBoard, speaker: Speaker, number: int) -> None:
    wanted = alarms(key="heard") | alarms("probe", 0.8, key="to come")
    board.sync(wanted)
    rung: list[str] = []

    def told() -> bool:
        rung.extend(board.take_rung()[0])
        return "heard" in rung and speaker.heard() == ["do_it_1"]

    assert polled(board, told)
    before = board.pid
    assert before
    os.kill(before, number)
    assert until(lambda: not alive(before))
    assert polled(board, lambda: board.pid not in {before, None})
    assert up(board)
    assert polled(board, lambda: len(speaker.heard()) > 1)
    assert speaker.heard() == ["do_it_1", "probe_1"]  # what had rung does not ring again
    assert (
        board.take_reason()
        == "The sound process ended while it used simpleaudio; it was started again."
    )


def test_a_hang_is_noticed_and_replaced_and_holds_nobody(
    board: SoundBoard, speaker: Speaker
) -> None:
    before = board.pid
    assert before
    os.kill(before, signal.SIGSTOP)
    board.sync(alarms(after=0.1))
    calls: list[float] = []

    def replaced() -> bool:
        began = time.perf_counter()
        board.poll()
        calls.append(time.perf_counter() - began)
        return board.pid not in {before, None}

    assert until(replaced)
    assert median(calls) < BLINK
    assert until(lambda: not alive(before))
    assert polled(board, lambda: speaker.heard() == ["do_it_1"])


def test_a_process_that_does_not_read_fills_no_pipe_of_ours(board: SoundBoard) -> None:
    assert board.pid
    os.kill(board.pid, signal.SIGSTOP)
    began = time.perf_counter()
    for number in range(5000):
        board.sync(alarms(after=1000 + number))
    assert time.perf_counter() - began < WAITS
    began = time.perf_counter()
    board.close()
    assert time.perf_counter() - began < WAITS


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


def test_muted_and_quiet(board: SoundBoard, speaker: Speaker) -> None:
    board.mute(True)
    assert board.status == "sound: muted"
    board.sync(alarms() | alarms("probe", key="p"))
    board.quiet(ticks() + 60)
    end = ticks() + 0.2
    assert until(lambda: ticks() > end)
    assert (board.poll(), speaker.heard()) == (0, [])
    board.mute(False)
    assert polled(board, lambda: "probe_1" in speaker.heard())  # never held back
    assert speaker.heard() == ["probe_1"]
    board.quiet(ticks())
    assert polled(board, lambda: speaker.heard() == ["probe_1", "do_it_1"])


def test_a_sample_of_each_kind(board: SoundBoard, speaker: Speaker) -> None:
    board.quiet(ticks() + 60)
    heard: list[str] = []
    for kind, speed in (("soon", 1), ("late", 3)):
        board.ring_now(kind, speed)  # type: ignore[arg-type]
        heard.append(f"{kind}_{speed}")
        assert polled(board, lambda: speaker.heard() == heard)


def test_sounds_of_the_cooks_own(speaker: Speaker, make_board: MakeBoard, tmp_path: Path) -> None:
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "do_it_1.wav").write_bytes((own_sounds() / "soon_2.wav").read_bytes())
    (mine / "probe_1.wav").write_text("not a sound \x1b[31m")
    board = make_board(folders=[mine])
    board.start()
    assert up(board)
    board.sync(alarms())
    assert polled(board, lambda: speaker.heard() == ["soon_2"])
    reason = board.take_reason() or ""
    assert reason.startswith(f"The sound probe_1 {mine}: it is no plain WAV file")
    board.ring_now("probe")
    assert polled(board, lambda: speaker.heard() == ["soon_2", "probe_1"])


class HandClock:
    """A clock that stands still until it is moved; the sound process is none of its business."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


class TestBell:
    def test_with_no_player_the_terminal_rings_by_the_same_rule(
        self, programs: Path, make_board: MakeBoard
    ) -> None:
        clock = HandClock()
        board = make_board(clock)
        board.start()
        assert polled(board, lambda: board.player == "none")
        assert board.status == "sound: bell only"
        assert "it is not installed" in (board.take_reason() or "")
        board.sync({"a": Alarm("a", "do_it", 1010), "s": Alarm("s", "soon", 1003)})
        rang = {}
        for _ in range(4 * 45):
            clock.now += 0.25
            if bells := board.poll():
                rang[clock.now] = bells
        assert rang == {1003: 1, 1010: 2, 1035: 2}
        board.sync({})
        clock.now += 30
        assert board.poll() == 0

    def test_a_bell_is_muted_too(self, programs: Path, make_board: MakeBoard) -> None:
        clock = HandClock()
        board = make_board(clock, muted=True)
        board.start()
        assert polled(board, lambda: board.player == "none")
        assert board.take_reason() is None, "no complaint about a sound that is not wanted"
        board.sync({"a": Alarm("a", "do_it", 1000)})
        board.ring_now("late")
        assert board.poll() == 0
        board.mute(False)
        assert board.take_reason()
        assert board.poll() == 2
        board.ring_now("late")
        assert board.poll() == 2

    def test_a_player_that_comes_later_is_found(
        self, programs: Path, make_board: MakeBoard
    ) -> None:
        clock = HandClock()
        board = make_board(clock)
        board.start()
        assert polled(board, lambda: board.player == "none")
        write_player(programs, "paplay", "exit 0")
        clock.now += RETRY - 1
        board.poll()
        assert board.player == "none"
        clock.now += 1
        assert polled(board, lambda: board.player == "paplay")
        assert board.status == "sound: system player paplay"

    def test_a_process_that_cannot_start_leaves_the_bell(
        self, make_board: MakeBoard, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(sys, "executable", "/bin/false")
        board = make_board()
        board.start()
        board.sync(alarms())
        assert until(lambda: board.poll() == 2)
        assert board.status == "sound: bell only"
        monkeypatch.setattr(sys, "executable", "/not/there")
        other = make_board()
        other.start()
        assert polled(other, lambda: other.player == "none")
        said = [board.take_reason(), board.take_reason(), board.take_reason()]
        assert said == [
            "The sound process ended; it was started again.",
            "The sound process ended 3 times; the terminal bell rings.",
            None,
        ]

    def test_an_alarm_does_not_wait_for_a_process_that_is_slow_to_come(
        self, make_board: MakeBoard, programs: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        clock = HandClock()
        write_player(programs, "slow", "exec /bin/sleep 20")
        monkeypatch.setattr(sys, "executable", str(programs / "slow"))
        board = make_board(clock)
        board.start()
        board.sync({"a": Alarm("a", "do_it", clock.now)})
        assert board.poll() == 0
        clock.now += GRACE + 0.1
        assert board.poll() == 2


class TestFaults:
    def test_a_player_that_fails_time_and_again_gives_way(
        self, programs: Path, make_board: MakeBoard
    ) -> None:
        """What stands in for simpleaudio here passes the proof, then crashes at every sound."""
        modules = programs.parent / "modules" / "simpleaudio.py"
        modules.write_text(
            "import os, signal\n"
            "def stop_all(): pass\n"
            "def play_buffer(data, *rest):\n"
            "    if any(data): os.kill(os.getpid(), signal.SIGSEGV)\n"
        )
        log = programs / "log"
        write_player(programs, "aplay", f'echo "$2" >> {log}')
        board = make_board()
        board.start()
        assert up(board)
        assert board.player == "simpleaudio"
        board.sync(alarms())
        assert polled(board, lambda: log.exists() and "do_it_1" in log.read_text())
        assert polled(board, lambda: board.status == "sound: system player aplay")
        said = [board.take_reason(), board.take_reason()]
        assert said == [
            "The sound process ended while it used simpleaudio; it was started again.",
            "The sound comes from aplay (simpleaudio: it failed too often).",
        ]

    def test_a_player_that_hangs_in_its_proof_gives_way(
        self, programs: Path, make_board: MakeBoard
    ) -> None:
        """A wedged sound server holds simpleaudio, and all of its process, for half a minute."""
        modules = programs.parent / "modules" / "simpleaudio.py"
        modules.write_text(
            "import time\ndef stop_all(): pass\ndef play_buffer(data, *rest): time.sleep(30)\n"
        )
        write_player(programs, "aplay", "exit 0")
        clock = HandClock()
        board = make_board(clock)
        board.start()

        def hurry() -> bool:
            clock.now += 0.1
            return board.player == "aplay"

        assert polled(board, hurry, 10)


def test_a_program_that_stood_still_does_not_blame_the_sound(
    speaker: Speaker, make_board: MakeBoard
) -> None:
    """After a sleep the answer to the last ping is hours old by the clock, and still to be read."""
    clock = HandClock()
    board = make_board(clock)
    board.start()
    assert up(board)
    pid = board.pid
    for _ in range(5):
        clock.now += 3600
        board.poll()
        time.sleep(0.02)
    assert polled(board, lambda: board.pid == pid)
    assert board.take_reason() is None
