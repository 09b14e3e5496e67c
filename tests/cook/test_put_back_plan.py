"""Food that came off the heat too early: how the rest of the meal is planned around it.

Minimum: US chart, FSIS (poultry 165 °F).
"""

import pytest

from passbell.cook import commands as cm
from tests.cook.meals import Hand, cooked
from tests.cook.too_early import CARROTS, CHICKEN, read, too_early


def test_taking_out_too_early_brings_nothing_forward() -> None:
    """The rest is planned as if it went back now, stayed a look's wait, and then rested."""
    hand = cooked(1900)
    planned = hand.state.schedule.dish_up
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    look, rest, out = 90, 300, 1900
    for now in (1900, 1901, 1930, 2000, 2100, 2160, 2400, 3000, 3600):
        hand.at(now)
        late = now - hand.state.replanned
        assert late <= 60, "planned anew while it waits"
        dish_up = hand.state.schedule.dish_up
        assert dish_up >= planned
        assert dish_up >= hand.state.replanned + look + rest
        assert dish_up >= planned + now - out - late, "what was lost outside is to come"


def test_the_others_are_held_back_while_it_is_out() -> None:
    """Thighs out at 23 minutes, beans planned in at 24: they wait with the thighs' end."""
    hand = cooked(23 * 60)
    planned = hand.find("ADD green beans").at
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    hand.at(24 * 60)
    hand.done("PREPARED? green beans")
    hand.at(27 * 60)
    assert not any("ADD green beans" in text for text in hand.due())
    waiting = hand.find("ADD green beans").at
    assert waiting >= planned + 4 * 60
    hand.say(cm.PutBack(component=CHICKEN))
    assert hand.find("ADD green beans").at == waiting


def test_several_that_came_out_too_early_all_go_back() -> None:
    hand = cooked(34 * 60)
    hand.say(cm.TakeOut(component=CARROTS))
    hand.say(cm.TakeOut(component=CHICKEN))
    hand.at(39 * 60)
    ends = hand.state.schedule.ends
    assert ends[CHICKEN][1] >= hand.state.replanned + 90
    assert ends[CARROTS][1] >= ends[CHICKEN][1]


def test_put_back_as_planned_changes_nothing() -> None:
    hand = too_early().at(36 * 60)
    waiting = hand.state.schedule
    assert hand.state.replanned == 36 * 60
    hand.say(cm.PutBack(component=CHICKEN))
    assert hand.state.schedule.dish_up == waiting.dish_up
    assert hand.state.schedule.ends == waiting.ends


@pytest.mark.parametrize("end", ["met off the heat", "left out"])
def test_what_need_not_go_back_holds_nothing_up(end: str) -> None:
    hand = too_early().at(40 * 60)
    assert hand.state.schedule.dish_up >= 40 * 60 + 90 + 300
    if end == "left out":
        hand.say(cm.Skip(component=CHICKEN))
        assert hand.state.schedule.dish_up <= 40 * 60 + 60
    else:
        read(hand, 166.0)
        assert hand.state.schedule.dish_up <= 40 * 60 + 60
    kept = hand.state.schedule.dish_up
    hand.done("TAKE OUT carrots")
    hand.done("TAKE OUT green beans")
    assert hand.state.schedule.dish_up <= kept


def test_a_look_that_was_put_later_stays_there() -> None:
    """Out and back at once: the forecast's next look is not forgotten, nor dish-up earlier."""
    hand = cooked(34 * 60)
    read(hand, 100.0)
    look = find_look(hand)
    before = hand.state.schedule.dish_up
    hand.say(cm.TakeOut(component=CHICKEN))
    assert hand.state.schedule.dish_up >= before
    hand.say(cm.PutBack(component=CHICKEN))
    assert find_look(hand) >= look
    assert hand.state.schedule.dish_up >= before


def test_put_back_later_is_planned_for_then() -> None:
    hand = too_early()
    cue = hand.find("PUT BACK chicken")
    before = hand.state.schedule.dish_up
    hand.say(cm.PutOff(cue=cue.key.id, by=600))
    assert hand.state.schedule.ends[CHICKEN][1] >= hand.now + 600 + 90
    assert hand.state.schedule.dish_up >= before + 600
    hand.at(hand.now + 600)
    assert any("PUT BACK chicken" in text for text in hand.due())


def find_look(hand: Hand) -> int:
    return hand.find("PROBE chicken").at
