"""What lies, was seared or is held beside raw meat: how long it stays, and what lets it go.

Minimums: US chart, FSIS (poultry 165 °F; pork whole cuts 145 °F and three minutes of rest).
"""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.cue import CueKey
from passbell.cook.expect import safety_rest_end
from passbell.cook.verdicts import verdict
from tests.cook.meals import CHOPS, TRAY, Hand, cooked, plan_of, step
from tests.cook.too_early import CARROTS, CHICKEN, alert, read, too_early


def test_what_shares_its_tray_stays_in_while_it_is_out() -> None:
    hand = too_early().at(45 * 60)
    assert not any("TAKE OUT" in text for text in hand.offered())
    hand.say(cm.PutBack(component=CHICKEN))
    read(hand, 170.0)
    assert sum("TAKE OUT" in text for text in hand.offered()) == 3


@pytest.mark.parametrize("end", ["met off the heat", "left out"])
def test_what_shares_its_tray_is_let_go(end: str) -> None:
    hand = too_early().at(40 * 60)
    if end == "left out":
        assert hand.say(cm.Skip(component=CHICKEN)) is None
    else:
        read(hand, 166.0)
        assert alert(hand, CHICKEN) == ""
    assert any("TAKE OUT carrots" in text for text in hand.offered())
    assert not any("PUT BACK" in text for text in hand.offered())


def test_meat_without_a_figure_in_the_chart_holds_nobody_once_it_is_out() -> None:
    """Food Standards Agency: beef steak and other whole cuts may be served rare, no figure."""
    data = {**TRAY, "chart": "uk", "component": [dict(c) for c in TRAY["component"]]}
    data["component"][CHICKEN] |= {"food": "beef_lamb_whole"}
    hand = Hand(plan_of(data)).cook_to(35 * 60)
    hand.say(cm.TakeOut(component=CHICKEN))
    assert not any("PUT BACK chicken" in text for text in hand.offered())
    assert any("TAKE OUT carrots" in text for text in hand.offered())


def test_vegetables_that_touched_raw_meat_go_back_until_the_meat_is_done() -> None:
    hand = cooked(34 * 60)
    assert hand.say(cm.TakeOut(component=CARROTS)) is None
    assert alert(hand, CARROTS) == "touched raw meat: put back, keep going"
    hand.at(35 * 60)
    assert hand.done("PUT BACK carrots").text.endswith("touched raw meat: put back, keep going")
    assert alert(hand, CARROTS) == ""
    assert not any("TAKE OUT carrots" in text for text in hand.offered())
    read(hand, 170.0)
    assert hand.find("TAKE OUT carrots").at >= 35 * 60 + 180, "never put back for a moment only"
    hand.at(38 * 60)
    hand.done("TAKE OUT carrots")
    assert alert(hand, CARROTS) == "", "an earlier remark is about an earlier time"
    assert not any("PUT BACK" in text for text in hand.offered())


def test_a_note_of_the_cook_is_no_remark_about_raw_meat() -> None:
    hand = cooked(33 * 60).at(36 * 60)
    read(hand, 170.0)
    hand.done("TAKE OUT carrots")
    hand.say(cm.Note(text="carrots: touched raw meat: back on the heat", component=CARROTS))
    assert alert(hand, CARROTS) == ""


def left_out(after: int) -> Hand:
    """Carrots that had long enough, on a tray from which raw chicken was taken and left out."""
    oven = {"name": "oven", "preheat": "3 min"}
    meat: dict[str, Any] = {"name": "chicken", "food": "poultry_pieces"}
    meat["steps"] = [step("cook", "x", "30 min", on="oven", until="75 °C")]
    carrots: dict[str, Any] = {"name": "carrots", "food": "plant"}
    carrots["steps"] = [step("cook", "y", "25 min", on="oven"), step("finish", "toss", "4 min")]
    hand = Hand({"title": "t", "serves": 2, "appliance": [oven], "component": [meat, carrots]})
    hand.cook_to(3 * 60 + after * 60)
    assert hand.say(cm.TakeOut(component=0)) is None
    assert hand.say(cm.Skip(component=0)) is None
    return hand


