"""Scaling and rounding of amounts, against the printed tables of NIST and the armed services."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passbell.units import Amount, other_system, scaled_line, spelled
from passbell.units.measure import GRAMS_AN_OUNCE, ML_A_TSP, kitchen_ml, measure, quarters
from passbell.units.number import number

CASES = Path(__file__).parents[1] / "cases"


def rows(name: str) -> list[dict[str, str]]:
    """A table whose first lines say where it was published."""
    text = (CASES / f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


NIST = rows("kitchen_measures_nist")
QUART = 192


def test_ounces_are_rounded_to_quarters_by_the_armed_services_scale() -> None:
    # US Department of Defense, "Information for Standardized Recipes", A. General Information
    # No. 1(2): the scale for the decimal part of an ounce.
    for row in rows("rounding_ounces_dod"):
        low, high = round(float(row["from"]) * 100), round(float(row["to"]) * 100)
        for hundredths in range(low, high + 1):
            assert quarters(Fraction(hundredths, 100)) == Fraction(row["rounds_to"])


def test_the_worked_examples_of_the_armed_services_come_out() -> None:
    found = {r["given"]: r for r in rows("scaling_worked_examples")}
    # DOD, the same page: 1.25 lb for 348 portions from 100 is 4.35 lb, 4 lb 5 1/2 oz.
    dod = found["1.25 lb x 3.48"]
    assert Fraction("1.25") * Fraction(348, 100) == Fraction(dod["result"].split()[0])
    assert scaled_line("1.25 lb beef", Fraction(348, 100)) == f"{dod['rounded_result']} beef"
    # US Navy food-service training text, "Volume Adjustment": 6 gal x 3.33.
    navy = found["6 gal x 3.33"]
    assert Fraction(6) * Fraction("3.33") == Fraction(navy["result"].split()[0])
    wanted: dict[str, int | Fraction] = {
        "gal": 19,
        "qt": 3,
        "pt": 1,
        "c": 1,
        "tbsp": 10,
        "tsp": Fraction(11, 4),
    }
    assert navy["rounded_result"] == "19 gal 3 qt 1 pt 1 c 10 tbsp 2 3/4 tsp"
    said = measure(Fraction("19.98"), "gallon")
    assert said == "19 gallons 3 quarts 1 pint 1 cup 10 tbsp 2 3/4 tsp"
    sizes = {"gal": 768, "qt": 192, "pt": 96, "c": 48, "tbsp": 3, "tsp": 1}
    total = sum(sizes[unit] * count for unit, count in wanted.items())
    assert abs(total - Fraction("19.98") * 768) <= Fraction(1, 8)
    # NAVY, the same text: 2 lb x 2.61 is 5.22 lb.
    assert Fraction(2) * Fraction("2.61") == Fraction(found["2 lb x 2.61"]["result"].split()[0])


@pytest.mark.parametrize("row", [r for r in NIST if Fraction(r["us_customary_tsp"]) <= QUART])
def test_metric_of_kitchen_measures_is_the_printed_one(row: dict[str, str]) -> None:
    # NIST, "Cooking Measurement Equivalencies"; the exact column: NIST SP 430.
    teaspoons = Fraction(row["us_customary_tsp"])
    assert kitchen_ml(teaspoons) == Fraction(row["ml_nist_kitchen"])
    assert float(teaspoons * ML_A_TSP) == pytest.approx(float(row["ml_exact"]), abs=0.0006)


def test_a_gallon_is_exact_where_the_table_is_not() -> None:
    # The table prints 3840 ml, which is 1.5 % more than 231 cubic inches.
    assert kitchen_ml(Fraction(768)) == 3790
    assert float(768 * ML_A_TSP) == pytest.approx(231 * 2.54**3, abs=1e-9)


def test_grams_of_an_ounce_agree_with_the_printed_ones() -> None:
    ounces: dict[str, int | Fraction] = {
        "1 ounce": 1,
        "1/4 pound": 4,
        "1 pound": 16,
        "2.2 pounds": Fraction("35.2"),
    }
    for row in rows("mass_measures_nist"):
        exact = float(ounces[row["unit"]] * GRAMS_AN_OUNCE)
        assert exact == pytest.approx(float(row["g_nist_kitchen"]), rel=0.013)


@pytest.mark.parametrize(
    ("line", "factor", "wanted"),
    [
        ("2 tbsp oil", "2", "1/4 cup oil"),
        ("1/3 cup milk", "2", "2/3 cup milk"),
        ("1/3 cup milk", "3", "1 cup milk"),
        ("3/4 cup milk", "3/2", "1 cup 2 tbsp milk"),
        ("1 cup milk", "1/3", "1/3 cup milk"),
        ("1 tbsp oil", "3/2", "1 tbsp 1 1/2 tsp oil"),
        ("1 tsp salt", "1/3", "1/4 tsp salt"),
        ("1/4 tsp pepper", "1/2", "1/8 tsp pepper"),
        ("1/4 tsp pepper", "1/4", "a pinch of pepper"),
        ("350 g potatoes, in wedges", "3/2", "525 g potatoes, in wedges"),
        ("900 g flour", "2", "1.8 kg flour"),
        ("1 l stock", "1/2", "500 ml stock"),
        ("2 dl cream", "2", "400 ml cream"),
        ("2 thighs, about 150 g each", "2", "4 thighs, about 150 g each"),
        ("1/2 lemon, juice", "3", "1 1/2 lemons, juice"),
        ("2 chicken thighs, bone in", "1/2", "1 chicken thigh, bone in"),
        ("2 chicken thighs or breasts", "1/2", "1 chicken thigh or breast"),
        ("1 small courgette", "101/100", "1 small courgette"),
        ("1 to 2 lemons", "1/2", "1/2 to 1 lemon"),
        ("1 bay leaf", "2", "2 bay leaves"),
        ("2 Möhren", "1/2", "1 Möhren"),
        ("2 boxes eggs", "1/2", "1 boxes eggs"),
        ("2 dozen eggs", "1/2", "1 dozen eggs"),
        ("1 pot basil leaves", "1/2", "1/2 pot basil leaves"),
        ("1 pumpkin seed", "2", "2 pumpkin seed"),
        ("2 ripe tomatoes halved", "1/2", "1 ripe tomato halved"),
        ("2 chillies", "1/2", "1 chilli"),
        ("1 pinch salt", "2", "2 pinches salt"),
        ("2-3 carrots", "2", "4 to 6 carrots"),
        ("about 200 g beans", "2", "about 400 g beans"),
        ("1 (400 g) tin tomatoes", "2", "2 (400 g) tin tomatoes"),
        ("1 clove garlic", "2", "2 cloves garlic"),
        ("2 pinches salt", "1/2", "1 pinch salt"),
        ("1 lb beef", "1/2", "8 oz beef"),
    ],
)
def test_a_line_is_scaled(line: str, factor: str, wanted: str) -> None:
    assert scaled_line(line, Fraction(factor)) == wanted


def test_a_line_without_an_amount_is_not_scaled() -> None:
    assert scaled_line("salt to taste", Fraction(2)) is None
    assert scaled_line("15 mm batons of carrot", Fraction(2)) is None


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("2 tbsp oil", "30 ml"),
        ("1/2 tsp salt", "2.5 ml"),
        ("1 quart stock", "950 ml"),
        ("300 g carrots", "10 1/2 oz"),
        ("1 kg potatoes", "2 lb 3 1/4 oz"),
        ("1 lb beef", "454 g"),
        ("100 ml cream", "3 1/2 fl oz"),
        ("30 ml oil", "2 tbsp"),
        ("5 ml oil", "1 tsp"),
        ("2 eggs", ""),
        ("1 pinch salt", ""),
        ("salt to taste", ""),
        ("2-3 cups stock", "480 ml to 720 ml"),
    ],
)
def test_the_other_system(line: str, wanted: str) -> None:
    assert other_system(Amount.parse(line)) == wanted


FACTORS = st.fractions(min_value=Fraction(1, 20), max_value=20, max_denominator=50)
UNITS = ("tsp", "tbsp", "cup", "pint", "quart", "gallon", "fl oz", "lb", "oz", "g", "kg", "ml", "l")


def size(text: str) -> Fraction:
    """What a measure says, in its smallest unit; read by the amounts' own sizes."""
    sizes = {"tsp": 1, "tbsp": 3, "cup": 48, "pint": 96, "quart": 192, "gallon": 768}
    sizes |= {"oz": 1, "lb": 16, "g": 1, "kg": 1000, "ml": 1, "l": 1000}
    words, total, value = text.split(), Fraction(0), Fraction(0)
    for word in words:
        unit = sizes.get(word.removesuffix("s") if word != "s" else word)
        if unit is None:
            value += number(word) or Fraction(0)
        else:
            total, value = total + value * unit, Fraction(0)
    return total


