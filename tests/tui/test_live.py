"""The desk of a real cook: keys and typed lines become commands, with the guards between keys."""

import asyncio
from pathlib import Path
from typing import Any

import pytest

from passbell.clock import HandClock
from passbell.cook.cards import first_cue, is_due
from passbell.cook.commands import Done, Probe
from passbell.cook.cues import cues
from passbell.cook.display import display_at
from passbell.cook.together import joint_openings
from passbell.cook.wake import next_wake
from passbell.cook.words import ANY_TIME
from passbell.journal import Journal
from passbell.plan.read import read_plan
from passbell.session import CookSession
from passbell.session.outlooks import Outlooks
from passbell.tui.live import LiveDesk
from tests.cook.meals import CHOPS, TRAY, plan_of, step
from tests.cook.test_outlook import ROAST as CHOPS_AND_POTATOES
from tests.cook.test_ways import ROAST
from tests.session.test_session import PLAN
from tests.tui.real_cook import RealCook

ONIONS = step("cook", "in", "20 min", on="oven", during=[{"at": "11 min 30 s", "do": "turn them"}])
TWO_OPENINGS: dict[str, Any] = {
    "title": "Invented vegetables",
    "serves": 1,
    "appliance": [{"name": "oven"}],
    "component": [
        {"name": "onions", "steps": [ONIONS]},
        {"name": "leeks", "steps": [step("cook", "in", "10 min", on="oven")]},
    ],
}


class Kitchen:
    """A desk with a clock moved by hand."""

    def __init__(self, data: dict[str, Any] = TRAY) -> None:
        self.clock = HandClock(utc=1_800_000_000.0, awake=100.0)
        self.session = CookSession.begin(plan_of(data), self.clock)
        self.desk = LiveDesk(self.session, None, lambda: self.clock.now().awake)
        self.view = self.desk.tick()

    def wait(self, seconds: float) -> "Kitchen":
        self.clock.move(seconds)
        self.view = self.desk.tick()
        return self

    def press(self, action: str, after: float = 1.0) -> "Kitchen":
        self.wait(after)
        self.desk.press(action)  # type: ignore[arg-type]
        self.view = self.desk.tick()
        return self

    def to(self, now: int) -> "Kitchen":
        """Let time pass to an engine instant, doing what falls due a second after it does."""
        while self.session.now() < now:
            wake = next_wake(self.session.state) or now
            self.clock.move(max(1, min(wake, now) - self.session.now()))
            self.session.tick()
            while (cue := first_cue(self.session.state)) and is_due(self.session.state, cue):
                self.clock.move(1)
                self.session.tick()
                self.session.tell(Done(cue=cue.key.id))
        self.view = self.desk.tick()
        return self


@pytest.fixture
def kitchen() -> Kitchen:
    return Kitchen()


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


def test_any_key_stops_the_sound_of_the_cue_shown(kitchen: Kitchen) -> None:
    kitchen.press("silence")
    assert kitchen.view.cards[0].lines[0].standing == "seen"


def test_longer_opens_a_change_that_grows_and_is_taken_by_itself(kitchen: Kitchen) -> None:
    kitchen.to(23 * 60).press("longer").press("longer")
    pending = kitchen.view.pending
    assert pending is not None
    assert "+2 min" in pending.words
    assert pending.left == 8
    effects = {e.name: e.words for e in pending.effects}
    assert effects["dish-up"] == "2 min later"
    before = kitchen.session.state.commands
    kitchen.wait(7.9)
    assert kitchen.session.state.commands == before
    kitchen.wait(0.2)
    assert kitchen.session.state.commands == before + 1
    assert kitchen.view.pending is None


def test_escape_drops_a_change_and_nothing_is_recorded(kitchen: Kitchen) -> None:
    kitchen.to(8 * 60)
    before = kitchen.session.state.commands
    kitchen.press("longer").press("drop").wait(20)
    assert kitchen.view.pending is None
    assert kitchen.session.state.commands == before


def test_shorter_takes_longer_back(kitchen: Kitchen) -> None:
    kitchen.to(8 * 60).press("longer").press("shorter")
    assert kitchen.view.pending is None


def test_done_takes_the_change_and_not_the_cue(kitchen: Kitchen) -> None:
    kitchen.to(8 * 60).press("longer")
    expected = kitchen.view.pending
    assert expected is not None
    cue = kitchen.view.cards[0].lines[0].cue
    kitchen.press("done")
    assert kitchen.view.pending is None
    assert kitchen.view.cards[0].lines[0].cue == cue


