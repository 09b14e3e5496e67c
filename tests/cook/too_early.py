"""Food taken off the heat too early, for the tests of what comes of it.

Minimums: US chart, FSIS (poultry 165 °F; pork whole cuts 145 °F and three minutes of rest).
"""

from passbell.cook import commands as cm
from passbell.cook.alerts import component_alert
from tests.cook.meals import CHOPS, Hand, cooked

CARROTS, CHICKEN, BEANS = range(3)


def read(hand: Hand, shown: float, places: str = "12", component: int = CHICKEN) -> None:
    """The same reading at every place."""
    for place in places:
        assert hand.say(cm.Probe(component=component, place=place, shown=shown, scale="F")) is None


def alert(hand: Hand, component: int) -> str:
    """What the row of a component warns of now."""
    return component_alert(hand.state, component, hand.now, str)


def too_early(at: int = 34 * 60) -> Hand:
    """The tray supper with the chicken taken out 15 °F below its minimum."""
    hand = cooked(at)
    read(hand, 150.0)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    return hand


def out_of_the_pan(shown: float) -> Hand:
    """The pork out of its pan after one reading."""
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[0][1])
    read(hand, shown, "12", 0)
    assert hand.say(cm.TakeOut(component=0)) is None
    return hand
