"""The cook's choices about the sound, read from her file."""

from pathlib import Path

import pytest

from passbell.sound.choices import SoundChoices, load_choices


def read(tmp_path: Path, text: str) -> tuple[SoundChoices, str]:
    path = tmp_path / "sound.toml"
    path.write_text(text, encoding="utf-8")
    return load_choices(path)


def test_all_of_it(tmp_path: Path) -> None:
    text = 'volume = 2\nspeak = true\nsilent = ["call", "soon"]\n'
    assert read(tmp_path, text) == (SoundChoices(2, True, frozenset({"call", "soon"})), "")


def test_without_a_file_it_is_loud_and_does_not_speak(tmp_path: Path) -> None:
    assert load_choices(tmp_path / "sound.toml") == (SoundChoices(4, False, frozenset()), "")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("volume = 0", "volume is a number from 1, soft, to 4"),
        ("volume = true", "volume is a number from 1, soft, to 4"),
        ("speak = 1", "speak is true or false"),
        ('silent = "call"', "silent is a list"),
        ('silent = ["fly"]', "not 'fly'"),
        ("silent = [3]", "not '3'"),
        ('silent = ["probe"]', "probe always sounds"),
        ('silent = ["check"]', "check always sounds"),
        ('silent = ["late"]', "late always sounds"),
        ("bass = 3", "there is no setting 'bass'"),
        ("volume = ", "sound.toml"),
    ],
)
def test_a_fault_is_told_and_changes_nothing(tmp_path: Path, text: str, says: str) -> None:
    choices, complaint = read(tmp_path, text)
    assert choices == SoundChoices()
    assert says in complaint
    assert complaint.startswith("sound.toml: ")


def test_a_file_that_is_no_settings_is_told(tmp_path: Path) -> None:
    for text, says in (("x" * 30_000, "larger than any settings"),
                       ("silent = " + "[" * 9000, "sound.toml: ")):  # fmt: skip
        choices, complaint = read(tmp_path, text)
        assert choices == SoundChoices()
        assert says in complaint
    assert load_choices(tmp_path)[1].startswith(tmp_path.name)


def test_bytes_that_are_no_text_are_told(tmp_path: Path) -> None:
    (tmp_path / "sound.toml").write_bytes(b"volume = \xff")
    assert load_choices(tmp_path / "sound.toml")[1].startswith("sound.toml: ")