@pytest.mark.parametrize(("after", "stays"), [(27, 3), (29, 3), (35, 3), (20, 10)])
def test_what_lay_with_raw_meat_that_is_left_out_has_its_heat_first(after: int, stays: int) -> None:
    """As long as the meat was to stay, at least the three minutes between two looks at it."""
    hand = left_out(after)
    assert alert(hand, 1) == f"touched raw meat: stays {stays}:00 more"
    assert hand.state.remarks[-1].text == f"carrots: lay with raw chicken; stays in {stays}:00 more"
    assert hand.find("TAKE OUT carrots").at >= hand.now + stays * 60
    hand.at(hand.now + 60)
    assert hand.say(cm.TakeOut(component=1)) is None
    assert hand.state.remarks[-1].text == "carrots: touched raw meat: back on the heat"
    assert any(text.startswith("PUT BACK carrots") for text in hand.offered())


def test_the_first_cue_done_too_soon_is_no_way_round_it() -> None:
    hand = left_out(27)
    hand.at(hand.now + 60).done("TAKE OUT carrots")
    assert hand.state.remarks[-1].text == "carrots: touched raw meat: back on the heat"


def test_what_was_seared_beside_raw_meat_stays_a_while_after_it() -> None:
    pan = {"name": "pan", "preheat": "2 min"}
    oven = {"name": "oven", "preheat": "3 min"}
    chops: dict[str, Any] = {"name": "chops", "food": "pork_whole"}
    sear, roast = step("cook", "sear", "4 min", on="pan"), step("cook", "x", "10 min", on="oven")
    chops["steps"] = [sear, roast]
    onions: dict[str, Any] = {"name": "onions", "food": "plant"}
    onions["steps"] = [step("cook", "y", "6 min", on="pan"), step("finish", "toss", "8 min")]
    meal = {"title": "t", "serves": 2, "appliance": [pan, oven], "component": [chops, onions]}
    hand = Hand(meal)
    hand.cook_to(hand.state.schedule.ends[0][0])
    assert alert(hand, 1) == "touched raw meat: stays 1:00 more"
    hand.at(hand.now + 60)
    assert alert(hand, 1) == ""


def test_meat_that_is_left_out_keeps_nobody_from_dinner() -> None:
    """Its three minutes of rest (FSIS) are of what is on no plate any more."""
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[0][1])
    read(hand, 150.0, "12", 0)
    assert hand.say(cm.TakeOut(component=0)) is None
    assert safety_rest_end(hand.state, 0) == hand.now + 180
    assert hand.say(cm.Skip(component=0)) is None
    assert hand.say(cm.TakeOut(component=1)) is None
    assert hand.say(cm.Done(cue=CueKey("dish_up", 0).id)) is None
    assert verdict(hand.state, 0).rest_s == 180


def test_hands_that_held_raw_meat_are_washed_before_the_key_and_after_its_prep() -> None:
    hand = Hand(TRAY)
    begins = hand.find("PREPARE chicken thighs")
    assert begins.how == "pat dry; then wash hands"
    hand.at(begins.at)
    assert hand.say(cm.Done(cue=begins.key.id)) is None
    assert hand.find("PREPARED? chicken thighs").how == "pat dry; wash hands, then say done"
    assert hand.find("ADD chicken thighs").how == "skin up; wash hands, then say done"
    assert "wash" not in hand.find("PREPARE carrots").how


def test_raw_meat_that_is_done_is_taken_out_with_clean_tongs() -> None:
    """Said with the act itself: the cue of its own may be read when the tongs were used already."""
    hand = Hand(TRAY)
    hand.cook_to(hand.state.schedule.ends[1][1])
    for place in ("1", "2"):
        hand.say(cm.Probe(component=1, place=place, shown=76.0, scale="C"))
    assert hand.find("TAKE OUT chicken").how == "clean tongs and plate; rest: on a warm plate"
    assert "clean" not in hand.find("TAKE OUT carrots").how
