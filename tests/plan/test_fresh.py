"""A new plan as text: it reads back as what was answered, whatever was typed."""

import pytest
import tomlkit

from passbell.cook.check import examine
from passbell.plan.fresh import (
    FreshAppliance,
    FreshDish,
    FreshPlan,
    FreshStep,
    file_name,
    fresh_text,
    read_appliance,
    read_dish,
)
from passbell.plan.read import read_plan
from passbell.units import ClockTime, Duration, Temperature, UnitError, clean_text

THIGHS = "chicken thighs (poultry_pieces): prep 4 min, oven 35 min until 75 °C, rest 5 min"
MEAL = FreshPlan(
    "Thighs and peas",
    2,
    (read_dish(THIGHS), read_dish("peas: front burner 4 min, finish 2 min")),
    ClockTime.parse("18:45"),
    (read_appliance("oven: preheat 10 min, 200 °C, fan"), read_appliance("grill: preheat 5 min")),
)


def test_a_dish_in_one_line() -> None:
    dish = read_dish(THIGHS)
    assert (dish.name, dish.food) == ("chicken thighs", "poultry_pieces")
    assert [(s.kind, s.on, int(s.time)) for s in dish.steps] == [
        ("prep", None, 240), ("cook", "oven", 2100), ("rest", None, 300), ("finish", None, 60),
    ]  # fmt: skip
    assert dish.steps[1].until == Temperature(75, "C")
    assert read_dish("soup: back burner 1 h 20 min").steps[0].on == "back burner"


def test_an_appliance_in_one_line() -> None:
    assert read_appliance("oven: 400F, preheat 12 min, air fry") == FreshAppliance(
        "oven", Duration(720), Temperature(400, "F"), "air fry"
    )
    assert read_appliance("burner") == FreshAppliance("burner")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("", "no dish"),
        ("peas", "no dish"),
        (": oven 3 min", "no dish"),
        ("peas: boil", "no step"),
        ("peas: burner 4", "no unit"),
        ("peas: burner 4:00", "minutes or hours"),
        ("peas: prep 4 min until 75 °C", "only food on the heat"),
        ("peas: burner 4 min until hot", "not a temperature"),
        ("peas: burner 80 h", "longer than 72 h"),
    ],
)
def test_a_dish_that_is_not_understood_says_how_to_write_it(line: str, says: str) -> None:
    with pytest.raises(UnitError, match=says) as caught:
        read_dish(line)
    assert caught.value.mend


def test_the_text_passes_check_is_toml_1_0_and_explains_itself() -> None:
    text = fresh_text(MEAL)
    plan = read_plan(text, "new.toml")
    assert tomlkit.parse(text).unwrap()["title"] == "Thighs and peas"
    assert [f for f in examine(plan) if f.severity != "note"] == []
    assert [a.name for a in plan.appliances] == ["oven", "front burner"], "what is unused stays out"
    assert (plan.serves, str(plan.serve_at)) == (2, "18:45")
    assert plan.appliances[0].stages[0].mode == "fan"
    assert text.count("#") >= 6


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Thighs, peas & Crème brûlée!", "thighs-peas-creme-brulee.toml"),
        ("../../etc/passwd", "etc-passwd.toml"),
        ("晚饭", "plan.toml"),
        ("x" * 300, "x" * 60 + ".toml"),
    ],
)
def test_the_file_is_named_by_the_title_and_stays_in_its_folder(title: str, name: str) -> None:
    assert file_name(title) == name


HOSTILE = [
    'a "quoted" \\ back\\slash',
    "]\n[[component]]\nname = 3",
    "# not a comment } ] ''' \"\"\"",
    "\x1b[31mred\x07 \u202eright to left",
    "  spaces\ttabs  ",
    "=" * 500,
    "日本 🍲 שלום é",
    "true",
]


@pytest.mark.parametrize("odd", HOSTILE)
def test_whatever_the_names_are_it_reads_back(odd: str) -> None:
    steps = (
        FreshStep("prep", odd, Duration(60), guessed=True),
        FreshStep("cook", odd, Duration(600), clean_text(odd)),
    )
    fresh = FreshPlan(
        odd, 3, (FreshDish(clean_text(odd), steps, None, (odd,), (odd,)),),
        ingredients=(odd,), notes=odd, adapted_from=odd, open=(odd, odd),
    )  # fmt: skip
    plan = read_plan(fresh_text(fresh), "new.toml")
    assert plan.title == clean_text(odd)
    assert plan.components[0].name == clean_text(odd)
    assert plan.components[0].steps[1].on == plan.appliances[0].name
    assert plan.ingredients == (clean_text(odd),)
