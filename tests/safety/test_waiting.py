"""Food that waits (FSIS and FoodSafety.gov: two hours, one over 90 °F; hot holding 140 °F)."""

import pytest

from passbell.safety.waiting import (
    fridge_until,
    fridge_words,
    holding_words,
    oven_note,
    waiting,
    waiting_limit,
    waits_since,
    warn_at,
)
from tests.safety.helpers import degrees

HOUR = 3600


@pytest.mark.parametrize(
    ("room", "hours"), [("72F", 2), ("90F", 2), ("90.1F", 1), ("32C", 2), ("32.5C", 1)]
)
def test_the_limit_by_the_room(room: str, hours: int) -> None:
    assert waiting_limit(degrees(room)) == hours * HOUR


def test_a_room_not_known() -> None:
    assert waiting_limit() == 2 * HOUR


@pytest.mark.parametrize(
    ("now", "state"),
    [
        (0, "fine"),
        (2699, "fine"),
        (2700, "ask"),
        (6299, "ask"),
        (6300, "warn"),
        (7199, "warn"),
        (7200, "over"),
        (9999, "over"),
    ],
)
def test_warned_before_the_limit(now: int, state: str) -> None:
    found = waiting(0, now)
    assert found.state == state
    assert bool(found.words) == (state != "fine")
    assert (found.waited, found.left) == (now, 7200 - now)


def test_warned_before_one_hour_in_a_hot_room() -> None:
    assert warn_at(100, degrees("95F")) == 100 + HOUR - 900
    assert waiting(100, 100 + HOUR, degrees("95F")).state == "over"
    assert "5 min left of 1 h" in waiting(0, HOUR - 290, degrees("95F")).words
    assert max(len(waiting(0, at).words) for at in range(0, 3 * HOUR, 60)) <= 40, "a row is narrow"
    assert waiting(0, 2 * HOUR).words == "Throw it away: out for 2 h or longer."


def test_a_room_that_may_be_hot_is_asked_for() -> None:
    """FSIS: two hours, one above 90 °F; where the room is not known, the shorter one is said."""
    assert waiting(0, HOUR - 900).words == "Room over 90 °F / 32 °C? 15 min left."
    assert waiting(0, HOUR - 1).words == "Room over 90 °F / 32 °C? 1 min left."
    assert waiting(0, HOUR).words == "Room over 90 °F / 32 °C? Throw it away."
    assert waiting(0, 2 * HOUR - 900).words == "Chill or heat it: 15 min left of 2 h."
    assert waiting(0, HOUR, degrees("72F")).state == "fine"


def test_from_when_it_waits() -> None:
    assert waits_since(None, None, None) is None
    assert waits_since(100, None, None) == 100
    assert waits_since(100, 400, None) is None
    assert waits_since(100, 400, 900) == 900
    assert waits_since(100, 1200, 900) is None
    assert waits_since(1500, 400, 900) == 1500


def test_raw_meat_goes_back_into_the_fridge() -> None:
    """15 minutes: our figure."""
    assert fridge_until(0, 900) is None
    assert fridge_until(0, 901) == 901
    assert fridge_words("18:20") == "into the fridge until 18:20"


def test_holding_hot() -> None:
    assert holding_words(None) == "hold: temperature not known"
    assert holding_words(degrees("140F")) == "hold: 140 °F"
    assert holding_words(degrees("60C")) == "hold: 60 °C"
    assert "under 140 °F" in holding_words(degrees("139.9F"))
    assert "under 60 °C" in holding_words(degrees("59C"))


def test_oven_air_under_the_floor() -> None:
    """FSIS: meat and poultry are not roasted under 325 °F (162.8 °C)."""
    assert oven_note(degrees("325F")) == ""
    assert oven_note(degrees("163C")) == ""
    assert "325 °F" in oven_note(degrees("324F"))
    assert "325 °F" in oven_note(degrees("160C"))
