"""The same food in another mode: the model's ratio, and the published rules by name."""

import pytest

from passbell.heat.model import ModeKey, Piece
from passbell.heat.modes import converted, mode_ratio, model_time, rules
from passbell.units import Temperature

CHOP = Piece(0.0, 12.7, "pork_whole", 4.0)
BAKE: tuple[ModeKey, float] = ("bake", 176.7)

RATIOS: list[tuple[ModeKey, float, float]] = [
    # 1-inch chop to 145 °F, bake at 350 °F = 1. No published source: a second calculation with
    # the same physics, from memory.
    ("convection", 162.8, 0.78),
    ("convection", 176.7, 0.71),
    ("air_fry", 162.8, 0.64),
    ("bake", 204.4, 0.83),
    ("convection", 204.4, 0.62),
    ("air_fry", 204.4, 0.52),
]


@pytest.mark.parametrize(("mode", "air", "ratio"), RATIOS)
def test_ratios_of_the_model(mode: ModeKey, air: float, ratio: float) -> None:
    assert mode_ratio(CHOP, BAKE, (mode, air), 62.8) == pytest.approx(ratio, abs=0.01)


def test_the_published_rules_conflict_and_each_is_named() -> None:
    made = {rule.key: converted(rule, Temperature(350, "F"), 2400) for rule in rules()}
    assert {key: (m.temps[0].value, m.temps[1].value, m.time_s) for key, m in made.items()} == {
        "textbook": (300, 325, 2400),
        "article_both": (325, 325, 1800),
        "article_long": (325, 325, 1800),
        "television": (325, 325, 2400),
        "time_plans": (315, 315, 2400),
        "makers": (350, 350, 1800),
    }
    assert len({rule.name for rule in rules()}) == len(rules()) == 6
    assert all(rule.source and rule.applies_to for rule in rules())


def test_a_rule_printed_in_the_other_unit_says_so() -> None:
    made = {rule.key: converted(rule, Temperature(180, "C"), 2400) for rule in rules()}
    assert made["time_plans"].temps == (Temperature(160, "C"), Temperature(160, "C"))
    assert not made["time_plans"].other_unit
    assert not made["textbook"].other_unit
    assert made["textbook"].temps == (Temperature(150, "C"), Temperature(165, "C"))
    assert made["television"].other_unit
    assert made["television"].temps[0] == Temperature(165, "C")


def test_the_rule_for_long_times_leaves_short_ones_alone() -> None:
    rule = next(rule for rule in rules() if rule.key == "article_long")
    assert converted(rule, Temperature(400, "F"), 900).time_s == 900
    assert converted(rule, Temperature(400, "F"), 1200).time_s == 900
    assert converted(rule, Temperature(400, "F"), 1200).check_s == 300


def test_physics_does_not_make_25_degrees_fahrenheit_an_equal_of_the_fan() -> None:
    """At 25 °F lower the fan still shortens a chop: no rule of the table is the model's."""
    ratio = mode_ratio(CHOP, BAKE, ("convection", 162.8), 62.8)
    assert ratio is not None
    assert ratio < 0.85


def test_a_temperature_never_reached_has_no_time() -> None:
    assert model_time(CHOP, "bake", 80.0, 90.0) is None
    assert mode_ratio(CHOP, BAKE, ("bake", 80.0), 90.0) is None
