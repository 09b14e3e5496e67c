"""What the plan alone shows a cook."""

from typing import Any

import pytest

from passbell.plan.findings import Finding, findings
from passbell.plan.layer import layers
from passbell.plan.model import Plan

ROAST = {"cook": "roast", "on": "oven", "time": "30 min"}
PLATE = {"finish": "onto the plates", "time": "1 min"}


def plan(*steps: dict[str, Any], **oven: Any) -> Plan:
    """A plan of one dish on one oven."""
    appliance = {"name": "oven", "stage": [{"name": "roast"}, {"name": "crisp"}]} | oven
    component = {"name": "carrots", "steps": list(steps) or [ROAST, PLATE]}
    return Plan.of({"title": "t", "serves": 1, "appliance": [appliance], "component": [component]})


def test_a_plan_in_order_shows_nothing() -> None:
    assert findings(plan()) == ()
    assert findings(plan({"finish": "on the table", "time": "1 min"}, stage=[])) == (
        Finding(
            "warning", None, "nothing is cooked on “oven”",
            "leave it out, or name it in a step's `on`",
        ),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("steps", "severity", "text", "mend"),
    [
        ([ROAST], "note", "no finish brings it to the plate", "add { finish"),
        (
            [ROAST, {"rest": "covered", "time": "5 min"}],
            "note", "no finish brings it to the plate", "add { finish",
        ),
        (
            [{"finish": "slice", "time": "1 min"}, ROAST, PLATE],
            "warning", "“slice” is a finish and comes before the heat", "write it as prep",
        ),
        (
            [ROAST, {"prep": "slice", "time": "1 min"}, PLATE],
            "warning", "“slice” is a prep and comes after the heat", "write it as finish",
        ),
        (
            [ROAST, PLATE | {"keep": "1 min"}],
            "note", "`keep` of the last step says nothing: no step comes after it", "`hold` says",
        ),
        (
            [ROAST | {"temp": "400 °C"}, PLATE],
            "note", "400 °C on oven is hotter than most kitchens get", "did you mean 400 °F?",
        ),
    ],
)  # fmt: skip
def test_what_a_component_shows(
    steps: list[dict[str, Any]], severity: str, text: str, mend: str
) -> None:
    (found,) = findings(plan(*steps))
    assert (found.severity, found.component, found.text) == (severity, "carrots", text)
    assert found.mend.startswith(mend)


def test_a_prep_between_two_heats_is_in_order() -> None:
    shake = {"prep": "drain and shake", "time": "2 min"}
    assert findings(plan(ROAST, shake, ROAST, PLATE)) == ()


def test_a_stage_that_takes_no_food_is_named() -> None:
    (found,) = findings(plan(ROAST | {"stage": "crisp"}, PLATE))
    assert found.text == "no food may be in oven during its stage “roast”"
    assert findings(plan(ROAST | {"stage": ["roast", "crisp"]}, PLATE)) == ()


def test_a_stage_hotter_than_a_kitchen_gets_is_named_in_its_other_unit() -> None:
    (found,) = findings(plan(stage=[{"name": "roast", "temp": "425 °C"}]))
    assert (found.component, found.mend) == (None, "did you mean 425 °F?")
    assert findings(plan(stage=[{"name": "roast", "temp": "550 °F"}])) == ()


def test_one_layer_is_a_matter_of_what_is_in_together() -> None:
    both = [{"name": name, "area": "30 x 20 cm", "steps": [ROAST, PLATE]} for name in ("a", "b")]
    meal = {"title": "t", "serves": 1, "component": both}
    meal["appliance"] = [{"name": "oven", "tray": "33 x 30 cm"}]  # 990 cm² for twice 600
    (found,) = layers(Plan.of(meal))
    assert found.severity == "warning"
    assert "1200 cm²" in found.text
    apart = {(0, 0): (0, 1800), (1, 0): (1800, 3600)}
    assert layers(Plan.of(meal), apart) == ()
