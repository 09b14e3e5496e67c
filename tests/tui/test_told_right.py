"""Figures that stand beside each other on the screen add up, and count to what they name."""

from dataclasses import replace
from typing import Any

import pytest

from passbell.cook.commands import Probe
from passbell.cook.cues import cues
from passbell.cook.wording import minutes
from passbell.tui.paint import minutes_off
from passbell.tui.views.dish_up import dish_up
from passbell.tui.views.now import now_cards
from passbell.tui.views.rest import rest_words
from passbell.tui.views.rows import _held, rows
from tests.cook.meals import CHOPS, TRAY, Hand, step


def resting(minutes_of_rest: str) -> Hand:
    """Pork of 63 °C just taken out, of which the US chart asks three minutes of rest."""
    pork, *others = CHOPS["component"]
    steps = [*pork["steps"][:2], step("rest", "on a board", minutes_of_rest), pork["steps"][3]]
    data: dict[str, Any] = {**CHOPS, "component": [{**pork, "steps": steps}, *others]}
    hand = Hand(data)
    hand.cook_to(hand.state.schedule.ends[0][1])
    for place in ("1", "2"):
        hand.say(Probe(component=0, place=place, shown=66.0, scale="C"))
    hand.done("TAKE OUT pork")
    return hand


def test_the_two_rests_add_up_to_the_whole() -> None:
    hand = resting("10 min")
    now = hand.now + 60
    assert rest_words(hand.at(now).state, 0, now) == "safety rest 2:00 more, then rest 7:00 more"
    later = hand.now + 180
    assert rest_words(hand.at(later).state, 0, later) == "rest 6:00 more"
    short = resting("2 min")
    now = short.now + 30
    assert rest_words(short.at(now).state, 0, now) == "safety rest 2:30 more"


def test_a_row_that_rests_counts_down_to_the_end_of_its_rest() -> None:
    """And not to the washing of the tongs, which is due at once."""
    hand = Hand(TRAY)
    hand.cook_to(hand.state.schedule.ends[1][1])
    for place in ("1", "2"):
        hand.say(Probe(component=1, place=place, shown=76.0, scale="C"))
    hand.done("TAKE OUT chicken")
    row = rows(hand.state, hand.now, None, (str, {}))[1]
    assert "WASH tongs and plate" in " ".join(hand.due())
    assert (row.state, row.left) == ("resting", 5 * 60)


def test_food_is_held_from_the_end_of_its_rest_on_and_past_its_hold_that_is_said() -> None:
    hand = resting("10 min")
    out = hand.now
    hand.at(out + 10 * 60 + 90)
    assert _held(hand.state, 0, hand.now) == "held for 1:30"
    hand.at(out + 10 * 60 + 13 * 60)
    assert _held(hand.state, 0, hand.now) == "held for 13:00, 3 min too long"


def test_an_opening_counts_down_to_the_first_of_its_acts() -> None:
    hand, apart = Hand(TRAY), False
    for now in range(0, 3600, 20):
        hand.cook_to(now)
        card = now_cards(hand.state, now, None)[0]
        due = {cue.key.id: cue.at - now for cue in cues(hand.state)}
        times = [due[line.cue] for line in card.lines]
        assert card.lines[0].due_in == min(times), minutes(now)
        apart = apart or times[0] > min(times)
    assert apart


@pytest.mark.parametrize("late", [-100, -31, -29, 20, 35, 95, 600])
@pytest.mark.parametrize("begun", [0, 10, 50])
def test_the_top_line_and_the_rows_are_off_by_the_same_minutes(late: int, begun: int) -> None:
    hand = Hand(TRAY)
    first = hand.state.first
    state = hand.state.but(schedule=replace(first, dish_up=first.dish_up + late))
    found = dish_up(state, 0, lambda at: f"{(begun + at) // 3600:02}:{(begun + at) // 60 % 60:02}")
    assert (minutes_off(found.minutes * 60), found.drift) == (minutes_off(late), late)
    hours, past = map(int, found.planned.split(":"))
    there = hours * 60 + past + found.minutes
    assert found.expected == f"{there // 60:02}:{there % 60:02}"
