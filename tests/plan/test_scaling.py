"""A plan for another number of people: the factor method, and what stays as it was."""

import csv
import difflib
import tomllib
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passbell.plan.model import Plan
from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan
from passbell.plan.scaling import scaled
from passbell.planfiles import find_plan
from passbell.units import Amount, Area
from tests.export.meals import hostile

CASES = Path(__file__).parents[1] / "cases"


def supper(serves: int) -> tuple[Plan, str, tuple[str, ...]]:
    loaded = find_plan("tray-supper")
    found = scaled(loaded.plan, loaded.text, serves, loaded.file)
    return found.plan, found.text, found.notes


def test_amounts_areas_and_pieces_grow_and_times_do_not() -> None:
    # USDA Recipes for Schools, "Recipe Adjustment - Method 1 (Factor Method)":
    # factor = new yield / original yield, times each quantity.
    plan, text, _ = supper(6)
    old = find_plan("tray-supper").plan
    assert plan.serves == 6
    for before, after in zip(old.components, plan.components, strict=True):
        assert after.steps == before.steps
        assert after.size == before.size
        if before.area is not None:
            assert after.area is not None
            assert after.area.cm2 == pytest.approx(before.area.cm2 * 3, rel=1e-3)
        for one, three in zip(before.ingredients, after.ingredients, strict=True):
            low, grown = Amount.parse(one), Amount.parse(three)
            assert low.low is not None
            assert grown.low is not None
            same = low.unit == grown.unit
            assert not same or abs(grown.low - low.low * 3) <= Fraction(1, 4)
    assert plan.components[2].pieces == 6
    assert tomllib.loads(text)["serves"] == 6


def test_comments_order_and_spacing_stay() -> None:
    old = find_plan("tray-supper").text
    _, text, _ = supper(3)
    kept = [line for line in old.splitlines() if "#" in line]
    assert set(kept) <= set(text.splitlines())
    changed = [d for d in difflib.ndiff(old.splitlines(), text.splitlines()) if d[0] == "+"]
    assert len(changed) == 12


def test_scaling_there_and_back_is_the_plan_again() -> None:
    loaded = find_plan("tray-supper")
    six = scaled(loaded.plan, loaded.text, 6)
    two = scaled(six.plan, six.text, 2)
    pairs = zip(loaded.plan.components, two.plan.components, strict=True)
    for before, after in pairs:
        assert [Amount.parse(x).low for x in before.ingredients] == [
            Amount.parse(x).low for x in after.ingredients
        ]
    assert scaled(loaded.plan, loaded.text, 2).text == loaded.text


def test_what_cannot_be_scaled_and_more_pieces_are_told() -> None:
    _, _, notes = supper(3)
    assert any("3 pieces to probe instead of 2" in note for note in notes)
    assert any("1 piece to probe instead of 2" in note for note in supper(1)[2])
    assert any("one layer" in note for note in notes)
    text = 'title="t"\nserves=2\ningredients=["salt to taste"]\n[[component]]\nname="a"\n' \
        'food="pork_whole"\nsteps=[{finish="x",time="1 min"}]\n'  # fmt: skip
    found = scaled(read_plan(text, "x"), text, 5)
    assert any("salt to taste" in note for note in found.notes)
    assert any("one bigger piece" in note for note in found.notes)
    # 1 piece for 2 is 2.5 for 5: none is missed.
    assert found.plan.components[0].pieces == 3


@pytest.mark.parametrize("serves", [0, -1, 1001])
def test_there_are_bounds(serves: int) -> None:
    with pytest.raises(ValueError, match="1 to 1000"):
        supper(serves)


def test_a_line_that_grows_too_long_is_refused_with_its_line() -> None:
    line = "1 cup " + "x" * 393
    text = f'title="t"\nserves=3\ningredients=["{line}"]\n[[component]]\nname="a"\n' \
        'steps=[{finish="x",time="1 min"}]\n'  # fmt: skip
    with pytest.raises(PlanError):
        scaled(read_plan(text, "x"), text, 10)


@settings(max_examples=15)
@given(hostile, st.integers(1, 50))
def test_hostile_texts_scale(data: dict[str, object], serves: int) -> None:
    from passbell.plan.dump import plan_text

    plan = Plan.of(data)
    found = scaled(plan, plan_text(plan), serves)
    assert found.plan.serves == serves
    assert found.plan.title == plan.title


def test_areas_are_the_printed_ones() -> None:
    # Floor areas of common pans in square inches, computed and printed in a kitchen table.
    text = (CASES / "pan_area.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    for row in rows:
        if row["shape"] != "round":
            area = Area.parse(f"{row['length_in']} x {row['width_in']} in")
            assert area.cm2 / 2.54**2 == pytest.approx(float(row["area_sq_in"]))


@pytest.mark.parametrize("text", ["20 x 15 cm", "20 cm x 150 mm", "7 1/2 × 6 in", "9x13 in"])
def test_an_area_grows_and_is_never_rounded_down(text: str) -> None:
    area = Area.parse(text)
    for factor in (Fraction(1, 3), Fraction(3, 2), Fraction(7)):
        grown = area.times(factor)
        assert area.cm2 * float(factor) <= grown.cm2 * (1 + 1e-9)
        assert grown.cm2 == pytest.approx(area.cm2 * float(factor), rel=2e-3)