def test_what_a_change_shows_is_what_it_does(kitchen: Kitchen) -> None:
    kitchen.to(8 * 60)
    ends = kitchen.session.state.schedule.ends
    kitchen.press("longer")
    pending = kitchen.view.pending
    assert pending is not None
    promised = {e.name: e.change for e in pending.effects}
    kitchen.press("done")
    after = kitchen.session.state.schedule.ends
    for index, component in enumerate(kitchen.session.state.plan.components):
        place = component.last_cook
        assert place is not None
        change = after[index][place] - ends[index][place]
        assert promised[component.name] == pytest.approx(change, abs=3)


def test_a_selected_row_is_what_longer_means(kitchen: Kitchen) -> None:
    kitchen.to(30 * 60)
    kitchen.desk.select(2)
    kitchen.press("longer")
    pending = kitchen.view.pending
    assert pending is not None
    assert pending.words.startswith("green beans alone: +1 min")
    assert kitchen.view.rows[2].selected


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


def test_a_reading_with_its_unit_leaves_the_next_bare_number_in_the_thermometers_own(
    kitchen: Kitchen,
) -> None:
    """66c and then 95, meant as °F, once read as 95 °C: raw chicken at its minimum."""
    kitchen.to(33 * 60 + 10)
    assert kitchen.desk.enter("1 66c")
    assert kitchen.wait(0.2).view.probe.scale == "F"
    assert kitchen.desk.enter("1 95")
    assert kitchen.desk.enter("2 95")
    assert [r.scale for r in kitchen.session.state.readings] == ["C", "F", "F"]
    assert kitchen.wait(0.2).view.probe.verdict == "BELOW"


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


def test_readings_are_judged_and_the_box_says_what_to_do(kitchen: Kitchen) -> None:
    kitchen.to(33 * 60 + 10)
    assert kitchen.view.probe.component == "chicken thighs"
    assert kitchen.view.probe.minimum == "165 °F"
    assert kitchen.desk.enter("150")
    kitchen.wait(0.2)
    assert kitchen.desk.enter("2 170")
    probe = kitchen.wait(0.2).view.probe
    assert probe.verdict == "BELOW"
    assert [m.reached for m in probe.readings] == [False, True]
    assert kitchen.view.rows[1].alert.startswith("BELOW by 15 °F, look again in")
    kitchen.desk.enter("1 168")
    kitchen.wait(0.2)
    assert kitchen.view.probe.verdict == "minimum met"
    assert any(line.verb == "TAKE OUT" for card in kitchen.view.cards for line in card.lines)


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


def test_serve_at_waits_for_done_and_says_what_is_still_free(kitchen: Kitchen) -> None:
    kitchen.press("done").wait(60)
    wanted = kitchen.session.state.schedule.dish_up + 20 * 60
    assert kitchen.desk.ask("serve_at", "+20")
    pending = kitchen.wait(30).view.pending
    assert pending is not None
    assert pending.left is None
    assert pending.notes[0].startswith("free until ")
    assert pending.notes[0].endswith("then in with carrots")
    assert pending.notes[1].startswith("can still be held back: carrots (20 min later)")
    kitchen.press("done")
    assert kitchen.session.state.serve == wanted
    assert not kitchen.desk.ask("serve_at", "soon")


def test_leaving_asks_while_something_is_hot(kitchen: Kitchen) -> None:
    assert kitchen.desk.leave() == ""
    kitchen.to(8 * 60)
    assert kitchen.desk.leave().startswith("carrots is on the heat")


def test_say_it_all(kitchen: Kitchen) -> None:
    kitchen.to(30 * 60)
    lines = kitchen.desk.everything()
    assert any(line.startswith("carrots: on the oven since") for line in lines)
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


def test_a_digit_takes_a_way_out() -> None:
    kitchen = Kitchen(ROAST)
    kitchen.to(15 * 60)
    kitchen.desk.select(2)
    for _ in range(4):
        kitchen.press("longer")
    pending = kitchen.view.pending
    assert pending is not None
    assert pending.ways[0].words.startswith("rest pork 4 min less: dish-up unchanged")
    assert kitchen.desk.choose(1)
    assert kitchen.wait(0.1).view.pending is None
    assert kitchen.session.state.steps[2][1].extra == pytest.approx(-240, abs=3)
    assert not kitchen.desk.choose(1), "a digit is a reading again"


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


