"""A changed size gives a range; the published tables lie in it."""

import math

import pytest

from passbell.heat.model import Piece
from passbell.heat.modes import model_time
from passbell.heat.thickness import OwnTime, thickness_range

INCH = 25.4

HOLD = [
    # inches, minutes at the first, at the second
    (1.0, 1.5, 10, 15, "ten minutes an inch, a rule for fish: common practice, no source"),
    (0.5, 1.0, 5, 10, "the same rule"),
    (1.0, 1.5, 8, 12, "chop, air fry 325 °F: common practice, no source"),
    (0.75, 1.5, 7, 14, "USDA FSIS, Fresh Pork from Farm to Table: broiled loin chop, middles"),
    (0.75, 1.0, 21.5, 30.5, "an industry board's chart: bone-in chop, bake 350 °F, middles"),
    (0.75, 1.0, 27, 35, "the same chart: boneless chop, middles, within the rounding of a minute"),
]


@pytest.mark.parametrize(("a", "b", "first", "second", "source"), HOLD)
def test_published_pairs_lie_in_the_band(
    a: float, b: float, first: float, second: float, source: str
) -> None:
    band = thickness_range(first * 60, a * INCH, b * INCH)
    assert band.earliest_s - 75 <= second * 60 <= band.latest_s, source


def test_half_an_inch_to_an_inch_is_flatter_than_the_band_in_one_chart() -> None:
    """16.5 and 30.5 min at 350 °F: exponent 0.89. The chart holds a dead time (a cold pan, a wet
    surface) that no power of the size has: a first look at the linear time is 2.5 min late."""
    band = thickness_range(16.5 * 60, 0.5 * INCH, INCH)
    assert band.earliest_s > 30.5 * 60
    assert band.earliest_s - 30.5 * 60 == pytest.approx(150, abs=5)


def test_the_band_is_linear_to_steep_and_expects_the_middle() -> None:
    band = thickness_range(480, 25.4, 38.1)
    assert (band.earliest_s, band.expected_s, band.latest_s) == (720, 781, 882)
    assert band.first_look_s == 720
    thinner = thickness_range(720, 38.1, 25.4)
    assert thinner.earliest_s == thinner.first_look_s < thinner.expected_s < thinner.latest_s == 480


def test_the_same_size_is_the_same_time() -> None:
    same = thickness_range(600, 30, 30)
    assert (same.earliest_s, same.expected_s, same.latest_s) == (600, 600, 600)


def test_her_own_time_for_a_size_wins_over_the_rule() -> None:
    """The rule says 847 s for 40 mm; she needed 690 and 720."""
    own = [OwnTime(40, 690, 3), OwnTime(40.5, 720, 5), OwnTime(20, 300, 6)]
    found = thickness_range(600, 30, 40, own)
    assert found.expected_s == round((690 + 720 * (40 / 40.5) ** 1.2) / 2)
    assert found.runs == (3, 5)
    assert found.first_look_s == found.earliest_s == round(0.9 * found.expected_s)
    apart = thickness_range(600, 30, 40, [OwnTime(40, 500, 3), OwnTime(40, 700, 5)])
    assert (apart.earliest_s, apart.expected_s, apart.latest_s) == (500, 600, 700)


def test_the_rule_starts_from_her_own_size_where_that_is_nearer() -> None:
    own = [OwnTime(40, 690, 3)]
    found = thickness_range(600, 30, 45, own)
    assert found.expected_s == round(690 * (45 / 40) ** 1.2)
    assert (found.earliest_s, found.latest_s) == (round(690 * 45 / 40), round(690 * 1.125**1.5))
    assert found.runs == (3,)
    assert thickness_range(600, 30, 25, own) == thickness_range(600, 30, 25)


def test_conduction_alone_is_steeper_than_the_tables() -> None:
    """Exponent 1.35 to 1.6 from 1 to 1.5 inch in an air fryer (no source: the theory of
    conduction has 2 without a film and 1 where the film is all)."""
    times = [
        model_time(Piece(0, x * INCH / 2, "pork_whole"), "air_fry", 162.8, 62.8) for x in (1, 1.5)
    ]
    assert times[0] is not None
    assert times[1] is not None
    assert 1.35 <= math.log(times[1] / times[0]) / math.log(1.5) <= 1.65
