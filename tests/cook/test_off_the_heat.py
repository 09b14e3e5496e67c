"""Food off the heat: what a reading counts for before and after it, and how long food may wait.

Minimums: US chart, FSIS (poultry 165 °F; pork whole cuts 145 °F and three minutes of rest).
"""

import pytest

from passbell.cook import commands as cm
from passbell.cook.alerts import held_hot
from passbell.cook.verdicts import verdict
from passbell.units import Temperature
from tests.cook.meals import CHOPS, TRAY, Hand, cooked, plan_of
from tests.cook.too_early import CHICKEN, alert, out_of_the_pan, read


def test_what_was_read_off_the_heat_takes_no_place_out() -> None:
    hand = cooked(34 * 60)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    hand.at(36 * 60)
    read(hand, 170.0)
    assert hand.say(cm.PutBack(component=CHICKEN)) is None
    for place in "12":
        assert not any("TAKE OUT chicken" in text for text in hand.offered()), place
        hand.at(hand.now + 60)
        read(hand, 170.0, place)
    assert any("TAKE OUT chicken" in text for text in hand.offered())


def test_a_thermometer_that_reads_high_is_corrected_for_what_was_read_on_the_heat() -> None:
    hand = cooked(34 * 60)
    assert hand.say(cm.SetIce(shown=Temperature(34.0, "F"))) is None
    read(hand, 166.0)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    read(hand, 170.0)
    assert hand.say(cm.PutBack(component=CHICKEN)) is None
    assert not any("TAKE OUT chicken" in text for text in hand.offered())


def test_what_was_typed_before_the_food_was_in_counts_for_nothing() -> None:
    """The US chart measures food on the heat (FSIS); a number for raw food on the board is none."""
    hand = Hand(TRAY).at(60)
    read(hand, 175.0)
    assert hand.state.log[-1].words.endswith("not in yet, so it counts for nothing")
    assert verdict(hand.state, CHICKEN).verdict == "incomplete"
    hand.cook_to(34 * 60)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    assert "taken out before its minimum was read" in hand.state.remarks[-1].text
    assert "PUT BACK chicken thighs" in hand.offered()[0]


def test_back_dating_the_adding_makes_no_earlier_reading_count() -> None:
    hand = Hand(TRAY)
    due = hand.state.schedule.starts[CHICKEN][1]
    hand.cook_to(due - 1).at(due + 30)
    read(hand, 175.0)
    hand.done("ADD chicken thighs")
    assert hand.say(cm.Earlier()) is None
    assert verdict(hand.state, CHICKEN).verdict == "incomplete"


def test_food_that_waits_says_how_hot_it_is_or_that_nobody_knows() -> None:
    """Hot holding is 140 °F or above (FSIS)."""
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[1][0] - 1)
    assert held_hot(hand.state, 1) == ""
    assert hand.say(cm.TakeOut(component=1)) is None
    assert held_hot(hand.state, 1) == "hold: temperature not known"
    read(hand, 150.0, "1", 1)
    assert held_hot(hand.state, 1) == "hold: 150 °F"
    hand.at(hand.now + 5)
    assert hand.say(cm.SetIce(shown=Temperature.parse("34F"))) is None
    read(hand, 141.5, "1", 1)
    assert "139.5 °F is under 140 °F" in held_hot(hand.state, 1)
    hand.done("FINISH rice")
    assert held_hot(hand.state, 1) == ""


def test_food_that_is_out_is_not_told_to_stay_where_it_is() -> None:
    hand = cooked(34 * 60)
    read(hand, 150.0)
    assert verdict(hand.state, CHICKEN).advice[0].startswith("It stays on the heat; probe")
    hand.at(hand.now + 1)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    assert verdict(hand.state, CHICKEN).advice[0].startswith("Back to the heat; probe")


@pytest.mark.parametrize("way", ["out", "off"])
def test_a_hold_begins_anew_once_the_heat_is_back(way: str) -> None:
    """UK chart: 70 °C for two minutes (FSA 'Prove it'); half an hour of cooling is none of them."""
    hand = Hand(plan_of(CHOPS, chart="uk"))
    hand.cook_to(hand.state.schedule.ends[0][1])
    out, back = (
        (cm.TakeOut(component=0), cm.PutBack(component=0))
        if way == "out"
        else (cm.HeatOff(), cm.HeatOn())
    )
    hot = cm.Probe(component=0, place="1", shown=71.0, scale="C")
    assert hand.say(hot) is None
    assert hand.say(out) is None
    hand.at(hand.now + 1800)
    assert hand.say(back) is None
    hand.at(hand.now + 30)
    assert hand.say(hot) is None
    judged = verdict(hand.state, 0)
    assert (judged.verdict, judged.hold_until) == ("hold", hand.now + 120)
    assert not any("TAKE OUT pork" in text for text in hand.offered())
    hand.at(hand.now + 120)
    assert hand.say(hot) is None
    assert verdict(hand.state, 0).verdict == "met"
    assert any("TAKE OUT pork" in text for text in hand.offered())


def test_food_that_waits_in_a_hot_room_has_one_hour() -> None:
    """FSIS: two hours outside the fridge, one above 90 °F; the program does not know the room."""
    hand = out_of_the_pan(150.0)
    left = hand.now
    for minutes, words in (
        (44, ""),
        (45, "Room over 90 °F / 32 °C? 15 min left."),
        (60, "Room over 90 °F / 32 °C? Throw it away."),
        (105, "Chill or heat it: 15 min left of 2 h."),
        (120, "Throw it away: out for 2 h or longer."),
    ):
        hand.at(left + 60 * minutes)
        assert alert(hand, 0) == words
