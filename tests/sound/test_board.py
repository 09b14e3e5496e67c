"""The board: whatever happens to the sound process, an alarm is heard and nobody waits for it."""

import os
import signal
import time
from pathlib import Path
from statistics import median

import pytest

from passbell.sound.board import SoundBoard
from passbell.sound.folders import own_sounds
from passbell.sound.ticks import ticks
from tests.sound.conftest import MakeBoard
from tests.sound.helpers import HandClock, Speaker, alarms, alive, polled, until, up

BLINK = 0.05
"""Seconds a call may take here, on a machine that does other things besides."""


WAITS = 10.0
"""Seconds after which something did wait for a process that never answers."""


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
