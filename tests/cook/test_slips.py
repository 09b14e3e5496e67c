"""Slips of the hand and of the plan that the engine takes as a cook would, one test each."""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.cards import cards, first_cue
from passbell.cook.cue import CueKey
from passbell.cook.expect import next_look, safety_rest_end
from passbell.cook.verdicts import verdict
from passbell.cook.ways import ways_out
from tests.cook.meals import CHOPS, TRAY, Hand, cooked, plan_of, step
from tests.cook.test_ways import ROAST

PEAS, CARROTS, CHICKEN = 0, 0, 1


def pan_of_peas(time: str, *before: dict[str, Any]) -> Hand:
    """Peas on a pan that needs no heating up, so long, after what comes before."""
    data: dict[str, Any] = {
        "title": "Invented peas",
        "serves": 1,
        "appliance": [{"name": "pan"}],
        "component": [{"name": "peas", "steps": [*before, step("cook", "boil", time, on="pan")]}],
    }
    return Hand(plan_of(data))


def test_readings_before_the_meat_is_in_prove_nothing() -> None:
    """Poultry, US chart: 165 °F, read on the heat (FSIS)."""
    hand = cooked(20 * 60)
    for place in ("1", "2"):
        hand.say(cm.Probe(component=CHICKEN, place=place, shown=170.0, scale="F"))
    hand.cook_to(40 * 60)
    assert hand.state.steps[CHICKEN][1].running
    assert not any("TAKE OUT" in text for text in hand.offered()), "nor what lies beside it"
    for place in ("1", "2"):
        hand.say(cm.Probe(component=CHICKEN, place=place, shown=170.0, scale="F"))
    assert any("TAKE OUT carrots" in text for text in hand.offered())


@pytest.mark.parametrize("time", ["1 min", "20 s", "0 min"])
def test_a_short_step_is_added_before_it_is_taken_out(time: str) -> None:
    hand = pan_of_peas(time)
    first = first_cue(hand.state)
    assert first is not None
    assert first.verb == "ADD"
    assert [line.verb for line in cards(hand.state)[0].lines] == ["ADD"]


def test_food_that_waits_to_be_added_is_not_to_be_taken_out_meanwhile() -> None:
    """Planned anew as if it went in now, food that takes no time would be done at once."""
    hand = pan_of_peas("0 min").at(1200)
    for now in range(1200, 1300, 5):
        assert [text for text in hand.at(now).due() if "peas —" in text] == ["ADD peas — boil"]


def test_what_is_not_in_cannot_be_taken_out() -> None:
    hand = pan_of_peas("5 min")
    take_out = CueKey("take_out", PEAS, 0).id
    assert hand.say(cm.Done(cue=take_out)) == "peas is not in yet: add it first"
    hand.done("ADD peas")
    assert hand.say(cm.Done(cue=take_out)) is None


def test_a_rest_that_comes_first_was_begun_when_its_food_is_added() -> None:
    hand = pan_of_peas("5 min", step("rest", "thaw", "9 min")).at(120)
    hand.done("ADD peas")
    thaw = hand.state.steps[PEAS][0]
    assert (thaw.began, thaw.ended) == (120, 120)
    assert hand.state.steps[PEAS][1].began == 120


def test_no_way_out_takes_out_food_that_must_be_probed() -> None:
    data = {**ROAST, "component": [dict(c) for c in ROAST["component"]]}
    data["component"][0]["steps"] = [step("cook", "in", "30 min", on="oven", until="90 °C")]
    hand = Hand(plan_of(data)).cook_to(15 * 60)
    found = ways_out(hand.state, cm.ExtendStage(appliance=0, by=240), hand.now)
    assert not any("beets" in way.words for way in found), "without the probe it is offered"


