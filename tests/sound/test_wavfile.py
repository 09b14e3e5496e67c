"""Sound files of the cook's own: the good ones are taken, the others never silence the bell."""

import shutil
import wave
from pathlib import Path

import pytest

from passbell.sound.folders import own_sounds, users_sounds
from passbell.sound.wavfile import NAMES, load_sounds, read_wav
from tests.sound.helpers import OURS


def write(path: Path, frames: bytes, channels: int = 1, width: int = 2, rate: int = 44_100) -> Path:
    with wave.open(str(path), "wb") as file:
        file.setparams((channels, width, rate, 0, "NONE", ""))
        file.writeframes(frames)
    return path


def test_every_shipped_sound_is_good() -> None:
    told: list[str] = []
    sounds = load_sounds([own_sounds()], told.append)
    assert set(sounds) == set(NAMES)
    assert not told
    assert sounds["do_it_1"].seconds == pytest.approx(2 / 1.5)


def test_the_first_folder_that_has_a_sound_wins(tmp_path: Path) -> None:
    write(tmp_path / "late_2.wav", b"\1\2" * 500, rate=22_050)
    told: list[str] = []
    sounds = load_sounds([tmp_path / "not there", tmp_path, own_sounds()], told.append)
    assert sounds["late_2"].frames == b"\1\2" * 500
    assert sounds["late_2"].rate == 22_050
    assert OURS[sounds["late_1"].frames] == "late_1"
    assert not told


@pytest.mark.parametrize(
    ("broken", "reason"),
    [
        (b"", "no plain WAV file"),
        (b"once upon a time there was no sound at all in this file", "no plain WAV file"),
        (b"RIFF\x24\0\0\0WAVEfmt \x10\0\0\0\x03\0\1\0", "no plain WAV file"),
    ],
)
def test_a_broken_file_is_told_and_ours_taken(tmp_path: Path, broken: bytes, reason: str) -> None:
    (tmp_path / "do_it_1.wav").write_bytes(broken)
    told: list[str] = []
    sounds = load_sounds([tmp_path, own_sounds()], told.append)
    assert OURS[sounds["do_it_1"].frames] == "do_it_1"
    assert len(told) == 1
    assert told[0].startswith(f"do_it_1 {tmp_path}: ")
    assert reason in told[0]


def test_a_folder_in_place_of_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "soon_1.wav").mkdir()
    told: list[str] = []
    assert "soon_1" in load_sounds([tmp_path, own_sounds()], told.append)
    assert told


def test_what_cannot_be_played_is_refused(tmp_path: Path) -> None:
    for settings in ({"channels": 3}, {"width": 4}, {"rate": 12_345}):
        path = write(tmp_path / "x.wav", b"\0" * 1200, **settings)
        with pytest.raises(ValueError, match="cannot be played"):
            read_wav(path)
    with pytest.raises(ValueError, match="lasts 11"):
        read_wav(write(tmp_path / "x.wav", bytes(2 * 8000 * 11), rate=8000))
    with pytest.raises(ValueError, match="lasts 0"):
        read_wav(write(tmp_path / "x.wav", b""))


def test_a_file_that_was_cut_off_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "x.wav"
    path.write_bytes((own_sounds() / "late_1.wav").read_bytes()[:5000])
    with pytest.raises(ValueError, match="cut off"):
        read_wav(path)


def test_a_sound_in_no_folder_is_left_out_and_told(tmp_path: Path) -> None:
    shutil.copy(own_sounds() / "late_1.wav", tmp_path)
    told: list[str] = []
    assert set(load_sounds([tmp_path], told.append)) == {"late_1"}
    assert len(told) == len(NAMES) - 1


def test_the_cooks_folder_can_be_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    assert users_sounds() == tmp_path / "sounds"
    monkeypatch.delenv("PASSBELL_HOME")
    assert users_sounds().parts[-2:] == ("passbell", "sounds")
