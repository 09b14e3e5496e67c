"""Food that waits: the count before the heat, the fridge meanwhile, and what the record says.

Two hours, one over 90 °F / 32 °C: FSIS, "Leftovers and Food Safety" (figures from memory, as in the
shipped table of handling).
"""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.account import account
from passbell.cook.alerts import component_alert
from tests.cook.meals import Hand, plan_of, step

CHICKEN, HOT_ROOM = 1, "over 90 °F / 32 °C"


def notes_after(waited: int) -> tuple[str, ...]:
    """What the record says of the chicken that was dished up so long after it left the heat."""
    hand = Hand().cook_to(33 * 60)
    for place in ("1", "2"):
        hand.say(cm.Probe(component=CHICKEN, place=place, shown=170.0, scale="F"))
    hand.cook_to(hand.state.schedule.dish_up - 1)
    left = hand.state.steps[CHICKEN][1].ended
    assert left is not None
    hand.at(left + waited)
    assert account(hand.state, ()).components[CHICKEN].notes == (), "it goes on: the screen says it"
    hand.done("DISH UP")
    return account(hand.state, ()).components[CHICKEN].notes


@pytest.mark.parametrize(
    ("waited", "says"),
    [
        (59 * 60, None),
        (60 * 60, HOT_ROOM),
        (119 * 60 + 59, HOT_ROOM),
        (120 * 60, "2 h or longer, throw it away"),
        (134 * 60, "stood 2 h 14 min off the heat"),
    ],
)
def test_food_that_stood_too_long_says_so_in_the_record(waited: int, says: str | None) -> None:
    notes = notes_after(waited)
    assert len(notes) == (0 if says is None else 1)
    assert says is None or says in notes[0]


MINUTE, HOUR = 60, 3600
ROAST = step("cook", "roast", "40 min", on="oven")


def raw(*steps: dict[str, Any], food: str = "poultry_pieces") -> Hand:
    """One dish of raw meat, its steps done one after the other."""
    component = {"name": "dish", "food": food, "steps": [*steps, ROAST]}
    data = {"title": "Invented", "serves": 2, "call": "0 min", "component": [component]}
    return Hand(plan_of(data, appliance=[{"name": "oven"}]))


def alert(hand: Hand) -> str:
    """What must not be missed about the dish, instants in whole minutes."""
    return component_alert(hand.state, 0, hand.now, lambda at: f"{at // 60} min")


def prepared(rest: str, length: str = "3 h") -> Hand:
    """Chicken whose prep of five minutes is just done, before such a rest."""
    hand = raw(step("prep", "rub", "5 min"), step("rest", rest, length))
    hand.done("PREPARE")
    assert alert(hand) == ""
    hand.at(5 * MINUTE).done("PREPARED?")
    return hand


@pytest.mark.parametrize("rest", ["marinate", "marinate in the fridge"])
def test_raw_meat_goes_into_the_fridge_as_soon_as_its_prep_is_done(rest: str) -> None:
    hand = prepared(rest)
    assert alert(hand) == "into the fridge until 185 min"
    assert alert(hand.at(40 * MINUTE)) == "into the fridge until 185 min"
    assert alert(prepared(rest, "15 min")) == ""
    assert alert(prepared(rest, "16 min")) == "into the fridge until 21 min"


def test_a_rest_in_the_fridge_is_not_counted_and_another_is() -> None:
    """The count goes on from where it stood when the rest began."""
    hand = prepared("marinate in the fridge")
    assert alert(hand.at(3 * HOUR)) == "into the fridge until 185 min"
    end = 185 * MINUTE
    assert alert(hand.at(end + 15 * MINUTE)) == "", "it is due"
    assert alert(hand.at(end + 16 * MINUTE)) == "into the fridge until 201 min", "and still is"
    assert alert(hand.at(end + 100 * MINUTE)) == "Chill or heat it: 15 min left of 2 h."
    assert alert(hand.at(end + 115 * MINUTE)).startswith("Throw it away")
    hand = prepared("marinate")
    assert alert(hand.at(105 * MINUTE)) == "Chill or heat it: 15 min left of 2 h."
    assert alert(hand.at(2 * HOUR)).startswith("Throw it away")


def test_the_fridge_is_named_until_the_next_work_on_it() -> None:
    dry = step("prep", "pat dry", "4 min")
    hand = raw(step("prep", "rub", "5 min"), step("rest", "in the fridge", "3 h"), dry)
    hand.done("PREPARE")
    hand.at(5 * MINUTE).done("PREPARED?")
    assert alert(hand) == "into the fridge until 185 min"
    hand.at(185 * MINUTE).done("PREPARE")
    assert alert(hand) == ""
    hand.at(189 * MINUTE).done("PREPARED?")
    assert alert(hand) == ""
    assert alert(hand.at(189 * MINUTE + 96 * MINUTE)) == "Chill or heat it: 15 min left of 2 h."


def test_a_first_rest_outside_the_fridge_is_counted_from_its_start() -> None:
    hand = raw(step("rest", "bring to room temperature", "3 h"), food="beef_lamb_whole")
    hand.at(10 * MINUTE).done("START")
    assert alert(hand.at(54 * MINUTE)) == ""
    assert alert(hand.at(115 * MINUTE)) == "Chill or heat it: 15 min left of 2 h."
    hand = raw(step("rest", "thaw in the fridge", "3 h"), food="beef_lamb_whole")
    hand.at(10 * MINUTE).done("START")
    assert alert(hand.at(2 * HOUR + 50 * MINUTE)) == ""


def test_work_that_ends_in_the_fridge_counts_while_hands_are_at_it_and_once_it_is_over() -> None:
    hand = raw(step("prep", "salt, then into the fridge", "3 h", hands="10 min"))
    hand.done("PREPARE")
    assert alert(hand.at(2 * HOUR + 50 * MINUTE)) == ""
    assert alert(hand.at(3 * HOUR + 95 * MINUTE)) == "Chill or heat it: 15 min left of 2 h."
