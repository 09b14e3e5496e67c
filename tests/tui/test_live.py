"""The desk of a real cook: keys and typed lines become commands, with the guards between keys."""

from pathlib import Path

from passbell.clock import HandClock
from passbell.cook.commands import Done, Probe
from passbell.cook.cues import cues
from passbell.cook.display import display_at
from passbell.journal import Journal
from passbell.plan.read import read_plan
from passbell.session import CookSession
from passbell.tui.live import LiveDesk
from tests.cook.meals import CHOPS, step
from tests.session.test_session import PLAN
from tests.tui.live_kitchen import Kitchen, Roasting
from tests.tui.real_cook import RealCook


def test_done_does_the_first_line_of_now(kitchen: Kitchen) -> None:
    first = kitchen.view.cards[0].lines[0]
    assert (first.verb, first.what, first.tone) == ("PREPARE", "carrots", "due")
    kitchen.press("done")
    assert kitchen.session.state.steps[0][0].began == 1


def test_a_line_that_has_just_become_first_takes_done_only_in_a_moment(kitchen: Kitchen) -> None:
    def done() -> int:
        return sum(line.words.startswith(("begun", "done")) for line in kitchen.session.state.log)

    kitchen.press("done")
    assert done() == 1
    kitchen.press("done", after=0.3)
    assert done() == 1, "a wet double tap marks one"
    assert not kitchen.view.cards[0].lines[0].ready
    kitchen.press("done", after=0.5)
    assert done() == 2


def test_away_and_back_tells_where_she_was(kitchen: Kitchen) -> None:
    kitchen.to(18 * 60).press("silence").press("away")
    kitchen.wait(90)
    assert kitchen.view.hands.away == 90
    kitchen.press("away")
    assert kitchen.view.hands.away is None
    assert kitchen.view.interruption[0] == "back in the kitchen"
    assert any(line.startswith("you were: begun: ") for line in kitchen.view.interruption)
    kitchen.press("away")
    assert not kitchen.view.interruption, "what was before is over when she goes again"


def test_what_the_program_remarks_on_an_act_is_told_at_once() -> None:
    kitchen = Kitchen()
    kitchen.to(25 * 60).press("heat_off")
    kitchen.press("heat_off", after=60)
    assert "food kept cooling or cooking by itself: look earlier" in kitchen.view.notices
    assert kitchen.wait(1).view.notices == ()
    kitchen.desk.enter("heat 300 F")
    assert any("325" in text for text in kitchen.wait(1).view.notices)
    kitchen.desk.select(1)
    kitchen.press("take_out")
    assert any("taken out before its minimum was read" in t for t in kitchen.view.notices)


def test_an_oven_that_is_hot_says_when_its_program_starts_not_the_mode_twice() -> None:
    kitchen = Kitchen()
    kitchen.to(4 * 60).press("ready")
    oven = kitchen.view.appliances[0]
    assert oven.standing == "hot"
    assert oven.coming.startswith("start in ")


def test_heat_off_for_the_selected_components_appliance_and_on_again() -> None:
    kitchen = Kitchen(CHOPS)
    kitchen.to(kitchen.session.state.schedule.starts[1][0] + 30)
    kitchen.desk.select(1)
    kitchen.press("heat_off")
    standing = {a.name: a.standing for a in kitchen.view.appliances}
    assert standing["back burner"] == "stopped"
    assert standing["pan"] != "stopped"
    kitchen.press("heat_off", after=60)
    assert kitchen.view.appliances[1].standing == "on"


def test_another_serving_time_is_told_by_the_clock_however_long_it_waits(kitchen: Kitchen) -> None:
    kitchen.to(12 * 60)
    assert kitchen.desk.enter("serve +15")
    told = kitchen.wait(0.2).view.pending
    assert told is not None
    assert told.words == f"serve at {told.dish_up}"
    later = kitchen.wait(50).view.pending
    assert later is not None
    assert later.words == told.words


def test_what_is_not_understood_is_said_and_changes_nothing(kitchen: Kitchen) -> None:
    kitchen.press("silence")
    before = kitchen.session.state.commands
    assert not kitchen.desk.enter("abc")
    assert "no reading and no command" in kitchen.wait(0.1).view.probe.refusal
    assert kitchen.session.state.commands == before
    kitchen.press("drop")
    assert kitchen.view.probe.refusal == ""


def test_a_stage_not_yet_switched_shows_its_own_display_and_what_is_typed_wins() -> None:
    cook = RealCook().to(1700)
    for _ in range(36):
        cook._move(10)
    assert cook.desk.tick().appliances[0].display == "0:00"
    assert display_at(cook.state, 0, cook.state.at) == 0, "a cue due now says so too"
    assert cook.desk.ask("display", "oven 9:30")
    assert cook.desk.tick().appliances[0].display == "9:30"


