"""What a command would do, told before it is taken; worked out by hand on the invented supper."""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.preview import Preview, preview, wait_of
from passbell.cook.serving import serving_later
from tests.cook.meals import CHOPS, TRAY, Hand, cooked
from tests.cook.test_ways import ROAST

CARROTS, CHICKEN, BEANS = range(3)


def changes(seen: Preview) -> dict[str, int]:
    """By how much each thing moves, in seconds."""
    return {e.name: e.change for e in seen.effects}


def test_a_longer_stage_moves_its_food_the_switch_the_rest_and_dish_up() -> None:
    hand = cooked(10 * 60)
    seen = preview(hand.state, cm.ExtendStage(appliance=0, by=240), hand.now)
    assert changes(seen) == {
        "carrots": 240,
        "chicken thighs": 240,
        "green beans": 240,
        "oven to crisp": 240,
        "chicken thighs, rest over": 240,
        "dish-up": 240,
    }
    assert seen.delay == 240
    assert seen.before == hand.state, "nothing has been done"


def test_one_component_longer_says_what_it_stretches() -> None:
    """Carrots 4 min longer end at 40:00, a minute before dish-up; the stage ends at 36:00."""
    hand = cooked(30 * 60)
    seen = preview(hand.state, cm.ExtendStep(component=CARROTS, by=240), hand.now)
    assert changes(seen)["carrots"] == 240
    assert changes(seen)["chicken thighs"] == 0
    assert changes(seen)["dish-up"] == 0
    assert seen.warnings == ("oven: the stage crisp goes on 4 min longer than its 14 min.",)
    carrots = next(e for e in seen.effects if e.name == "carrots")
    assert carrots.words == "4 min later, held 4 min less"
    assert carrots.held == -240


def test_a_late_add() -> None:
    hand = cooked(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    cue = hand.find("ADD carrots").key.id
    seen = preview(hand.state, cm.PutOff(cue=cue, by=180), hand.now)
    assert changes(seen)["carrots"] == 180
    assert changes(seen)["oven to crisp"] == 180
    assert seen.delay == 180


def test_an_early_take_out_is_held_longer() -> None:
    """Carrots are planned out at 36:00, dish-up is at 41:00."""
    hand = cooked(20 * 60)
    seen = preview(hand.state, cm.TakeOut(component=CARROTS), hand.now)
    carrots = next(e for e in seen.effects if e.name == "carrots")
    assert (carrots.change, carrots.held) == (-16 * 60, 16 * 60)
    assert wait_of(seen.after, CARROTS) == 21 * 60


def test_a_slower_oven() -> None:
    hand = cooked(6 * 60 - 1).at(6 * 60)
    seen = preview(hand.state, cm.NotReady(appliance=0, by=150), hand.now)
    assert 145 <= seen.delay <= 150, "already taken to wait a few seconds for the answer"
    assert changes(seen)["chicken thighs"] == seen.delay


def test_what_the_display_reads_moves_no_food() -> None:
    hand = cooked(25 * 60)
    seen = preview(hand.state, cm.Dial(appliance=0, seconds=360), hand.now)
    assert set(changes(seen).values()) == {0}


def test_what_is_refused_changes_nothing_and_says_why() -> None:
    hand = cooked(25 * 60)
    seen = preview(hand.state, cm.HeatOn(), hand.now)
    assert seen.refusal == "no heat was stopped"
    assert set(changes(seen).values()) == {0}


def test_food_that_is_out_counts_by_its_last_step() -> None:
    hand = cooked(34 * 60)
    for place in ("1", "2"):
        hand.say(cm.Probe(component=CHICKEN, place=place, shown=170.0, scale="F"))
    hand.done("TAKE OUT chicken")
    seen = preview(hand.state, cm.ExtendStep(component=CARROTS, by=600), hand.now)
    chicken = next(e for e in seen.effects if e.name == "chicken thighs")
    assert chicken.change == 0
    assert chicken.held == seen.delay > 0


@pytest.mark.parametrize("meal", [TRAY, CHOPS], ids=["tray", "chops"])
@pytest.mark.parametrize("minute", [4, 10, 18])
@pytest.mark.parametrize("pause", ["heat", "hands"])
def test_a_pause_foreseen_is_the_pause_lived(meal: dict[str, Any], minute: int, pause: str) -> None:
    """Three minutes off, told when they begin, against the same cook after three minutes."""
    begin, end = (cm.HeatOff(), cm.HeatOn()) if pause == "heat" else (cm.Away(), cm.Back())
    hand = cooked(minute * 60, meal)
    seen = preview(hand.state, begin, hand.now, lasting=180)
    assert hand.say(begin) is None
    hand.at(hand.now + 180)
    assert hand.say(end) is None
    assert hand.state.schedule.dish_up == pytest.approx(seen.after.schedule.dish_up, abs=60)


def test_serving_later_says_what_can_be_held_back_and_until_when() -> None:
    """At 2:00 nothing is in: all of it waits; the carrots go in first, at 6:00."""
    hand = cooked(2 * 60)
    found = serving_later(hand.state, cm.ServeAt(at=61 * 60), hand.now)
    assert [(s.name, s.where, s.later, s.over) for s in found.shares] == [
        ("carrots", "free", 1200, 0),
        ("chicken thighs", "free", 1200, 0),
        ("green beans", "free", 1200, 0),
    ]
    assert (found.free_until, found.first) == (6 * 60, "carrots")


def test_serving_later_says_what_is_on_the_heat_and_how_long_it_would_hold() -> None:
    """Three minutes in the oven at 28:00: out at 36:00, served at 51:00 instead of 41:00."""
    hand = cooked(28 * 60)
    found = serving_later(hand.state, cm.ServeAt(at=51 * 60), hand.now)
    assert [(s.name, s.where, s.wait, s.over) for s in found.shares] == [
        ("carrots", "hot", 900, 300),
        ("chicken thighs", "hot", 600, 0),
        ("green beans", "hot", 900, 300),
    ]
    assert (found.free_until, found.first) == (None, "")


def test_the_choice_is_free_until_the_next_food_goes_in() -> None:
    hand = Hand(ROAST).cook_to(13 * 60)
    found = serving_later(hand.state, cm.ServeAt(at=60 * 60), hand.now)
    leeks = next(s for s in found.shares if s.name == "leeks")
    assert leeks.where == "free"
    assert leeks.later == 60 * 60 - hand.state.schedule.dish_up
    start = hand.state.schedule.starts[1][0]
    assert (found.free_until, found.first) == (start, "leeks")
    hand.cook_to(start + 1)
    assert serving_later(hand.state, cm.ServeAt(at=60 * 60), hand.now).free_until is None
