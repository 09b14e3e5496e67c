"""The kitchen's file: the cook's own words stay, the lessons come and go."""

from pathlib import Path

import pytest

from passbell.cook.lessons import Lesson
from passbell.kitchen import KitchenError, forgotten, learned, read_kitchen, switched
from passbell.units import Temperature

OWN = """\
# my kitchen
use = true   # yes
altitude = "1500 m"

[[appliance]]
name = "grill"
pace = 0.9
"""


def lessons(run: int, pace: float = 1.2) -> dict[tuple[int, int], tuple[Lesson, ...]]:
    return {(run, run): (Lesson(run=run, began=run, appliance="oven", preheat=1.4, pace=pace),)}


def test_without_a_file_nothing_is_known_and_nothing_is_written(tmp_path: Path) -> None:
    path = tmp_path / "home" / "kitchen.toml"
    file = read_kitchen(path)
    assert (file.kitchen.use, file.kitchen.habits()) == (True, ())
    learned(file, {(1, 1): ()})
    assert not path.exists()


def test_lessons_are_written_and_read_back_and_the_cooks_words_stay(tmp_path: Path) -> None:
    path = tmp_path / "kitchen.toml"
    path.write_text(OWN, encoding="utf-8")
    file = read_kitchen(path)
    for run in range(4):
        file = learned(file, lessons(run))
    ice = Lesson(run=9, began=9, appliance="thermometer", ice=Temperature(33, "F"))
    file = learned(file, {(9, 9): (ice,)})
    again = read_kitchen(path)
    assert again.kitchen == file.kitchen
    assert path.read_text(encoding="utf-8").startswith(OWN)
    habits = {habit.appliance: habit for habit in again.kitchen.habits()}
    assert habits["oven"].pace == pytest.approx(1.2 ** (4 / 6), abs=1e-4)
    assert habits["oven"].runs == 4
    assert (habits["grill"].pace, habits["grill"].runs) == (0.9, 0)


def test_a_run_learned_again_replaces_its_lesson(tmp_path: Path) -> None:
    file = read_kitchen(tmp_path / "kitchen.toml")
    file = learned(learned(file, lessons(1, 1.5)), lessons(1, 1.1))
    assert [lesson.pace for lesson in file.kitchen.lessons] == [1.1]
    before = file.path.stat().st_mtime_ns
    assert learned(file, lessons(1, 1.1)) is file
    assert file.path.stat().st_mtime_ns == before


def test_only_the_newest_lessons_of_an_appliance_are_kept(tmp_path: Path) -> None:
    every = {key: row for n in range(50) for key, row in lessons(n).items()}
    file = learned(read_kitchen(tmp_path / "kitchen.toml"), every)
    assert [lesson.run for lesson in file.kitchen.lessons] == list(range(10, 50))


def test_it_is_switched_off_and_on_and_forgets_one_appliance(tmp_path: Path) -> None:
    file = learned(read_kitchen(tmp_path / "kitchen.toml"), lessons(1))
    file = switched(file, use=False)
    assert not read_kitchen(file.path).kitchen.use
    assert "water boils earlier" in file.path.read_text(encoding="utf-8")
    file = forgotten(switched(file, use=True), "oven")
    assert read_kitchen(file.path).kitchen.lessons == file.kitchen.lessons == ()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("use = maybe", "kitchen.toml"),
        ('use = "yes"\nspeed = 3', "speed"),
        ('[[appliance]]\nname = "oven"\npace = 30', "pace"),
        ("a" * 1_000_001, "million"),
        ("[[lesson]]\nrun = 1", "lesson"),
        ('[[lesson]]\nrun = 1\nbegan = 1\nappliance = "oven"\npace = 1e9', "pace"),
    ],
)
def test_a_file_with_a_fault_says_where(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "kitchen.toml"
    path.write_text(text)
    with pytest.raises(KitchenError, match=says):
        read_kitchen(path)
    assert path.read_text() == text


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "kitchen.toml"
    path.write_bytes(b"use = true # \xff")
    with pytest.raises(KitchenError):
        read_kitchen(path)
