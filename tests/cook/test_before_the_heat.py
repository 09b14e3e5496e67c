"""Perishable food that is out of the fridge before its heat. Every meal here is invented.

Two hours, one over 90 °F / 32 °C: FSIS and FoodSafety.gov, as in the shipped table of handling.
"""

from typing import Any

import pytest

from passbell.cook.check import examine
from passbell.plan.findings import Finding
from passbell.plan.model import Plan
from tests.cook.meals import plan_of, step

ROAST = step("cook", "roast", "40 min", on="oven")
PLATE = step("finish", "onto the plates", "1 min")
SEASON = step("prep", "season", "5 min")


def meal(food: str, *steps: dict[str, Any]) -> Plan:
    """A meal of one component."""
    oven = [{"name": "oven"}] if any("cook" in s for s in steps) else []
    component = {"name": "dish", "food": food, "steps": [*steps, PLATE]}
    data = {"title": "Invented", "serves": 2, "appliance": oven, "component": [component]}
    return plan_of(data)


def outside(food: str, *steps: dict[str, Any]) -> list[Finding]:
    """What is found about being out of the fridge for long."""
    return [f for f in examine(meal(food, *steps)) if "out of the fridge" in f.text]


@pytest.mark.parametrize(
    ("length", "severity"),
    [
        ("59 min", None),
        ("1 h", "note"),
        ("104 min", "note"),
        ("105 min", "warning"),
        ("2 h", "error"),
    ],
)
def test_a_long_rest_before_the_heat_is_found_as_one_after_it(
    length: str, severity: str | None
) -> None:
    rest = step("rest", "bring to room temperature", length)
    found = outside("beef_lamb_whole", rest, ROAST)
    assert [f.severity for f in found] == ([severity] if severity else [])
    for finding in found:
        assert finding.component == "dish"
        wanted = "room over 90 °F (32 °C)" if severity == "note" else "2 h are the most"
        assert wanted in finding.text + finding.mend
    assert outside("plant", rest, ROAST) == []


def test_long_work_by_hand_counts_as_well() -> None:
    (found,) = outside("ground_red", step("prep", "season", "150 min"), ROAST)
    assert found.severity == "error"
    assert "out of the fridge for 2 h 30 min before it goes on the heat" in found.text
    assert "back into the fridge" in found.mend


def test_food_that_is_never_heated_is_counted_to_the_plate() -> None:
    (found,) = outside("fish", SEASON, step("rest", "stand", "4 h"))
    assert found.severity == "error"
    assert "for 4 h 6 min before it is on the plate" in found.text


def test_a_rest_in_the_fridge_is_not_counted_and_the_mend_says_how_to_say_so() -> None:
    (found,) = outside("poultry_pieces", SEASON, step("rest", "marinate", "3 h"), ROAST)
    assert "in the fridge, and add “in the fridge” to “marinate”" in found.mend
    for words in ("marinate, in the fridge", "chill", "in the freezer"):
        assert outside("poultry_pieces", SEASON, step("rest", words, "3 h"), ROAST) == []
    assert outside("fish", SEASON, step("rest", "in the fridge", "4 h")) == []
    assert outside("fish", SEASON, step("rest", "out of the fridge", "4 h")) != []


def test_what_it_was_outside_before_and_after_the_fridge_is_added_up() -> None:
    cold = step("rest", "in the fridge", "9 h")
    hour = step("prep", "trim", "1 h")
    (found,) = outside("pork_whole", hour, cold, step("prep", "cut", "1 h"), ROAST)
    assert found.severity == "error"
    assert "for 2 h before" in found.text
    assert outside("pork_whole", cold, step("prep", "cut", "50 min"), ROAST) == []


def test_work_that_ends_in_the_fridge_counts_while_hands_are_at_it() -> None:
    words = "salt, then leave in the fridge"
    assert outside("pork_whole", step("prep", words, "12 h", hands="5 min"), ROAST) == []
    (found,) = outside("pork_whole", step("prep", words, "12 h", hands="2 h"), ROAST)
    assert found.severity == "error"


def test_a_gap_in_which_the_cook_is_told_to_use_the_fridge_is_not_counted() -> None:
    busy = {
        "name": "sauce",
        "food": "plant",
        "steps": [step("cook", "stir", "3 h", on="pot", hands="3 h"), PLATE],
    }
    meat = {"name": "dish", "food": "poultry_pieces", "steps": [SEASON, ROAST, PLATE]}
    data = {"title": "Invented", "serves": 2, "component": [busy, meat]}
    found = examine(plan_of(data, appliance=[{"name": "oven"}, {"name": "pot"}]))
    assert any("into the fridge meanwhile" in f.text for f in found)
    assert not any("out of the fridge" in f.text for f in found)