def test_the_take_out_key_puts_back_what_came_out_too_early(kitchen: Kitchen) -> None:
    kitchen.to(32 * 60)
    kitchen.desk.select(1)
    kitchen.press("take_out")
    line = kitchen.view.cards[0].lines[0]
    assert (line.verb, line.what) == ("PUT BACK", "chicken thighs")
    assert kitchen.view.rows[1].alert.endswith("put back, keep going")
    assert kitchen.view.rows[0].words.endswith("stays with chicken thighs")
    kitchen.press("take_out", after=30)
    assert kitchen.session.state.steps[1][1].running
    kitchen.desk.enter("chicken 150")
    kitchen.press("take_out")
    kitchen.press("done", after=2)
    assert kitchen.session.state.steps[1][1].running, "Done on the cue does it as well"


class Roasting(Kitchen):
    """A desk over invented chops that have been in for sixteen minutes."""

    def __init__(self) -> None:
        super().__init__(CHOPS_AND_POTATOES)
        self.desk._outlooks = Outlooks(beside=False)
        self.to(self.session.state.schedule.starts[0][0] + 16 * 60 - 1)


def test_the_forecast_stands_in_the_box_and_on_the_row() -> None:
    kitchen = Roasting()
    assert kitchen.desk.enter("chops 35c")
    kitchen.wait(1)
    probe, row = kitchen.view.probe, kitchen.view.rows[0]
    assert probe.expect[0].startswith("146 °F expected in about ")
    assert "look in " in probe.expect[0]
    assert any("passes nothing" in line for line in probe.expect)
    assert row.expect.startswith("146 °F in ~")
    assert kitchen.view.rows[1].share is not None
    assert "to go" in kitchen.view.rows[1].expect


def test_what_is_there_is_not_expected_any_more() -> None:
    """Pork, US chart: 145 °F (FSIS); the plan cooks it until 63 °C."""
    kitchen = Roasting()
    for place in ("1", "2"):
        assert kitchen.desk.enter(f"chops {place} 66c")
        kitchen.wait(1)
    probe, row = kitchen.view.probe, kitchen.view.rows[0]
    assert [line for line in probe.expect if not line.startswith("Once out")] == []
    assert probe.offer == ""
    assert row.expect == row.soon == ""


def test_an_end_that_moves_is_offered_and_waits_for_done() -> None:
    kitchen = Roasting()
    kitchen.desk.enter("chops 24c")
    kitchen.wait(1)
    assert "longer shows all" in kitchen.view.probe.offer
    kitchen.wait(60)
    assert kitchen.session.state.steps[0][0].extra == 0
    pending = kitchen.press("longer").view.pending
    assert pending is not None
    assert pending.words.startswith("chops alone: +")
    assert pending.left is None
    assert [e.name for e in pending.effects][-1] == "dish-up"
    assert kitchen.wait(30).view.pending is not None
    assert kitchen.press("drop").view.pending is None
    assert kitchen.session.state.steps[0][0].extra == 0
    assert kitchen.view.probe.offer == ""


def test_an_oven_set_otherwise_is_typed_where_its_display_is() -> None:
    kitchen = Roasting()
    assert kitchen.desk.ask("display", "180 C")
    assert kitchen.wait(1).view.appliances[0].mode.endswith("set to 180 °C")
    assert kitchen.desk.ask("display", "oven 5:00")
    assert kitchen.session.state.appliances[0].dial is not None


async def test_forecasts_are_worked_out_beside_the_screen() -> None:
    """The first answer is not waited for; it is there soon, and the same as when it is."""
    kitchen = Roasting()
    beside, waited = Outlooks(), Outlooks(beside=False)
    state = kitchen.session.state
    try:
        beside.look(state)
        for _ in range(400):
            if 0 in beside.look(state):
                break
            await asyncio.sleep(0.01)
        assert beside.look(state) == waited.look(state)
    finally:
        beside.close()


def test_serving_later_says_how_long_what_is_on_the_heat_would_hold(kitchen: Kitchen) -> None:
    kitchen.to(28 * 60)
    assert kitchen.desk.ask("serve_at", "+10")
    pending = kitchen.wait(1).view.pending
    assert pending is not None
    assert pending.notes == (
        "nothing can be held back any more",
        "on the heat, cannot be held back: carrots would hold 15 min, 5 min too long, "
        "chicken thighs would hold 10 min, green beans would hold 15 min, 5 min too long",
    )


def test_serve_at_offers_to_hold_back_what_would_wait_too_long(kitchen: Kitchen) -> None:
    kitchen.to(23 * 60)
    kitchen.desk.ask("serve_at", "+19")
    pending = kitchen.wait(1).view.pending
    assert pending is not None
    assert pending.ways[0].words.startswith("add green beans 24 min later: dish-up 19 min later")
    start = kitchen.session.state.schedule.starts[2][1]
    assert kitchen.desk.choose(1)
    assert kitchen.session.state.schedule.starts[2][1] == pytest.approx(start + 24 * 60, abs=5)
    assert kitchen.wait(1).view.pending is None


