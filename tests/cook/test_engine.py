"""The engine with a hand-moved clock: what every command means."""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.cues import cues
from passbell.cook.engine import tell
from passbell.cook.expect import safety_rest_end
from tests.cook.meals import CHOPS, TRAY, Hand, plan_of, step


def test_the_example_comes_out_best() -> None:
    """Worked out by hand: one pair of hands, thighs rest 5 min, all three leave the oven at 36:00.

    The program is 16 + 14 min, so carrots that need 30 start with it; before that they are peeled
    (6 min), the oven heats for 3: program 6:00-36:00, dish-up after the rest at 41:00.
    """
    schedule = Hand().state.schedule
    assert schedule.dish_up == 41 * 60
    assert schedule.bounds == ((6 * 60, 22 * 60, 36 * 60),)
    assert schedule.starts[0] == (0, 6 * 60)
    assert schedule.starts[1] == (17 * 60, 22 * 60, 36 * 60)
    assert schedule.starts[2] == (21 * 60, 24 * 60)
    assert (schedule.over_hold, schedule.wait, schedule.start) == (0, 10 * 60, 0)
    assert schedule.proven


def test_food_is_in_only_when_the_cook_says_so() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    assert any("ADD carrots" in text for text in hand.due())
    hand.at(8 * 60)
    assert hand.state.steps[0][1].began is None
    hand.done("ADD carrots")
    assert hand.state.steps[0][1].began == 8 * 60
    assert hand.state.schedule.dish_up == 43 * 60


def test_an_overdue_act_slides_the_rest() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    assert hand.state.schedule.dish_up == 41 * 60
    hand.at(9 * 60)
    assert 43 * 60 + 30 <= hand.state.schedule.dish_up <= 44 * 60


def test_earlier_moves_the_last_act_back_to_when_it_was_due_at_most() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    hand.at(7 * 60 + 30)
    hand.done("ADD carrots")
    assert hand.say(cm.Earlier()) is None
    assert hand.state.steps[0][1].began == 6 * 60 + 30
    assert hand.say(cm.Earlier()) is None
    assert hand.state.steps[0][1].began == 6 * 60
    assert hand.say(cm.Earlier()) == "it cannot have been earlier than it was due"
    assert hand.state.steps[0][1].began_noted == 7 * 60 + 30
    assert hand.state.schedule.dish_up == 41 * 60


def test_put_off_comes_again_and_moves_the_rest() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    cue = hand.find("ADD carrots")
    assert hand.say(cm.PutOff(cue=cue.key.id)) is None
    assert not any("ADD carrots" in text for text in hand.due())
    hand.at(7 * 60 - 1)
    assert not any("ADD carrots" in text for text in hand.due())
    hand.at(7 * 60)
    assert any("ADD carrots" in text for text in hand.due())
    assert hand.state.schedule.dish_up == 42 * 60


def test_seen_stops_the_sound_and_nothing_else() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    cue = hand.find("ADD carrots")
    before = hand.state.schedule
    assert hand.say(cm.Seen(cue=cue.key.id)) is None
    known = hand.state.cue(cue.key.id)
    assert known is not None
    assert known.standing == "seen"
    assert hand.state.schedule == before
    assert hand.say(cm.Seen(cue=cue.key.id)) == "nothing rings"


def test_away_stops_hands_on_work_only() -> None:
    hand = Hand().cook_to(18 * 60)
    assert hand.say(cm.Away()) is None
    hand.at(20 * 60)
    assert hand.say(cm.Back()) is None
    assert hand.state.steps[1][0].idle == 120
    assert hand.state.steps[0][1].off == 0
    assert hand.state.schedule.ends[1][0] == 23 * 60
    assert hand.say(cm.Back()) == "you are not away"


def test_heat_off_stops_the_program_and_its_food() -> None:
    hand = Hand().cook_to(10 * 60)
    before = hand.state.schedule
    assert hand.say(cm.HeatOff(appliance=0)) is None
    hand.at(14 * 60)
    assert hand.say(cm.HeatOn()) is None
    assert hand.state.schedule.bounds[0][1] == before.bounds[0][1] + 240
    assert hand.state.schedule.ends[0][1] == before.ends[0][1] + 240
    assert any("look earlier" in remark.text for remark in hand.state.remarks)