def test_why_a_key_did_nothing_is_an_answer_and_no_message(kitchen: Kitchen) -> None:
    kitchen.press("silence").press("redo")
    view = kitchen.view
    assert view.answers
    assert set(view.answers) <= set(view.notices)


def test_leaving_asks_while_something_is_hot(kitchen: Kitchen) -> None:
    assert kitchen.desk.leave() == ""
    kitchen.to(8 * 60)
    assert kitchen.desk.leave().startswith("carrots is on the heat")


def test_say_it_all(kitchen: Kitchen) -> None:
    kitchen.to(30 * 60)
    lines = kitchen.desk.everything()
    assert any(line.startswith("carrots: on the heat (oven) since") for line in lines)
    assert "chicken thighs: not yet at its minimum" in lines
    kitchen.session.tell(Probe(component=1, shown=150.0, scale="F"))
    (alert,) = [row.alert for row in kitchen.wait(1).view.rows if row.alert]
    assert alert.startswith("BELOW by 15 °F")
    assert f"chicken thighs: {alert}" in kitchen.desk.everything()


def test_the_quiet_key_goes_round(kitchen: Kitchen) -> None:
    assert [kitchen.press("quiet").view.quiet for _ in range(4)] == [30, 60, 90, None]


def test_a_neighbour_of_raw_meat_says_with_whom_it_stays(kitchen: Kitchen) -> None:
    kitchen.to(30 * 60)
    assert kitchen.view.rows[0].words.endswith("stays with chicken thighs")
    assert kitchen.view.rows[0].raw
    assert kitchen.view.rows[1].raw


def test_the_display_reads_program_and_spare(kitchen: Kitchen) -> None:
    kitchen.to(22 * 60 + 30)
    oven = kitchen.view.appliances[0]
    assert oven.mode == "air fry 375 °F"
    assert oven.display is not None
    minutes, seconds = oven.display.split(":")
    assert 16 * 60 <= int(minutes) * 60 + int(seconds) <= 17 * 60


def test_take_back_shows_in_the_list_of_steps(kitchen: Kitchen) -> None:
    kitchen.press("done").press("take_back")
    assert kitchen.view.steps_back[0].startswith("taken back: begun: PREPARE carrots")
    kitchen.press("redo")
    assert kitchen.view.steps_back[0].startswith("begun: PREPARE carrots")


def test_a_cook_gone_on_with_says_where_it_stood(tmp_path: Path) -> None:
    clock = HandClock(utc=1_800_000_000.0, awake=100.0)
    with Journal.open(tmp_path) as journal:
        plan = read_plan(PLAN, "eggs")
        session = CookSession.begin(plan, clock, book=(journal, "eggs", PLAN))
        clock.move(10)
        session.tell(Done(cue="prep.0.0.begin.0"))
        clock.move(300)
        again = CookSession.resume(journal, 1, clock)
        view = LiveDesk(again, None, lambda: clock.now().awake).tick()
    assert view.interruption[0].startswith("gone on with, since ")
    assert view.interruption[1] == "you were: begun: PREPARE eggs — whisk, 5:00 ago"
    assert view.interruption[2].startswith("due now: ADD eggs")
    assert any("ADD eggs" in notice for notice in view.notices)


def test_an_oven_set_otherwise_is_typed_where_its_display_is() -> None:
    kitchen = Roasting()
    assert kitchen.desk.ask("display", "180 C")
    assert kitchen.wait(1).view.appliances[0].mode.endswith("set to 180 °C")
    assert kitchen.desk.ask("display", "oven 5:00")
    assert kitchen.session.state.appliances[0].dial is not None


def test_what_is_on_the_table_is_no_longer_being_finished() -> None:
    steps = [step("cook", "warm", "5 min", on="pot"), step("finish", "into bowls", "2 min")]
    kitchen = Kitchen(
        {
            "title": "Soup, invented",
            "serves": 1,
            "appliance": [{"name": "pot"}],
            "component": [{"name": "soup", "steps": steps}],
        }
    ).to(5 * 60 + 30)
    assert kitchen.view.rows[0].state == "finish"
    table = next(c for c in cues(kitchen.session.state) if c.key.kind == "dish_up")
    assert kitchen.session.tell(Done(cue=table.key.id)) is None
    assert kitchen.wait(1).view.rows[0].state == "plated"


def test_now_says_how_long_food_still_rests() -> None:
    view = RealCook().to(2930).desk.tick()
    finish = next(c for c in view.following if (c.verb, c.what) == ("FINISH", "chicken thighs"))
    assert finish.how == "rest 0:38 more; lemon juice over, onto the plates"


def test_what_is_out_of_the_oven_has_nothing_to_go() -> None:
    """The beans came out a minute early: that is no longer a time still to come."""
    rows = {row.name: row for row in RealCook().to(2990).desk.tick().rows}
    assert rows["carrots"].expect == "1 min short"
    assert not any("done in" in row.expect for row in rows.values())