def test_dish_up_waits_for_a_safety_rest_whose_step_is_over() -> None:
    """Pork, US chart: three minutes from the reading that qualifies (FSIS); read late here."""
    data = {**CHOPS, "component": [dict(c) for c in CHOPS["component"]]}
    data["component"][0]["steps"] = data["component"][0]["steps"][:2]
    hand = Hand(plan_of(data))
    hand.cook_to(hand.state.schedule.ends[0][1])
    hand.say(cm.TakeOut(component=0))
    out = hand.now
    hand.at(out + 200)
    for place in ("1", "2"):
        hand.say(cm.Probe(component=0, place=place, shown=147.0, scale="F"))
    assert safety_rest_end(hand.state, 0) == out + 380
    assert hand.state.schedule.dish_up >= out + 380
    assert not any("DISH UP" in text for text in hand.due())


def test_a_cue_put_off_and_then_moved_comes_when_it_was_moved_to() -> None:
    hand = cooked(23 * 60).at(24 * 60)
    cue = hand.find("ADD green beans")
    assert hand.say(cm.PutOff(cue=cue.key.id)) is None
    hand.say(cm.ExtendStage(appliance=0, by=600))
    moved = hand.find("ADD green beans").at
    assert moved > 30 * 60
    hand.at(26 * 60)
    assert not any("ADD green beans" in text for text in hand.due())
    assert hand.state.cue(cue.key.id) is None
    hand.at(moved)
    assert any("ADD green beans" in text for text in hand.due())


def test_what_heats_up_without_heat_is_not_asked_for() -> None:
    """Three minutes of preheat; two of five without heat: ready two minutes later."""
    hand = cooked(3 * 60)
    ready = hand.find("READY? oven").at
    hand.at(4 * 60)
    hand.say(cm.HeatOff())
    hand.at(ready)
    assert not any("READY?" in text for text in hand.offered())
    hand.at(ready + 60)
    hand.say(cm.HeatOn())
    assert hand.find("READY? oven").at == ready + (ready + 60 - 4 * 60)


def test_what_food_is_on_or_to_come_is_not_switched_off() -> None:
    hand = cooked(20 * 60)
    refusal = hand.say(cm.Done(cue=hand.find("SWITCH OFF oven").key.id))
    assert refusal == "oven is still needed: food is on it, or to come"


def test_what_is_switched_off_is_not_waiting_for_its_heat() -> None:
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[0][1])
    hand.say(cm.TakeOut(component=0))
    hand.say(cm.HeatOff(appliance=0))
    hand.done("SWITCH OFF pan")
    assert hand.state.appliances[0].stopped is None
    assert hand.say(cm.HeatOn()) == "no heat was stopped"


def test_earlier_moves_the_first_switching_on_as_well() -> None:
    """An oven without preheat is on, hot and in its first stage at one and the same instant."""
    hand = Hand(ROAST).at(150)
    hand.done("SWITCH ON oven")
    assert hand.say(cm.Earlier()) is None
    oven = hand.state.appliances[0]
    assert (oven.on, oven.ready, oven.stages) == (90, 90, (90,))
    assert hand.say(cm.Earlier()) is None
    assert hand.say(cm.Earlier()) is None
    assert hand.state.appliances[0].stages == (0,)
    assert hand.say(cm.Earlier()) == "it cannot have been earlier than it was due"


def test_heat_that_was_off_puts_no_look_off() -> None:
    """It cooled or went on cooking meanwhile: the next look is no later than it was to be."""
    hand = cooked(33 * 60).at(34 * 60)
    planned = hand.find("PROBE chicken").at
    assert planned == 36 * 60
    hand.say(cm.HeatOff())
    hand.at(35 * 60)
    hand.say(cm.HeatOn())
    assert hand.find("PROBE chicken").at == planned
    assert hand.state.schedule.ends[1][1] == 37 * 60, "its time is longer all the same"