def test_heat_off_moves_no_first_look_and_no_rest() -> None:
    hand = Hand().cook_to(30 * 60)
    look = 22 * 60 + 11 * 60
    assert hand.find("PROBE").at == look
    hand.say(cm.HeatOff())
    hand.at(32 * 60)
    hand.say(cm.HeatOn())
    assert hand.find("PROBE").at == look


def test_halfway_leaves_out_the_time_without_heat() -> None:
    hand = Hand().cook_to(10 * 60)
    assert hand.find("TOSS").at == 21 * 60
    hand.say(cm.HeatOff())
    hand.at(12 * 60)
    hand.say(cm.HeatOn())
    assert hand.find("TOSS").at == 23 * 60


def test_halfway_does_not_move_when_the_step_is_extended() -> None:
    hand = Hand().cook_to(10 * 60)
    hand.say(cm.ExtendStep(component=0, by=240))
    assert hand.find("TOSS").at == 21 * 60


def test_a_longer_stage_keeps_all_its_food_longer() -> None:
    hand = Hand().cook_to(10 * 60)
    assert hand.say(cm.ExtendStage(appliance=0, by=180)) is None
    schedule = hand.state.schedule
    assert schedule.bounds[0] == (6 * 60, 25 * 60, 39 * 60)
    assert schedule.ends[0][1] == 39 * 60
    assert schedule.dish_up == 44 * 60


def test_a_longer_component_leaves_the_others_alone() -> None:
    hand = Hand().cook_to(30 * 60)
    ends = hand.state.schedule.ends
    assert hand.say(cm.ExtendStep(component=2, by=120)) is None
    after = hand.state.schedule
    assert after.ends[2][1] == ends[2][1] + 120
    assert after.ends[0][1] == ends[0][1]
    assert after.relaxed, "past the end of its last stage the stage is lengthened, and says so"


def test_shorter_never_ends_in_the_past() -> None:
    hand = Hand().cook_to(20 * 60)
    hand.say(cm.ExtendStep(component=0, by=-36000))
    assert hand.state.schedule.ends[0][1] == 20 * 60
    assert hand.say(cm.ExtendStep(component=0, by=-60)) == "carrots cannot be shorter"


def test_not_ready_asks_again_and_food_waits() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    assert any("READY?" in text for text in hand.due())
    assert not any("ADD" in text for text in hand.due())
    hand.say(cm.NotReady(appliance=0, by=120))
    assert not any("READY?" in text for text in hand.due())
    hand.at(8 * 60)
    assert any("READY?" in text for text in hand.due())
    hand.done("READY?")
    assert any("ADD carrots" in text for text in hand.due())


def test_an_unanswered_ready_never_lets_food_in() -> None:
    hand = Hand().cook_to(6 * 60 - 1)
    for minute in range(6, 30):
        hand.at(minute * 60)
        assert not any("ADD" in text for text in hand.due())


def test_the_display_typed_in_wins_and_set_comes_before_it_runs_out() -> None:
    hand = Hand().cook_to(25 * 60)
    assert hand.say(cm.Dial(appliance=0, seconds=6 * 60)) is None
    cue = hand.find("SET")
    assert cue.at == 30 * 60, "at least a minute before it reads 0:00 at 31:00"
    assert cue.display is not None
    assert cue.display >= 6 * 60
    hand.at(30 * 60)
    hand.done("SET")
    assert not any("SET" in text for text in hand.offered())


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


def test_take_back_undoes_a_heat_off_as_if_it_never_was() -> None:
    hand = Hand().cook_to(10 * 60)
    hand.say(cm.HeatOff())
    hand.at(22 * 60)
    assert not any("TOSS" in text for text in hand.due())
    assert hand.say(cm.TakeBack()) is None
    assert hand.state.steps[0][1].off == 0
    assert any("TOSS" in text for text in hand.due()), "time has passed for the food"


def test_redo_brings_it_back() -> None:
    hand = Hand().cook_to(10 * 60)
    hand.say(cm.ExtendStage(appliance=0, by=180))
    with_it = hand.state.schedule
    hand.say(cm.TakeBack())
    assert hand.state.schedule != with_it
    assert hand.say(cm.Redo()) is None
    assert hand.state.schedule == with_it
    assert hand.say(cm.Redo()) == "nothing was taken back"


