"""The thermometer checks, against a reference library and published figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import iapws97

from passbell.safety.thermometer import (
    boiling_check,
    boiling_point,
    ice_check,
    parse_height,
    saturation_temperature,
    standard_pressure,
    trust,
)
from passbell.units import UnitError
from tests.safety.helpers import degrees

FOOT = 0.3048


@pytest.mark.parametrize(
    ("mpa", "kelvin"), [(0.1, 372.755919), (1.0, 453.035632), (10.0, 584.149488)]
)
def test_saturation_against_the_formulations_own_table(mpa: float, kelvin: float) -> None:
    """IAPWS R7-97(2012), table 36 (from memory)."""
    assert saturation_temperature(mpa) == pytest.approx(kelvin, abs=1e-6)


@given(st.floats(0.04, 0.11))
def test_saturation_against_iapws(mpa: float) -> None:
    assert saturation_temperature(mpa) == pytest.approx(iapws97._TSat_P(mpa), abs=1e-9)


@pytest.mark.parametrize(
    ("metres", "pascal"),
    [(0, 101325), (1000, 89875), (2000, 79495), (3000, 70109), (5000, 54020)],
)
def test_pressure_against_the_standard_atmosphere(metres: float, pascal: float) -> None:
    """ISO 2533:1975, table of pressures by geopotential height (from memory)."""
    assert standard_pressure(metres) == pytest.approx(pascal, abs=6)


@pytest.mark.parametrize(
    ("feet", "fahrenheit", "near"),
    [
        (0, 211.95, 0.05),  # 99.97 °C at 101325 Pa by IAPWS R7-97
        (5000, 202.8, 0.1),  # standard atmosphere and saturation, common table
        (10000, 193.7, 0.1),  # the same
        (2000, 208.0, 0.5),  # USDA FSIS, High altitude cooking; printed in whole degrees
        (7500, 198.0, 0.5),  # FoodSafety.gov; printed in whole degrees
    ],
)
def test_boiling_point_against_published_figures(
    feet: float, fahrenheit: float, near: float
) -> None:
    assert boiling_point(feet * FOOT) * 1.8 + 32 == pytest.approx(fahrenheit, abs=near)


@given(st.floats(-500, 6000), st.floats(-500, 6000))
def test_higher_boils_colder(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert boiling_point(high) <= boiling_point(low) + 1e-9


@pytest.mark.parametrize("metres", [-501.0, 6001.0, float("nan")])
def test_no_kitchen_there(metres: float) -> None:
    with pytest.raises(UnitError):
        boiling_point(metres)


@pytest.mark.parametrize(
    ("text", "metres"),
    [("1500 m", 1500), ("5,000 ft", 1524), ("5000ft", 1524), ("0 m", 0), ("-10 m", -10)],
)
def test_heights(text: str, metres: float) -> None:
    assert parse_height(text) == pytest.approx(metres)


@pytest.mark.parametrize("text", ["", "1500", "high", "1.5 km", "5000 °F"])
def test_heights_refused(text: str) -> None:
    with pytest.raises(UnitError, match="its unit"):
        parse_height(text)


@pytest.mark.parametrize(
    ("shown", "level", "says"),
    [
        ("32F", "fine", "true: fine"),
        ("34F", "fine", "2 °F high"),
        ("30F", "fine", "2 °F low"),
        ("34.1F", "adjust", "adjust or replace"),
        ("28F", "adjust", "4 °F low"),
        ("27.9F", "refuse", "no verdict"),
        ("0C", "fine", "true: fine"),
        ("1.1C", "adjust", "adjust or replace"),
        ("-2.1C", "refuse", "no verdict"),
    ],
)
def test_ice_water(shown: str, level: str, says: str) -> None:
    """±2 °F, ±1 °C: FDA Food Code 4-203.11; the limit for no verdict is ours."""
    check = ice_check(degrees(shown))
    assert check.trust == level == trust(degrees(shown))
    assert says in check.words


def test_boiling_water_at_a_height() -> None:
    check = boiling_check(degrees("203F"), 5000 * FOOT)
    assert (check.expected.value, check.trust) == (202.8, "fine")
    assert boiling_check(degrees("212F"), 5000 * FOOT).trust == "refuse"
    assert boiling_check(degrees("98C"), 0).trust == "adjust"


def test_height_changes_no_minimum() -> None:
    assert trust(None) == "fine"
