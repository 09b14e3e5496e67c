"""The head of an ingredient line: how much, of what."""

from fractions import Fraction

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
        "",
    ],
)
def test_what_is_no_sure_amount_is_only_repeated(text: str) -> None:
    assert Amount.parse(text) == Amount(text, None, None, "", text)


@given(st.one_of(st.text(), st.text(alphabet="0123456789 /-–½.,gkgcuptsoafhl", max_size=30)))
def test_any_line_is_read_and_read_back(text: str) -> None:
    found = Amount.parse(text)
    assert Amount.parse(str(found)) == found
    assert (found.low is None) == (found.high is None)
    assert found.low is None or found.high is None or 0 <= found.low <= found.high
