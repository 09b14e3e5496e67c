"""A plan for other people as the screens and the commands ask for it."""

import pytest

from passbell.plan.dump import plan_text
from passbell.plan.read import read_plan
from passbell.planfiles import LoadedPlan
from passbell.session.servings import ServingsError, asked, for_people
from tests.cook.layered import meal

PLAN = meal({"beets": "20 x 20 cm", "leeks": "20 x 20 cm"}, stages=False)
LOADED = LoadedPlan(PLAN, "invented.toml", plan_text(PLAN))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [("4", (4, None)), (" for 6 ", (6, None)), ("4 way 1", (4, 1)), ("4, WAY 12", (4, 12))],
)
def test_answers(text: str, wanted: tuple[int, int | None]) -> None:
    assert asked(text) == wanted


@pytest.mark.parametrize("text", ["", "many", "4 way", "4.5", "-2", "99999", "4 x 2"])
def test_no_answers(text: str) -> None:
    with pytest.raises(ServingsError):
        asked(text)


def test_a_way_is_a_text_that_a_run_can_be_read_back_from() -> None:
    made = for_people(LOADED, 4)
    assert made.full
    assert made.told[1].startswith("way 1: ")
    taken = for_people(LOADED, 4, 1)
    assert taken.told == ()
    assert read_plan(taken.loaded.text, "x") == taken.loaded.plan
    assert taken.loaded.file == LOADED.file
    assert taken.loaded.plan.serves == 4
    with pytest.raises(ServingsError, match="no way out 3"):
        for_people(LOADED, 4, 3)


def test_without_a_way_out_it_says_so() -> None:
    made = for_people(LOADED, 12)
    assert "no way out was found" in made.told[-1]


def test_as_many_as_the_plan_says_changes_nothing() -> None:
    assert for_people(LOADED, None).loaded == LOADED
    assert for_people(LOADED, 2).loaded == LOADED
    with pytest.raises(ServingsError, match="1 to 1000"):
        for_people(LOADED, 0)
