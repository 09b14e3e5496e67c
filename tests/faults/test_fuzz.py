"""The short version of `fuzz` and `storm`, and what a file may do to the machine: nothing."""

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passbell.cli.main import main
from passbell.cook.whose import NotUnderstood
from passbell.cook.words import read_words
from passbell.plan.problem import PlanError
from passbell.plan.read import read_file
from passbell.planfiles import bundled_folder, list_plans
from passbell.sound.wavfile import read_wav
from passbell.tui.keys import load_keys
from tests.faults import fuzz
from tests.faults.storm import storm

QUICK = {"plans": 25, "words": 150, "settings": 100, "scripts": 150, "readings": 60} | {
    "exports": 25,
    "recipes": 40,
}


@pytest.fixture(autouse=True)
def home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.mark.parametrize(("kind", "cases"), QUICK.items())
def test_hostile_input_is_refused_in_words_or_taken(
    kind: str, cases: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fuzz, "SLOW", 3.0)  # a busy machine's first imports
    tally = fuzz.run(kind, cases, seed=5)
    assert tally.faults == []
    assert tally.cases == cases
    assert 0 < tally.refused < cases


def test_a_storm_of_keys_leaves_a_cook_that_can_be_replayed() -> None:
    assert storm(120, seed=8) == ""


@given(st.binary(max_size=300))
@settings(max_examples=100)
def test_any_bytes_are_a_plan_or_a_problem_in_words(data: bytes) -> None:
    told = ["nothing"]
    try:
        read_file(data, "plan")
    except PlanError as error:
        told = [str(problem) for problem in error.problems]
    assert told
    assert all(map(fuzz.clean, told))


def test_a_pipe_in_the_place_of_a_file_hangs_nothing(home: Path, tmp_path: Path) -> None:
    (home / "plans").mkdir(parents=True)
    for name in ("plans/pipe.toml", "keys.toml"):
        os.mkfifo(home / name)
    pipe, *others = list_plans()
    assert len(others) == len(list(bundled_folder().glob("*.toml")))
    assert "no ordinary file" in pipe.problems[0]
    assert main(["check", str(home / "plans" / "pipe.toml")]) == 2
    assert "no ordinary file" in load_keys(home / "keys.toml")[1]
    with pytest.raises(OSError, match="no ordinary file"):
        read_wav(home / "plans" / "pipe.toml")


@pytest.mark.parametrize("device", ["/dev/zero", "/dev/urandom", "/dev/stdin"])
def test_a_device_in_the_place_of_a_file_is_refused(device: str, tmp_path: Path) -> None:
    (tmp_path / "plan.toml").symlink_to(device)
    assert main(["check", str(tmp_path / "plan.toml")]) == 2
    assert load_keys(tmp_path / "plan.toml")[1]


@pytest.mark.parametrize(
    "text", ["a = " + "[" * 5000, "x = 1\n" * 200_000, "[a" + ".a" * 5000 + "]\n"]
)
def test_settings_that_are_too_much_are_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_text(text)
    keys, complaint = load_keys(path)
    assert complaint
    assert keys.best("done") == "Enter"


def test_a_number_beyond_all_numbers_is_too_much() -> None:
    with pytest.raises(NotUnderstood, match="is too much"):
        read_words(f"longer {'9' * 390}", fuzz._hand().state)
