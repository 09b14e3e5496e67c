"""Meat is held to its minimum before it is taken out, and to the chart's rest after it."""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.cues import cues
from passbell.cook.expect import safety_rest_end
from tests.cook.meals import CHOPS, Hand, plan_of


def test_raw_meat_is_never_offered_for_taking_out_before_its_minimum() -> None:
    hand = Hand().cook_to(36 * 60)
    hand.at(50 * 60)
    assert not any("TAKE OUT" in text for text in hand.offered())
    hand.say(cm.Probe(component=1, place="1", shown=160.0, scale="F"))
    hand.say(cm.Probe(component=1, place="2", shown=168.0, scale="F"))
    assert not any("TAKE OUT" in text for text in hand.offered())
    hand.say(cm.Probe(component=1, place="1", shown=170.0, scale="F"))
    offered = hand.offered()
    assert sum("TAKE OUT" in text for text in offered) == 3


def test_a_neighbour_taken_out_early_is_flagged() -> None:
    hand = Hand().cook_to(30 * 60)
    assert hand.say(cm.TakeOut(component=0)) is None
    assert any("touched raw meat" in remark.text for remark in hand.state.remarks)


def test_below_keeps_it_in_and_moves_dish_up() -> None:
    hand = Hand().cook_to(33 * 60).at(34 * 60)
    hand.say(cm.Probe(component=1, place="1", shown=150.0, scale="F"))
    hand.say(cm.Probe(component=1, place="2", shown=150.0, scale="F"))
    look = hand.find("PROBE").at
    assert 34 * 60 < look <= 44 * 60
    hand.at(40 * 60)
    assert hand.state.steps[1][1].ended is None
    assert hand.state.schedule.dish_up >= 45 * 60


def test_a_safety_rest_cannot_be_cut_short() -> None:
    """US chart, pork whole cuts: 145 °F and 3 minutes of rest (FSIS)."""
    hand = Hand(CHOPS)
    plan = hand.state.plan.components[0]
    assert plan.steps[2].time == 180, "the chart's three minutes, not the plan's two"
    hand.cook_to(hand.state.schedule.ends[0][1])
    hand.say(cm.Probe(component=0, place="1", shown=146.0, scale="F"))
    hand.say(cm.Probe(component=0, place="2", shown=148.0, scale="F"))
    hand.done("TAKE OUT pork")
    out = hand.now
    cue = next(c for c in hand.offered() if c.startswith("FINISH pork"))
    hand.at(out + 100)
    refusal = hand.say(cm.Done(cue=hand.find(cue).key.id))
    assert refusal is not None
    assert "rests 1:20 more" in refusal
    for command in (cm.ExtendStep(component=0, by=-600), cm.ServeAt(at=out + 101), cm.Earlier()):
        hand.say(command)
        refusal = hand.say(cm.Done(cue=hand.find(cue).key.id))
        assert refusal is not None
        assert "the chart asks for it" in refusal
    hand.at(out + 180)
    assert hand.state.steps[0][2].ended == out + 180
    hand.done("FINISH pork")


@pytest.mark.parametrize("shown", [148.0, 165.0])
def test_another_chart_cuts_no_safety_rest_short(shown: float) -> None:
    """US chart: 3 minutes of rest (FSIS); Canada prints 160 °F for pork and no rest."""
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[0][1])
    for place in "12":
        hand.say(cm.Probe(component=0, place=place, shown=shown, scale="F"))
    hand.done("TAKE OUT pork")
    out = hand.now
    hand.at(out + 20)
    hand.say(cm.SetChart(chart="canada"))
    cue = next(c for c in cues(hand.state) if c.key.kind == "finish" and c.key.owner == 0)
    charts: tuple[Any, ...] = ("canada", "uk", "strictest", "canada")
    for chart in charts:
        hand.say(cm.SetChart(chart=chart))
        assert "the chart asks for it" in (hand.say(cm.Done(cue=cue.key.id)) or "")
    hand.at(out + 179)
    assert "rests 0:01 more" in (hand.say(cm.Done(cue=cue.key.id)) or "")
    hand.at(out + 180)
    assert hand.say(cm.Done(cue=cue.key.id)) is None


def test_a_chart_that_judged_before_the_rest_asks_for_none() -> None:
    """US chart: 3 minutes of rest (FSIS); Canada, chosen before the meat came out, prints none."""
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[0][1])
    for place in "12":
        hand.say(cm.Probe(component=0, place=place, shown=165.0, scale="F"))
    hand.say(cm.SetChart(chart="canada"))
    hand.at(hand.now + 1)
    hand.done("TAKE OUT pork")
    assert safety_rest_end(hand.state, 0) is None


def test_back_dating_gains_a_safety_rest_no_time() -> None:
    hand = Hand(CHOPS)
    end = hand.state.schedule.ends[0][1]
    hand.cook_to(end)
    hand.say(cm.Probe(component=0, place="1", shown=146.0, scale="F"))
    hand.say(cm.Probe(component=0, place="2", shown=148.0, scale="F"))
    hand.at(end + 120)
    hand.done("TAKE OUT pork")
    hand.say(cm.Earlier())
    assert hand.state.steps[0][1].ended == end + 60
    hand.at(end + 120 + 179)
    assert hand.state.steps[0][2].ended is None
    hand.at(end + 120 + 180)
    assert hand.state.steps[0][2].ended == end + 300


def test_the_chart_rest_is_put_in_where_the_plan_has_none() -> None:
    data = dict(CHOPS)
    data["component"] = [
        {
            "name": "pork chops",
            "food": "pork_whole",
            "steps": [{"cook": "fry", "time": "10 min", "on": "pan"}],
        }
    ]
    hand = Hand(plan_of(data))
    assert [s.kind for s in hand.state.plan.components[0].steps] == ["cook", "rest"]
    assert hand.state.schedule.dish_up == 2 * 60 + 10 * 60 + 180
