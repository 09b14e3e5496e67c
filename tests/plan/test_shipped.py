"""The plans that ship: sound, complete, and cooked in times that published charts bear out."""

import csv
from pathlib import Path

import pytest

from passbell.cook.engine import begin
from passbell.plan.model import Plan
from passbell.plan.read import read_plan
from passbell.units import Amount

ROOT = Path(__file__).parents[2]
FILES = sorted((ROOT / "plans").glob("*.toml"))


def plan_of(file: Path) -> Plan:
    return read_plan(file.read_text("utf-8"), file.name)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_it_can_be_cooked_with_nothing_waiting_too_long(file: Path) -> None:
    schedule = begin(plan_of(file)).state.schedule
    assert schedule.proven
    assert schedule.over_hold == 0
    assert 45 * 60 <= schedule.dish_up - schedule.start <= 150 * 60


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_it_says_all_that_a_cook_asks(file: Path) -> None:
    plan = plan_of(file)
    assert 60 <= plan.slack <= 180
    assert any(step.check is not None or step.until for c in plan.components for step in c.steps)
    assert any(step.during for c in plan.components for step in c.steps)
    for component in plan.components:
        assert component.ingredients
        assert all(Amount.parse(line).low is not None for line in component.ingredients[:1])
        assert component.steps[-1].kind == "finish"
        assert component.last_cook is None or component.doneness


def test_the_chicken_is_done_by_the_probe_above_the_printed_minimum() -> None:
    """FoodSafety.gov and USDA FSIS print 165 °F / 74 °C for poultry."""
    chicken = plan_of(ROOT / "plans" / "tray-supper.toml").components[2]
    until = [step.until for step in chicken.steps if step.until]
    assert chicken.food == ("poultry_pieces",)
    assert all(found.scale == "C" and found.value >= 74 for found in until)
    assert until


def _rows(name: str) -> list[dict[str, str]]:
    text = (ROOT / "tests" / "cases" / name).read_text("utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def test_the_pork_takes_the_minutes_a_pound_that_the_published_chart_prints() -> None:
    """USDA FSIS, "Fresh Pork from Farm to Table": loin roast at 350 °F, 20 to 30 min a pound."""
    row = next(r for r in _rows("pork_by_thickness_usda.csv") if r["cut"].startswith("loin roast"))
    pork = plan_of(ROOT / "plans" / "sunday-roast.toml").components[0]
    weight = Amount.parse(pork.ingredients[0])
    assert weight.low is not None
    assert weight.unit == "kg"
    pounds = float(weight.low) / 0.45359237  # exactly: NIST SP 811, appendix B
    roast = next(step for step in pork.steps if step.until)
    low, high = float(row["min_low"]), float(row["min_high"])
    assert low <= roast.time / 60 / pounds <= high
    assert roast.until is not None
    assert roast.until.celsius >= 63  # the same chart: 145 °F / 63 °C
    assert sum(step.time for step in pork.steps if step.kind == "rest") >= 180  # and 3 min of rest
    oven = plan_of(ROOT / "plans" / "sunday-roast.toml").appliances[0].stages[0].temp
    assert oven is not None
    assert oven.fahrenheit == pytest.approx(float(row["oven_f"]), abs=5)
