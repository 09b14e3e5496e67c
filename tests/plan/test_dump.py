"""A plan written as text is the same plan when it is read; tomllib agrees on what it says."""

import tomllib

import pytest
from hypothesis import given, settings

from passbell.plan.dump import plan_text
from passbell.plan.model import Plan
from passbell.plan.read import read_plan
from passbell.planfiles import find_plan
from tests.export.meals import hostile


@pytest.mark.parametrize("name", ["tray-supper", "sunday-roast", "meatless-supper"])
def test_the_bundled_plans_come_back(name: str) -> None:
    plan = find_plan(name).plan
    assert read_plan(plan_text(plan, ["a comment"]), "x") == plan


@settings(max_examples=25)
@given(hostile)
def test_hostile_texts_come_back(data: dict[str, object]) -> None:
    plan = Plan.of(data)
    text = plan_text(plan, ["hostile\n[[component]]"])
    assert read_plan(text, "x") == plan
    assert tomllib.loads(text)["title"] == plan.title


def test_every_key_comes_back() -> None:
    step = {"cook": "x", "time": "90 s", "on": "pan", "temp": "180 °C", "mode": "fry",
            "stage": ["a", "b"], "hands": "10 s", "keep": "1 h", "until": "70 °C", "check": "0 min",
            "during": [{"at": "halfway", "do": "turn"}, {"at": "20 s", "do": "stir"}]}  # fmt: skip
    data = {
        "title": "t", "serves": 3, "serve_at": "18:45", "hands": 2, "slack": "1 min",
        "chart": "strictest", "ingredients": ["1 x"], "call": "0 min", "notes": "a\n\nb",
        "adapted_from": "c",
        "appliance": [{"name": "pan", "preheat": "1 min", "holds": 2, "tray": "8 x 9 in",
                       "door": "stops", "stage": [
                           {"name": "a", "mode": "fry", "temp": "180 °C", "time": "1 min",
                            "spare": "2 min"}, {"name": "b"}]}],
        "component": [{"name": "c", "food": ["plant", "egg_dish"], "area": "1 x 2 cm",
                       "shares": "s", "size": "1 1/2 in", "shape": "sphere", "pieces": 2,
                       "place": "p", "hold": "0 min", "doneness": "d", "ingredients": ["2 y"],
                       "steps": [{"prep": "p", "time": "1 min"}, step]}],
    }  # fmt: skip
    plan = Plan.of(data)
    assert read_plan(plan_text(plan), "x") == plan
