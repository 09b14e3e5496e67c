"""The same food in another mode: the model's ratio, every published rule by name, the choice."""

import csv
from importlib.resources import files

import pytest

from passbell.cook.engine import begin
from passbell.cook.other_mode import changed_mode, options, read_wish
from passbell.cook.sizes import TodayError
from passbell.plan.model import Plan
from passbell.planfiles import find_plan
from passbell.session.today import of_modes
from passbell.units import Temperature
from tests.cook.meals import step

BAKED = Plan.of(
    {
        "title": "Invented chops",
        "serves": 2,
        "appliance": [{"name": "oven", "stage": [
            {"name": "roast", "mode": "bake", "temp": "350 °F", "time": "28 min"}]}],
        "component": [
            {"name": "chops", "food": "pork_whole", "size": "1 in",
             "steps": [step("cook", "rack", "28 min", on="oven", until="145 °F", check="20 min")]},
            {"name": "beans", "food": "plant",
             "steps": [step("cook", "beside", "14 min", on="oven",
                            during=[{"at": "6 min", "do": "toss"}])]},
        ],
    }
)  # fmt: skip
TRAY = find_plan("tray-supper")


def by_key(plan: Plan, text: str) -> dict[str, tuple[float, list[str], int]]:
    return {
        o.key: (round(o.factor, 2), [str(t) for t in o.temps], round(o.time_s / 60))
        for o in options(plan, read_wish(plan, text))
    }


def test_every_published_rule_is_named_and_they_disagree() -> None:
    """A 350 °F, 28 min bake by the rules as they are printed (their sources stand in the data)."""
    found = by_key(BAKED, "chops=convection 325 F")
    text = (files("passbell.heat") / "data" / "convection_rules.csv").read_text("utf-8")
    printed = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    assert set(found) == {"model"} | {row["key"] for row in printed}
    assert found["textbook"] == (1.0, ["300 °F", "325 °F"], 28)
    assert found["article_both"] == (0.75, ["325 °F", "325 °F"], 21)
    assert found["makers"] == (0.75, ["350 °F", "350 °F"], 21)
    assert found["television"] == (1.0, ["325 °F", "325 °F"], 28)


@pytest.mark.parametrize(
    ("setting", "ratio"),
    [("convection 325 F", 0.78), ("convection 350 F", 0.71), ("air fry 325 F", 0.64)],
)
def test_the_model_has_the_ratios_of_a_second_calculation(setting: str, ratio: float) -> None:
    """A 1-inch chop, 350 °F bake = 1: 0.78, 0.71, 0.64 (no published source, from memory)."""
    assert by_key(BAKED, f"chops={setting}")["model"][0] == pytest.approx(ratio, abs=0.06)


def test_the_cook_chooses_and_all_food_in_the_oven_follows() -> None:
    today = changed_mode(BAKED, read_wish(BAKED, "chops=convection 325 F by article_both"))
    assert today.changes["component", 0, "steps", 0, "time"] == 21 * 60
    assert today.changes["component", 0, "steps", 0, "check"] == 15 * 60
    assert today.changes["component", 1, "steps", 0, "time"] == 10 * 60 + 30
    assert today.changes["appliance", 0, "stage", 0, "mode"] == "convection"
    assert today.changes["appliance", 0, "stage", 0, "temp"] == "325 °F"
    assert "article: cooler and shorter" in today.notes[0]
    assert "chops: 21 min instead of 28" in today.notes


def test_nothing_is_chosen_for_her() -> None:
    with pytest.raises(TodayError) as caught:
        changed_mode(BAKED, read_wish(BAKED, "chops=convection 325 F"))
    assert len(caught.value.choices) == 7
    with pytest.raises(TodayError, match="says nothing"):
        changed_mode(BAKED, read_wish(BAKED, "chops=convection 325 F by heart"))


def test_a_rule_is_not_used_at_a_heat_it_does_not_mean() -> None:
    with pytest.raises(TodayError, match=r"325 °F to 325 °F, not 400 °F"):
        changed_mode(BAKED, read_wish(BAKED, "chops=convection 400 F by article_both"))


def test_without_a_heat_it_is_the_rules_own() -> None:
    today = changed_mode(BAKED, read_wish(BAKED, "chops=fan by textbook"))
    assert today.changes["appliance", 0, "stage", 0, "temp"] == "325 °F"


def test_meat_in_a_cool_oven_is_told() -> None:
    """USDA FSIS: not to roast meat under 325 °F."""
    today = changed_mode(BAKED, read_wish(BAKED, "chops=convection 300 F by textbook"))
    assert any("325 °F" in note for note in today.notes)


def test_back_from_the_fan_a_rule_is_read_backwards() -> None:
    found = by_key(TRAY.plan, "chicken=bake 425 F")
    assert found["article_both"] == (1.33, ["425 °F", "425 °F"], 24)
    assert found["model"][0] > 1


@pytest.mark.parametrize("by", ["model", "makers"])
def test_the_plan_of_today_can_be_cooked_and_its_file_is_as_before(by: str) -> None:
    made, notes = of_modes(TRAY, [f"chicken=bake 400 F by {by}"])
    begin(made.plan)
    assert made.plan.appliances[0].stages[1].mode == "bake"
    assert made.plan.appliances[0].stages[1].temp == Temperature(400.0, "F")
    assert made.file == TRAY.file
    assert notes


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("chops", "no setting"),
        ("chops=warm 200 F", "no setting"),
        ("peas=bake 200 F by model", "no component"),
        ("chops=broil 500 F", "nothing is known"),
    ],
)
def test_what_cannot_be_understood_is_said(text: str, said: str) -> None:
    with pytest.raises(TodayError, match=said):
        options(BAKED, read_wish(BAKED, text))
