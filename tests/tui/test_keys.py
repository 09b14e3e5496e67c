from pathlib import Path

import pytest

from passbell.tui.keys import FIXED, FUNCTIONS, key_name, load_keys, shown, standard

NAMES = {function.name for function in FUNCTIONS}
ASKED_FOR = {
    "done", "earlier", "put_off", "away", "heat_off", "longer", "shorter", "serve_at", "probe",
    "note", "take_back", "take_out", "quiet", "say_all", "mark", "help", "ready", "not_ready",
    "redo", "display", "far", "leave", "together", "begin",
}  # fmt: skip


def settings(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "keys.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_every_function_asked_for_has_a_key() -> None:
    assert ASKED_FOR <= NAMES
    assert all(standard().keys[name] for name in NAMES)


def test_no_key_has_two_meanings_and_none_needs_a_modifier() -> None:
    keys = [key for listed in standard().keys.values() for key in listed]
    assert len(keys) == len(set(keys))
    assert not any("+" in key or key in FIXED for key in keys)


def test_nothing_hangs_on_escape_or_space_alone() -> None:
    for listed in standard().keys.values():
        assert set(listed) - {"space", "escape"}


def test_without_letters_every_function_is_still_in_reach() -> None:
    keys = standard(letters=False).keys
    assert all(keys[name] for name in NAMES)
    assert not any(len(key) == 1 for listed in keys.values() for key in listed)


def test_a_missing_file_changes_nothing(tmp_path: Path) -> None:
    assert load_keys(tmp_path / "keys.toml") == (standard(), "")


def test_a_function_gets_other_keys(tmp_path: Path) -> None:
    text = '[keys]\nbegin = "F4"\nput_off = ["j", "*"]\nnote = "#"\n'
    keys, fault = load_keys(settings(tmp_path, text))
    assert fault == ""
    assert keys.function("j") == "put_off"
    assert keys.function("p") == ""
    assert keys.function("number_sign") == "note"
    assert keys.best("put_off") == "j"


def test_a_key_given_away_leaves_its_old_function(tmp_path: Path) -> None:
    keys, fault = load_keys(settings(tmp_path, '[keys]\ntake_out = ["d", "t"]\n'))
    assert fault == ""
    assert keys.function("d") == "take_out"
    assert keys.function("enter") == "done"


def test_letters_can_be_switched_off(tmp_path: Path) -> None:
    keys, fault = load_keys(settings(tmp_path, "letters = false\n"))
    assert fault == ""
    assert keys.function("d") == ""
    assert keys.function("f4") == "put_off"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("letters = 3", "letters is true or false"),
        ("[keys\n", "keys.toml"),
        ("colour = 1", "no setting 'colour'"),
        ("keys = 3", "keys is a table"),
        ('[keys]\nfly = "d"', "no function 'fly'"),
        ("[keys]\ndone = 3", "done is a key or a list"),
        ('[keys]\ndone = "ctrl+d"', "no key 'ctrl+d'"),
        ('[keys]\ndone = "5"', "5 has its own meaning"),
        ('[keys]\ndone = "escape"', "Esc has its own meaning"),
        ('[keys]\ndone = "space"', "done needs a key besides Space"),
        ('[keys]\nnote = ["f4"]\nput_off = ["f4", "j"]', "F4 is given to both"),
        ('[keys]\nnote = ["p", "f4", "*"]', "put_off needs a key"),
        ('letters = false\n[keys]\nnote = "n"', "note needs a key"),
    ],
)
def test_a_bad_file_is_one_line_and_changes_nothing(tmp_path: Path, text: str, says: str) -> None:
    keys, fault = load_keys(settings(tmp_path, text))
    assert keys == standard()
    assert says in fault
    assert "\n" not in fault


def test_a_file_that_is_no_text_is_one_line(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_bytes(b"\xff\xfe\x00")
    keys, fault = load_keys(path)
    assert keys == standard()
    assert fault.startswith("keys.toml: ")
    (tmp_path / "folder").mkdir()
    assert load_keys(tmp_path / "folder")[1].startswith("folder: ")


def test_names_and_signs_of_keys() -> None:
    assert key_name("+") == "plus"
    assert key_name(" ") == "space"
    assert key_name("F2") == "f2"
    assert shown("plus") == "+"
    assert shown("f12") == "F12"
    assert shown("enter") == "Enter"
    assert shown("f") == "f"
