"""Food that waited too long stands in the record.

Two hours, one over 90 °F / 32 °C: FSIS, "Leftovers and Food Safety" (figures from memory, as in the
shipped table of handling).
"""

import pytest

from passbell.cook import commands as cm
from passbell.cook.account import account
from tests.cook.meals import Hand

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
