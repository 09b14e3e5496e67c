"""`passbell sound-test`: every sound is heard, the player is named, and the exit code says it."""

import argparse
import subprocess
import sys
from pathlib import Path

import pytest

from passbell.cli import sound_test
from passbell.sound.pattern import SPEEDS
from tests.sound.conftest import MakeBoard
from tests.sound.helpers import Speaker, until


@pytest.fixture(autouse=True)
def _home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))


def test_each_sound_is_played_in_turn(
    speaker: Speaker, make_board: MakeBoard, capsys: pytest.CaptureFixture[str]
) -> None:
    board = make_board()
    waits: list[float] = []

    def rest(seconds: float) -> None:
        """The sound card of this test needs no time to play."""
        waits.append(seconds)
        before = len(speaker.heard())
        until(lambda: board.poll() or (board.player and len(speaker.heard()) > before), 0.3)

    assert sound_test.play_all(board, rest) == 0
    names = [f"{kind}_{speed}" for kind in sound_test.SAMPLES for speed in SPEEDS]
    assert set(speaker.heard()) == set(names)
    out = capsys.readouterr().out.splitlines()
    assert out[0] == "Player: simpleaudio, volume 4 of 4"
    assert len(out) == 1 + len(names)
    assert sum(waits[-len(names) :]) == pytest.approx(sum(SECONDS) + 0.6 * len(names), abs=0.01)


SECONDS = (
    *(1 / 1.5, 1 / 3, 1 / 6),  # soon: one pulse
    *(4 / 3, 4 / 3, 4 / 3),  # do it: two pulses at 1.5 a second, repeated to that length
    *(2, 2, 2),  # probe: three
    *(4, 2, 1),  # late: six
)


def test_with_no_player_the_bell_rings_and_the_answer_is_no(programs: Path) -> None:
    """As a program, from a shell in which there is nothing that could play."""
    script = "import sys; from passbell.cli.main import main; sys.exit(main(['sound-test']))"
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=False,
        stdin=subprocess.DEVNULL,
        timeout=60,
    )
    assert done.returncode == 1
    assert done.stdout == "Speech: no speech program is installed, such as espeak-ng\n"
    assert "\a" in done.stderr
    assert "only the bell of the terminal is left" in done.stderr
    assert "pip install 'passbell[sound]'" in done.stderr
    assert "Traceback" not in done.stderr


def test_the_help_says_where_ones_own_sounds_go(capsys: pytest.CaptureFixture[str]) -> None:
    parser = argparse.ArgumentParser(prog="passbell")
    sound_test.add_parser(parser.add_subparsers())
    with pytest.raises(SystemExit):
        parser.parse_args(["sound-test", "--help"])
    text = capsys.readouterr().out
    assert "Sounds of your own go into" in " ".join(text.split())
