"""The heat and its clock: off and on again, longer and shorter, ready or not, and the display."""

from passbell.cook import commands as cm
from passbell.cook.cues import cues
from tests.cook.meals import CHOPS, TRAY, Hand, plan_of, step


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


def test_a_burner_without_stages_boils_up_before_its_food() -> None:
    hand = Hand(CHOPS)
    schedule = hand.state.schedule
    rice = schedule.starts[1][0]
    assert schedule.on[1] == rice - 8 * 60
    kinds = [text for text in hand.offered() if "back burner" in text]
    assert [k.split(" back")[0] for k in kinds] == ["SWITCH ON", "READY?", "SWITCH OFF"]


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


def test_what_food_asks_of_an_appliance_without_a_program_is_said_as_it_goes_in() -> None:
    first = step("cook", "sear", "5 min", on="oven", temp="230 °C", mode="bake")
    then = step("cook", "turn down, finish", "20 min", on="oven", temp="150 °C")
    data = {
        "title": "Invented roots",
        "serves": 1,
        "appliance": [{"name": "oven"}],
        "component": [{"name": "roots", "food": "plant", "steps": [first, then]}],
    }
    adds = [cue.how for cue in cues(Hand(plan_of(data)).state) if cue.verb == "ADD"]
    assert adds == [
        "set the oven to bake at 230 °C; sear",
        "set the oven to 150 °C; turn down, finish",
    ]
    assert "set the" not in Hand(TRAY).find("ADD carrots").how
