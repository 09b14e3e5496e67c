"""Changes at the desk of a real cook: shown with what they move, then taken or dropped."""

from typing import Any

import pytest

from passbell.cook.together import joint_openings
from passbell.cook.words import ANY_TIME
from tests.cook.meals import step
from tests.cook.test_ways import ROAST
from tests.tui.live_kitchen import Kitchen

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


def test_serve_at_waits_for_done_and_says_what_is_still_free(kitchen: Kitchen) -> None:
    kitchen.press("done").wait(60)
    wanted = kitchen.session.state.schedule.dish_up + 20 * 60
    assert kitchen.desk.ask("serve_at", "+20")
    pending = kitchen.wait(30).view.pending
    assert pending is not None
    assert pending.left is None
    assert pending.notes[0].startswith("choose by ")
    assert pending.notes[0].endswith("then ADD carrots")
    assert pending.notes[1].startswith("can wait: carrots (20 min later)")
    kitchen.press("done")
    assert kitchen.session.state.serve == wanted
    assert not kitchen.desk.ask("serve_at", "soon")


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


def test_serving_later_says_how_long_what_is_on_the_heat_would_hold(kitchen: Kitchen) -> None:
    kitchen.to(28 * 60)
    assert kitchen.desk.ask("serve_at", "+10")
    pending = kitchen.wait(1).view.pending
    assert pending is not None
    assert pending.notes == (
        "nothing can wait any more: carrots would hold 15 min, 5 min too long; "
        "chicken thighs would hold 10 min; green beans would hold 15 min, 5 min too long",
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
