"""From a plan's component and its stages to a piece and what it met. The plans are invented."""

from typing import Any

import pytest

from passbell.heat import Asked, Exposure, NoForecast, Run, Times, asked, met, piece_of
from passbell.plan.model import Plan

STAGES = [
    {"name": "roast", "mode": "convection roast", "temp": "400 °F", "time": "16 min"},
    {"name": "crisp", "mode": "air fry", "temp": "375 °F", "time": "14 min"},
]
COOK = {"cook": "skin up", "on": "oven", "time": "14 min", "until": "75 °C"}


def plan_of(**dish: Any) -> Plan:
    stages = dish.pop("stages", STAGES)
    component = {
        "name": "chicken", "food": "poultry_pieces", "size": "30 mm", "steps": [COOK], **dish,
    }  # fmt: skip
    oven = {"name": "oven", "stage": stages}
    return Plan.of({"title": "x", "serves": 2, "appliance": [oven], "component": [component]})


def exposure_of(plan: Plan, starts: list[int], ends: list[int], bounds: list[int]) -> Exposure:
    last = len(starts) - 1
    found = met(plan, plan.components[0], last, Times(starts, ends, [Run(bounds)]))
    assert isinstance(found, Exposure)
    return found


def test_the_piece_is_as_written() -> None:
    found = asked(plan_of(shape="cylinder").components[0])
    assert isinstance(found, Asked)
    assert found.piece.shape == 1.0
    assert found.piece.half_mm == pytest.approx(15)
    assert found.piece.food_key == "poultry_pieces"
    assert found.piece.start_c == 4.0
    assert found.until.celsius == 75


def test_vegetables_are_known_by_name_and_come_from_the_counter() -> None:
    dish = plan_of(name="spuds", food="plant", ingredients=["500 g potatoes"]).components[0]
    piece = piece_of(dish, 25.0)
    assert (piece.food_key, piece.start_c, piece.half_mm) == ("potato", 20.0, 12.5)


NONE = [
    ({"size": None}, "no_size"),
    ({"steps": [{"cook": "x", "on": "oven", "time": "14 min"}]}, "no_until"),
    ({"name": "chicken, bone-in"}, "bones"),
    ({"food": ["poultry_pieces", "stuffing"]}, "stuffing"),
    ({"ingredients": ["4 frozen thighs"]}, "frozen"),
    ({"steps": [{**COOK, "during": [{"at": "halfway", "do": "take the foil off"}]}]}, "foil"),
]


@pytest.mark.parametrize(("change", "reason"), NONE)
def test_no_forecast_has_its_reason(change: dict[str, Any], reason: str) -> None:
    found = asked(plan_of(**change).components[0])
    assert isinstance(found, NoForecast)
    assert found.reason == reason


def test_food_under_foil_only_while_it_rests_is_in_scope() -> None:
    steps = [COOK, {"rest": "under foil", "time": "5 min"}]
    assert isinstance(asked(plan_of(steps=steps).components[0]), Asked)


def test_food_that_goes_in_before_the_switch_meets_both_stages() -> None:
    found = exposure_of(plan_of(), [660], [1500], [0, 960, 1800])
    first, second = found.segments
    assert (first.at_s, first.mode) == (0, "convection")
    assert first.air_c == pytest.approx(204.4, abs=0.1)
    assert (second.at_s, second.mode) == (300, "air_fry")
    assert second.air_c == pytest.approx(190.6, abs=0.1)


def test_food_that_goes_in_at_the_switch_meets_the_second_alone() -> None:
    found = exposure_of(plan_of(), [960], [1800], [0, 960, 1800])
    assert [(s.at_s, s.mode) for s in found.segments] == [(0, "air_fry")]


def test_a_stage_after_it_came_out_does_not_count() -> None:
    found = exposure_of(plan_of(), [0], [900], [0, 960, 1800])
    assert [s.mode for s in found.segments] == ["convection"]


def test_between_two_cook_steps_it_lies_in_the_room() -> None:
    first = {"cook": "first", "on": "oven", "time": "5 min", "keep": "10 min"}
    found = exposure_of(plan_of(steps=[first, COOK]), [0, 420], [300, 1260], [0, 960, 1800])
    assert [(s.at_s, s.mode) for s in found.segments] == [
        (0, "convection"), (300, "rest"), (420, "convection"), (960, "air_fry"),
    ]  # fmt: skip


def test_a_broil_stage_or_no_temperature_is_no_forecast() -> None:
    dish = plan_of(stages=[{"name": "top", "mode": "broil", "temp": "500 °F"}])
    told = met(dish, dish.components[0], 0, Times([0], [840], [Run([0, 840])]))
    assert isinstance(told, NoForecast)
    assert told.reason == "one_sided"
    plain = plan_of(stages=[])
    told = met(plain, plain.components[0], 0, Times([0], [840], [Run([0, 840])]))
    assert isinstance(told, NoForecast)
    assert told.reason == "no_air"


def test_an_oven_without_stages_has_what_the_step_asks() -> None:
    plan = plan_of(stages=[], steps=[{**COOK, "temp": "180 °C", "mode": "fan"}])
    found = exposure_of(plan, [100], [940], [100, 940])
    assert [(s.at_s, s.air_c, s.mode) for s in found.segments] == [(0, 180.0, "convection")]