def test_a_command_ends_the_way_forward() -> None:
    hand = Hand().cook_to(10 * 60)
    hand.say(cm.Mark())
    hand.say(cm.TakeBack())
    hand.say(cm.Note(text="new"))
    assert hand.say(cm.Redo()) == "nothing was taken back"


def test_a_reading_taken_back_stays_in_the_record() -> None:
    hand = Hand().cook_to(34 * 60)
    hand.say(cm.Probe(component=1, place="1", shown=150.0, scale="F"))
    hand.say(cm.TakeBack())
    assert not hand.state.readings
    assert [r.shown for r in hand.state.struck] == [150.0]
    assert [line.cancelled for line in hand.state.log][-1]
    hand.say(cm.Redo())
    assert [r.shown for r in hand.state.readings] == [150.0]
    assert hand.state.struck == ()


def test_a_refused_command_changes_nothing() -> None:
    hand = Hand().cook_to(10 * 60)
    before = hand.state
    for command in (
        cm.Done(cue="add.0.1.-.0"),
        cm.TakeOut(component=1),
        cm.TakeOut(component=9),
        cm.Back(),
        cm.HeatOn(),
        cm.Dial(appliance=7, seconds=1),
        cm.ServeAt(at=5),
        cm.Skip(component=0),
    ):
        outcome = tell(hand.state, command, hand.now)
        assert outcome.refusal
        assert outcome.state == before
        assert outcome.events == ()


def test_serve_at_holds_back_what_is_still_free() -> None:
    hand = Hand().cook_to(2 * 60)
    assert hand.say(cm.ServeAt(at=60 * 60)) is None
    assert hand.state.schedule.dish_up == 60 * 60
    assert hand.state.schedule.starts[0][1] >= 20 * 60


def test_skip_leaves_a_component_out() -> None:
    hand = Hand().cook_to(2 * 60)
    assert hand.say(cm.Skip(component=2)) is None
    assert not any("green beans" in text for text in hand.offered())
    hand.cook_to(30 * 60)
    assert hand.state.steps[2][1].began is None


def test_going_on_finishes_the_work_before() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    hand.done("ADD carrots")
    assert hand.state.steps[0][0].ended == 6 * 60


def test_a_whole_meal_can_be_cooked_and_dished_up() -> None:
    hand = Hand().cook_to(33 * 60)
    for place in ("1", "2"):
        hand.say(cm.Probe(component=1, place=place, shown=170.0, scale="F"))
    hand.cook_to(60 * 60)
    assert hand.state.served == hand.state.schedule.dish_up
    assert hand.say(cm.Mark()) == "the meal has been dished up; only notes can be added"
    assert hand.say(cm.Note(text="crisp enough")) is None


def test_dish_up_waits_for_food_on_the_heat() -> None:
    hand = Hand().cook_to(36 * 60)
    refusal = hand.say(cm.Done(cue="dish_up.0.0.-.0"))
    assert refusal is not None
    assert "on the heat" in refusal


def test_a_burner_without_stages_boils_up_before_its_food() -> None:
    hand = Hand(CHOPS)
    schedule = hand.state.schedule
    rice = schedule.starts[1][0]
    assert schedule.on[1] == rice - 8 * 60
    kinds = [text for text in hand.offered() if "back burner" in text]
    assert [k.split(" back")[0] for k in kinds] == ["SWITCH ON", "READY?", "SWITCH OFF"]


def test_a_component_that_is_a_single_finish_has_its_line() -> None:
    hand = Hand(CHOPS)
    assert any("butter" in text for text in hand.offered())


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


def test_no_meal_without_its_start() -> None:
    assert Hand(TRAY, serve=3600).state.schedule.dish_up == 3600


def test_the_oven_is_not_switched_while_food_of_the_stage_before_is_in() -> None:
    data = dict(TRAY)
    data["component"] = [
        {
            "name": "fish",
            "food": "fish",
            "steps": [step("cook", "in", "16 min", on="oven", stage="roast", until="63 °C")],
        },
        TRAY["component"][2],
    ]
    hand = Hand(plan_of(data))
    out = hand.state.schedule.ends[0][0]
    hand.cook_to(out).at(out + 120)
    assert not any("SWITCH oven" in text for text in hand.due())
    hand.say(cm.Probe(component=0, shown=64.0, scale="C"))
    hand.done("TAKE OUT fish")
    assert any("SWITCH oven" in text for text in hand.due())
