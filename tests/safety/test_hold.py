"""Rows of pairs: the hold, its seconds, and the second reading (FSA 'Prove it': 70 °C 2 min,
75 °C 30 s, 80 °C 6 s)."""

import pytest

from passbell.safety import Setup
from tests.safety.helpers import ON_BOARD, verdict

TWO = Setup(pieces=2, removed_at=0)


def _uk(text: str, setup: Setup = ON_BOARD, food: str = "general") -> tuple[str, int | None]:
    found = verdict(food, text, "uk", setup)
    return found.verdict, found.hold_s


@pytest.mark.parametrize(
    ("shown", "seconds"),
    [("70C", 120), ("74.9C", 120), ("75C", 30), ("79.9C", 30), ("80C", 6), ("99C", 6)],
)
def test_the_hottest_pair_not_above_the_reading(shown: str, seconds: int) -> None:
    assert _uk(shown) == ("hold", seconds)


def test_no_interpolation_and_nothing_under_the_coldest_pair() -> None:
    assert _uk("69.9C 69.9C@60min") == ("below", None)


def test_minced_meat_has_no_pair_at_eighty() -> None:
    assert _uk("85C", food="ground_red") == ("hold", 30)


def test_a_second_reading_at_the_end_of_the_hold() -> None:
    assert _uk("76C 76C@29s") == ("hold", 30)
    assert _uk("76C 76C@30s") == ("met", None)
    assert _uk("70C 70C@119s") == ("hold", 120)
    assert _uk("70C 70C@2min") == ("met", None)


def test_time_alone_never_ends_a_hold() -> None:
    found = verdict("general", "76C", "uk")
    assert (found.hold_s, found.hold_until) == (30, 30)
    assert found.verdict == "hold"


def test_a_lower_reading_between_begins_the_hold_anew() -> None:
    assert _uk("1=76C 1=69C@20s 1=76C@40s") == ("hold", 30)
    assert _uk("1=76C 1=69C@20s 1=76C@40s 1=76C@70s") == ("met", None)


def test_a_reading_under_the_pair_but_over_a_colder_one_falls_to_that() -> None:
    found = verdict("general", "1=76C 1=72C@20s", "uk")
    assert (found.verdict, found.hold_s) == ("hold", 120)
    assert (found.hold_s, found.hold_until) == (120, 120)
    assert _uk("1=76C 1=72C@20s 1=71C@2min") == ("met", None)


def test_any_one_pair_suffices() -> None:
    """70 °C was held for two minutes although the last reading is hotter than its pair."""
    assert _uk("1=71C 1=81C@2min") == ("met", None)


def test_after_the_hold_a_low_reading_is_below_again() -> None:
    assert _uk("1=76C 1=76C@30s 1=69C@60s") == ("below", None)


def test_every_place_is_read_again() -> None:
    assert _uk("1=76C 2=77C", TWO) == ("hold", 30)
    assert _uk("1=76C 2=77C 1=76C@30s", TWO) == ("hold", 30)
    assert _uk("1=76C 2=77C 1=76C@30s 2=77C@31s", TWO) == ("met", None)


def test_the_lowest_place_sets_the_pair() -> None:
    assert _uk("1=71C 2=85C", TWO) == ("hold", 120)


def test_a_missing_place_is_incomplete() -> None:
    assert _uk("1=76C 1=76C@30s", TWO) == ("incomplete", None)


def test_the_hold_ends_when_the_last_place_has_been_long_enough() -> None:
    found = verdict("general", "1=76C@-20s 2=76C", "uk", TWO)
    assert (found.hold_s, found.hold_until) == (30, 30)


def test_a_hold_in_fahrenheit_converts_the_reading() -> None:
    """75 °C is 167 °F."""
    assert _uk("166.9F") == ("hold", 120)
    assert _uk("167F") == ("hold", 30)
    assert verdict("general", "167F", "uk").minimum == "75 °C for 30 s"


def test_no_margin_is_measured_from_the_pair_that_was_held() -> None:
    assert verdict("general", "76C 76C@30s", "uk").flags == ()
    assert verdict("general", "75.5C 75.5C@30s", "uk").flags == ("no_margin",)
    assert verdict("general", "75.5C 75.5C@2min", "uk").flags == ()


def test_a_hold_off_the_heat_is_told_to_go_back_if_it_cools() -> None:
    found = verdict("general", "1=76C@1min", "uk")
    assert found.verdict == "hold"
    assert any("off the heat" in line for line in found.advice)
    assert verdict("general", "1=76C 1=76C@1min", "uk").flags == ()
    assert verdict("general", "1=76C@1min 1=76C@2min", "uk").flags == ("off_heat",)


def test_no_rest_is_added() -> None:
    assert verdict("general", "76C 76C@30s", "uk").rest_s == 0


def test_an_impossibly_hot_reading_between_says_nothing() -> None:
    assert _uk("1=76C 1=145C@10s") == ("recheck", None)
    assert _uk("1=76C 1=145C@10s 1=76C@30s") == ("met", None)
    assert _uk("1=145C 1=76C@30s") == ("hold", 30)


def test_no_hold_spans_time_without_heat() -> None:
    """FSA 'Prove it' asks for 70 °C for two minutes on end: what cooled between shows nothing."""
    back = Setup(reheated=(600,))
    assert _uk("71C@-20min 71C@11min", back) == ("hold", 120)
    found = verdict("general", "71C@-20min 71C@11min", "uk", back)
    assert found.hold_until == 660 + 120, "from the first reading after the heat was back"
    assert _uk("71C@-20min 71C@11min 71C@13min", back) == ("met", None)
    assert _uk("71C@-20min 71C@-18min 71C@11min", back) == ("met", None), "it was held before"
    assert _uk("71C@-20min 71C@-18min 69C@11min", back) == ("below", None)
    two = Setup(pieces=2, reheated=(600,))
    assert _uk("1=71C@-20min 2=71C@-20min 1=71C@11min 1=71C@14min", two) == ("hold", 120)