@settings(max_examples=60)
@given(st.sampled_from(UNITS), FACTORS, st.fractions(Fraction(1, 4), 30, max_denominator=8))
def test_rounding_is_once_and_small(unit: str, factor: Fraction, value: Fraction) -> None:
    exact = value * factor
    said = measure(exact, unit)
    if said in ("a pinch", "a little"):
        return
    whole = {"fl oz": 6, "tsp": 1, "tbsp": 3, "cup": 48, "pint": 96, "quart": 192, "gallon": 768}
    whole |= {"lb": 16, "oz": 1, "g": 1, "ml": 1, "kg": 1000, "l": 1000}
    true = exact * whole[unit]
    most = Fraction(5) if true >= 1000 else Fraction(1, 2) if unit in ("g", "kg", "ml", "l") else (
        Fraction(1, 8))  # fmt: skip
    assert abs(size(said) - true) <= most


@settings(max_examples=40)
@given(FACTORS, st.text(max_size=30))
def test_any_line_scales_or_stays(factor: Fraction, line: str) -> None:
    found = scaled_line(line, factor)
    assert found is None or (found and "\n" not in found)


def test_a_range_keeps_both_ends() -> None:
    assert spelled(Amount.parse("1 or 2 cups rice"), Fraction(1, 2)) == "1/2 cup to 1 cup"
