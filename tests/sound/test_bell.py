"""With no player that works: the terminal bell by the same rule, and one player after another."""

import sys
from pathlib import Path

import pytest

from passbell.sound.board import GRACE
from passbell.sound.keeper import RETRY
from passbell.sound.pattern import Alarm
from tests.sound.conftest import MakeBoard
from tests.sound.helpers import HandClock, alarms, polled, until, up, write_player


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
