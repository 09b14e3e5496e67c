"""The head of an ingredient line: how much, of what."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.units import Amount


@pytest.mark.parametrize(
    ("text", "amount", "unit", "rest"),
    [
        ("300 g carrots, peeled", 300, "g", "carrots, peeled"),
        ("300g rice", 300, "g", "rice"),
        ("1 1/2 cups flour", Fraction(3, 2), "cup", "flour"),
        ("1½ cups milk", Fraction(3, 2), "cup", "milk"),
        ("1-1/2 cups milk", Fraction(3, 2), "cup", "milk"),
        ("2 tsp oil", 2, "tsp", "oil"),
        ("1 Tablespoon of oil", 1, "tbsp", "oil"),
        ("a pinch of salt", 1, "pinch", "salt"),
        ("half an onion", Fraction(1, 2), "", "onion"),
        ("a dozen eggs", 12, "", "eggs"),
        ("about 200 g beans", 200, "g", "beans"),
        ("1,5 kg pork", Fraction(3, 2), "kg", "pork"),
        ("4 fl oz cream", 4, "fl oz", "cream"),
        ("1 lb. beef", 1, "lb", "beef"),
        ("2 cloves garlic", 2, "clove", "garlic"),
        ("3 cloves", 3, "", "cloves"),
        ("2 grapes", 2, "", "grapes"),
        ("1 (400 g) tin tomatoes", 1, "", "(400 g) tin tomatoes"),
        ("1 lb 4 oz beef", Fraction(5, 4), "lb", "beef"),
        ("4 lb 5 1/2 oz beef", Fraction(139, 32), "lb", "beef"),
        ("1 cup 2 tbsp 1 1/2 tsp milk", Fraction(37, 32), "cup", "milk"),
        ("1 cup 2 tbsp 3 eggs", Fraction(9, 8), "cup", "3 eggs"),
        ("1 cup + 2 tbsp milk", Fraction(9, 8), "cup", "milk"),
        ("1 cup plus 2 tablespoons milk", Fraction(9, 8), "cup", "milk"),
        ("1 kg 200 g potatoes", Fraction(6, 5), "kg", "potatoes"),
        ("500 g 00 flour", 500, "g", "00 flour"),
        ("2 x 400 g tins tomatoes", 2, "", "x 400 g tins tomatoes"),
        ("1/2 lemon, zest and juice", Fraction(1, 2), "", "lemon, zest and juice"),
    ],
)
def test_an_amount_is_read(text: str, amount: Fraction, unit: str, rest: str) -> None:
    found = Amount.parse(text)
    assert (found.low, found.high, found.unit, found.rest) == (amount, amount, unit, rest)
    assert str(found) == text


@pytest.mark.parametrize("text", ["2-3 carrots", "2–3 carrots", "2 to 3 carrots", "2 or 3 carrots"])
def test_a_range_has_two_ends(text: str) -> None:
    found = Amount.parse(text)
    assert found == Amount(text, Fraction(2), Fraction(3), "", "carrots")


@pytest.mark.parametrize(
    "text",
    [
        "salt to taste",
        "15 mm batons of carrot",
        "1 1/2-inch piece ginger",
        "10% fat yoghurt",
        "1,000 g flour",
        "a little oil",
        "a few sprigs thyme",
        "1/0 cup oil",
        "3-2 carrots",
        "12:30",
        "00 flour, for dusting",
        "2nd carrot",
        "200 ml/7 fl oz milk",
        "1 lb 4 ml of what",
        "2-3 lb 4 oz of what",
        "",
    ],
)
def test_what_is_no_sure_amount_is_only_repeated(text: str) -> None:
    assert Amount.parse(text) == Amount(text, None, None, "", text)


def test_units_go_into_each_other_as_published() -> None:
    """NIST SP 430, Household Weights and Measures: teaspoons in each customary unit."""
    path = Path(__file__).parents[1] / "cases" / "kitchen_measures_nist.csv"
    lines = [line for line in path.read_text("utf-8").splitlines() if line[:1] != "#"]
    spoons = {row["unit"]: Fraction(row["us_customary_tsp"]) for row in csv.DictReader(lines)}
    whole = {unit: size for unit, size in spoons.items() if "/" not in unit and size > 1}
    assert len(whole) == 6
    for unit, size in whole.items():
        found = Amount.parse(f"{unit} 1 tsp of it")
        assert (found.low, found.rest) == (1 + 1 / size, "it"), unit
    for unit, size in spoons.items():
        read = Amount.parse(f"{unit} of it")
        assert read.low == size / spoons["1 " + unit.split(" ", 1)[1]]
        assert read.unit


@given(st.one_of(st.text(), st.text(alphabet="0123456789 /-–½.,gkgcuptsoafhl", max_size=30)))
def test_any_line_is_read_and_read_back(text: str) -> None:
    found = Amount.parse(text)
    assert Amount.parse(str(found)) == found
    assert (found.low is None) == (found.high is None)
    assert found.low is None or found.high is None or 0 <= found.low <= found.high
