"""Volume: every sound softer by the same step, heard and in the file a player is given."""

import math
from pathlib import Path

import numpy as np
import pytest

from passbell.sound.folders import own_sounds
from passbell.sound.softer import LOUDEST, SHARES, Softer, softer
from passbell.sound.wavfile import Wav, read_wav
from tests.sound.conftest import MakeBoard
from tests.sound.helpers import Speaker, Talk, polled, until

DO_IT = read_wav(own_sounds() / "do_it_1.wav")


def level(frames: bytes) -> float:
    """Root mean square of samples of two bytes."""
    return float(np.sqrt(np.mean(np.frombuffer(frames, "<i2").astype(float) ** 2)))


def decibel(soft: bytes, loud: bytes) -> float:
    return 20 * math.log10(level(soft) / level(loud))


@pytest.mark.parametrize("volume", SHARES)
def test_a_step_is_six_decibels(volume: int) -> None:
    # 20 log10 of the ratio of amplitudes: ISO 80000-8, level of a field quantity (from memory).
    made = Softer()
    made.volume = volume
    expected = -6.02 * (LOUDEST - volume)
    assert decibel(made.of(DO_IT).frames, DO_IT.frames) == pytest.approx(expected, abs=0.05)
    made.close()


def test_the_file_holds_what_is_played_and_goes_at_the_end() -> None:
    made = Softer()
    made.volume = 2
    soft = made.of(DO_IT)
    assert read_wav(soft.path).frames == soft.frames
    assert made.of(DO_IT) is soft
    folder = soft.path.parent
    made.close()
    assert not folder.exists()
    made.volume = LOUDEST
    assert made.of(DO_IT) is DO_IT


def test_where_no_file_can_be_written_it_sounds_as_it_is(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("tempfile.mkdtemp", lambda prefix: str(tmp_path / "not there"))
    made = Softer()
    made.volume = 1
    assert made.of(DO_IT) is DO_IT


@pytest.mark.parametrize(
    ("width", "loud", "soft"),
    [
        (1, bytes([0, 128, 255]), bytes([64, 128, 192])),
        (2, b"\x00\x80\x00\x00\xfe\x7f", b"\x00\xc0\x00\x00\xff\x3f"),
        (3, b"\x00\x00\x80\xfe\xff\x7f", b"\x00\x00\xc0\xff\xff\x3f"),
    ],
)
def test_every_width_of_sample_keeps_its_silence_and_its_signs(
    width: int, loud: bytes, soft: bytes
) -> None:
    # RIFF WAVE: one byte has no sign and rests at 128, more have one (from memory).
    assert softer(Wav("x", Path("x"), loud, 1, width, 8000), 0.5).frames == soft


def test_the_sound_process_plays_softer_at_a_word(talk: Talk, speaker: Speaker) -> None:
    assert talk.ask("volume 2") == "ok volume"
    assert talk.ask("volume 9").startswith("no volume")
    assert talk.ask("play do_it_1") == "ok play"
    assert until(lambda: len(speaker.samples()) == 1)
    assert decibel(speaker.samples()[0], DO_IT.frames) == pytest.approx(-12.04, abs=0.1)


def test_the_board_keeps_its_volume_over_a_new_process(
    speaker: Speaker, make_board: MakeBoard
) -> None:
    board = make_board()
    board.set_volume(3)
    board.start()
    assert polled(board, lambda: board.player == "simpleaudio")
    board.ring_now("do_it")
    assert until(lambda: len(speaker.samples()) == 1)
    assert decibel(speaker.samples()[0], DO_IT.frames) == pytest.approx(-6.02, abs=0.1)