@pytest.mark.parametrize("on", [None, 38 * 60 + 50])
def test_taken_out_earlier_counts_the_time_without_heat_once(on: int | None) -> None:
    """Heat off from 34:00, out at 38:40, really at 38:30: four and a half minutes without it."""
    hand = cooked(33 * 60)
    for place in "12":
        hand.say(cm.Probe(component=1, place=place, shown=170.0, scale="F"))
    hand.at(34 * 60).say(cm.HeatOff())
    hand.at(38 * 60 + 40).say(cm.TakeOut(component=1))
    assert hand.state.steps[1][1].off == 280
    if on is not None:
        hand.at(on).say(cm.HeatOn())
    assert hand.say(cm.Earlier()) is None
    real = hand.state.steps[1][1]
    assert (real.ended, real.off) == (38 * 60 + 30, 270)


def test_a_safety_rest_holds_whatever_kind_of_work_comes_after_it() -> None:
    """US chart, pork: 145 °F and three minutes (FSIS); cut by a step that the plan calls a prep."""
    steps = [step("cook", "fry", "10 min", on="pan", until="63 °C"), step("prep", "slice", "2 min")]
    chops = {"name": "pork chops", "food": "pork_whole", "steps": steps}
    hand = Hand(plan_of({**CHOPS, "component": [chops]})).cook_to(720)
    for place in "12":
        hand.say(cm.Probe(component=0, place=place, shown=150.0, scale="F"))
    hand.done("TAKE OUT pork")
    out = hand.now
    cut = hand.find("PREPARE pork")
    assert cut.at == out + 180
    for at in (out, out + 179):
        refusal = hand.at(at).say(cm.Done(cue=cut.key.id))
        assert refusal is not None
        assert "the chart asks for it" in refusal
    assert hand.at(out + 180).say(cm.Done(cue=cut.key.id)) is None


def test_no_rest_is_made_shorter_than_its_safety_rest() -> None:
    """Two minutes on the board and three by the US chart (FSIS): there is nothing to take off."""
    hand = Hand(CHOPS)
    assert hand.say(cm.ExtendStep(component=0, step=2, by=-60)) == "pork chops cannot be shorter"
    assert hand.say(cm.ExtendStep(component=0, step=2, by=120)) is None
    assert hand.say(cm.ExtendStep(component=0, step=2, by=-600)) is None
    assert hand.state.steps[0][2].extra == 0


def test_what_is_left_out_asks_for_nothing_more() -> None:
    """Carrots left out in the middle of peeling, chicken left out while it rests."""
    hand = Hand()
    hand.done("PREPARE carrots")
    hand.at(60).say(cm.Skip(component=CARROTS))
    assert not any("carrots" in text for text in hand.offered())
    assert hand.state.steps[CARROTS][0].ended == 60
    hand = cooked(34 * 60)
    for place in "12":
        hand.say(cm.Probe(component=CHICKEN, place=place, shown=170.0, scale="F"))
    hand.done("TAKE OUT chicken")
    hand.at(35 * 60).say(cm.Skip(component=CHICKEN))
    hand.at(45 * 60)
    assert [text for text in hand.offered() if "WASH" in text], "what held raw meat is washed"
    assert not any("chicken" in text for text in hand.offered())


@pytest.mark.parametrize(
    ("chart", "asked"),
    [("us", "until 146 °F (63 °C)"), ("canada", "until 160 °F"), ("australia", "until 70 °C")],
)
def test_the_probe_is_asked_for_no_less_than_the_chart(chart: Any, asked: str) -> None:
    """Pork chops: US 63 °C (FSIS), Canada 71 °C, 160 °F (Health Canada), Australia 70 °C (FSIC)."""
    hand = Hand(CHOPS)
    hand.say(cm.SetChart(chart=chart))
    assert f"— {asked}" in hand.find("PROBE pork").text