def test_a_typed_change_is_shown_before_it_is_taken(kitchen: Kitchen) -> None:
    kitchen.to(30 * 60)
    before = kitchen.session.state.commands
    assert kitchen.desk.enter("longer beans 3")
    pending = kitchen.wait(1).view.pending
    assert pending is not None
    assert pending.words.startswith("green beans alone: +3 min")
    assert kitchen.session.state.commands == before
    kitchen.wait(9)
    assert kitchen.session.state.steps[2][1].extra == 180
    assert not kitchen.desk.enter("longer pork 3")


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


def test_nothing_is_joined_that_was_not_proposed() -> None:
    kitchen = Kitchen(TWO_OPENINGS).to(60)
    assert joint_openings(kitchen.session.state, kitchen.session.now(), ANY_TIME)
    assert kitchen.view.together == ""
    before = kitchen.session.state.commands
    kitchen.press("together")
    assert kitchen.session.state.commands == before
    assert any("no two openings" in notice for notice in kitchen.view.notices)


def test_two_openings_near_each_other_are_proposed_and_one_key_makes_them_one() -> None:
    kitchen = Kitchen(TWO_OPENINGS).to(7 * 60)
    words = kitchen.view.together
    assert words.startswith("together at ")
    assert words.endswith(" with ADD leeks? dish-up unchanged; TURN onions 90 s earlier")
    kitchen.press("together")
    assert kitchen.view.together == ""
    kitchen.wait(3 * 60 + 5)
    assert [line.verb for line in kitchen.view.cards[0].lines] == ["TURN", "ADD"]
    kitchen.press("together")
    assert any("no two openings" in notice for notice in kitchen.view.notices)


def silent(kitchen: Kitchen) -> list[bool]:
    """Whether the cues that are due have been seen."""
    return [known.seen for _, known in kitchen.session.state.cues]


def commands(kitchen: Kitchen) -> list[str]:
    return [line.words.split()[0] for line in kitchen.session.state.log]


def test_a_cue_that_done_performs_needs_no_word_that_it_was_seen(kitchen: Kitchen) -> None:
    assert kitchen.press("done").session.state.steps[0][0].began == 1
    assert commands(kitchen) == ["begun:"]


def test_a_cue_that_done_does_not_perform_is_seen(kitchen: Kitchen) -> None:
    kitchen.press("longer").press("done")
    assert kitchen.view.pending is None
    assert commands(kitchen)[0] == "seen"
    assert silent(kitchen)[0]


def test_a_done_taken_back_leaves_the_cue_as_silent_as_it_was(kitchen: Kitchen) -> None:
    before = kitchen.session.state.cues[0]
    assert not before[1].seen
    kitchen.press("done").press("take_back")
    after = kitchen.session.state.cues[0]
    assert (after[0], after[1].since, after[1].seen) == (before[0], before[1].since, True)
    assert kitchen.session.state.steps[0][0].began is None


def test_what_was_told_just_before_the_end_is_still_unread(kitchen: Kitchen) -> None:
    kitchen.press("done")
    kitchen.clock.sleep(1200)
    kitchen.desk.press("silence")
    told = kitchen.desk.tick().notices
    assert told[0].startswith("The computer slept 20:00")
    kitchen.wait(1)
    kitchen.desk.close()
    assert kitchen.desk.unread() == told


def test_what_was_told_long_before_the_end_has_been_read(kitchen: Kitchen) -> None:
    kitchen.clock.sleep(1200)
    assert kitchen.desk.tick().notices
    kitchen.wait(3).wait(3)
    kitchen.desk.close()
    assert kitchen.desk.unread() == ()


def test_what_takes_two_presses_is_begun_and_then_done(kitchen: Kitchen) -> None:
    kitchen.to(8 * 60)
    told = [line.words for line in kitchen.session.state.log if "PREPARE" in line.words]
    assert told[:2] == ["begun: PREPARE carrots — peel", "done: PREPARE carrots — peel"]


def test_now_says_how_long_food_still_rests() -> None:
    view = RealCook().to(2930).desk.tick()
    finish = next(c for c in view.following if (c.verb, c.what) == ("FINISH", "chicken thighs"))
    assert finish.how == "rest 0:48 more; lemon juice over, onto the plates"


def test_what_is_out_of_the_oven_has_nothing_to_go() -> None:
    """The beans came out a minute early: that is no longer a time still to come."""
    rows = {row.name: row for row in RealCook().to(2990).desk.tick().rows}
    assert rows["carrots"].expect == "1 min short"
    assert not any("to go" in row.expect for row in rows.values())