@pytest.mark.parametrize("read", [False, True])
def test_the_oven_is_set_before_it_leaves_raw_meat_in_the_cold(read: bool) -> None:
    """Its display reaches 0:00 at 39:00; the thighs, unread or below (FSIS: 165 °F), stay in."""
    hand = cooked(33 * 60)
    assert not any("SET" in text for text in hand.offered()), "nobody knows yet that they stay"
    for place in "12" if read else "":
        hand.at(35 * 60).say(cm.Probe(component=CHICKEN, place=place, shown=150.0, scale="F"))
    hand.at(38 * 60 - 1)
    assert not any("SET" in text for text in hand.due())
    assert any("SET 5:00 ON oven" in text for text in hand.at(38 * 60).due())
    hand.done("SET")
    assert not any("SET" in text for text in hand.due())
    for place in "12":
        hand.say(cm.Probe(component=CHICKEN, place=place, shown=170.0, scale="F"))
    assert not any("SET" in text for text in hand.offered())


def test_where_the_switch_is_late_more_time_is_for_not_switching_yet() -> None:
    hand = cooked(20 * 60)
    hand.at(hand.find("SWITCH oven").at + 120)
    late = [text for text in hand.due() if text.startswith("SET")]
    assert late == ["SET 2:00 ON oven — if you do not switch yet"]
    hand.done("SWITCH")
    assert not any("SET" in text for text in hand.due())


def test_food_that_the_plan_cooks_beyond_its_minimum_stays_until_that_is_read() -> None:
    """Pork, US chart: 145 °F (FSIS); the plan's own 93 °C is for tenderness (invented)."""
    chops, *others = CHOPS["component"]
    steps = [
        step("cook", "braise", "10 min", on="pan", until="93 °C"),
        *chops["steps"][2:],
    ]
    hand = Hand(plan_of(CHOPS | {"component": [chops | {"steps": steps}, *others]}))
    hand.cook_to(20 * 60)
    assert hand.state.steps[0][0].running
    for place in ("1", "2"):
        hand.say(cm.Probe(component=0, place=place, shown=150.0, scale="F"))
    assert verdict(hand.state, 0).verdict == "met"
    assert next_look(hand.state, 0, 0) is not None
    hand.at(hand.now + 1)
    assert not any("TAKE OUT pork chops" in text for text in hand.offered())
    hand.cook_to(hand.now + 20 * 60)
    assert hand.state.steps[0][0].running
    for place in ("1", "2"):
        assert not any("TAKE OUT pork chops" in text for text in hand.offered())
        hand.say(cm.Probe(component=0, place=place, shown=200.0, scale="F"))
    assert any("TAKE OUT pork chops" in text for text in hand.offered())


def test_what_lies_with_raw_meat_is_not_to_be_plated() -> None:
    """Nothing on a tray with raw meat is served before the meat is done (FSIS: 165 °F)."""
    data = {**TRAY, "component": [dict(c) for c in TRAY["component"]]}
    for dish in data["component"]:
        dish["steps"] = [s for s in dish["steps"] if "rest" not in s]
        dish["steps"].append(step("finish", "onto the plates", "1 min"))
    hand = Hand(plan_of(data))
    hand.cook_to(32 * 60)
    for place in "12":
        assert hand.say(cm.Probe(component=1, place=place, shown=164.0, scale="F")) is None
    hand.at(hand.now + 900)
    assert any(text.startswith("PROBE chicken") for text in hand.due())
    assert not [text for text in hand.due() if text.startswith(("FINISH", "TAKE OUT"))]
    for place in "12":
        assert hand.say(cm.Probe(component=1, place=place, shown=168.0, scale="F")) is None
    hand.at(hand.now + 1)
    assert [text for text in hand.due() if text.startswith("TAKE OUT")]
    assert not [text for text in hand.due() if text.startswith("FINISH")], "it is still in"
    for name in ("carrots", "chicken", "green beans"):
        hand.done(f"TAKE OUT {name}")
    hand.at(hand.now + 60)
    assert [text for text in hand.due() if text.startswith("FINISH")]
