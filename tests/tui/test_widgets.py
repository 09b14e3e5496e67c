"""What the other widgets draw: top line, hands, appliances, keys, foot, help and pages."""

from dataclasses import replace

import pytest

from passbell.tui.keys import standard
from passbell.tui.paint import Line, Run, width_of
from passbell.tui.screens.before import draw_before
from passbell.tui.typed import Typed
from passbell.tui.views.model import (
    DishUp,
    Hands,
)
from passbell.tui.widgets.appliances import draw_appliance
from passbell.tui.widgets.cover import draw_help
from passbell.tui.widgets.foot import FootPart, draw_foot
from passbell.tui.widgets.hands import draw_hands
from passbell.tui.widgets.headline import draw_head, draw_side, head_part
from passbell.tui.widgets.keyline import KeyLine, draw_keys
from passbell.tui.widgets.page import Drawn, Page
from passbell.tui.widgets.probe import Typing
from tests.tui.drawn import text, texts
from tests.tui.sample import (
    APPLIANCES,
    COMING,
    DISH_UP,
    HANDS,
    PENDING,
    PROBE,
)
from tests.tui.sample_pages import BEFORE


def test_an_appliance_says_what_its_display_should_read() -> None:
    drawn = text(draw_appliance(APPLIANCES[0], 80, 4))
    for words in ("oven", "hot, convection roast 400 °F", "timer 9:41", "crisp: air fry 375 °F"):
        assert words in drawn
    alert = replace(APPLIANCES[0], alert="switches itself off in 2:10")
    assert "! switches itself off in 2:10" in text(draw_appliance(alert, 80, 4))
    assert "in it: chicken thighs, carrots" in text(draw_appliance(APPLIANCES[0], 160, 4))


@pytest.mark.parametrize(
    ("hands", "words"),
    [
        (HANDS, "FREE 4:10, then ADD green beans"),
        (replace(HANDS, free=0, busy="trim beans"), "BUSY trim beans"),
        (replace(HANDS, free=None), "FREE, nothing more to do"),
        (replace(HANDS, away=95), "AWAY, gone 1:35"),
        (
            replace(HANDS, fits=False),
            "later trim beans, 3 min: begin in 1:10, after ADD green beans",
        ),
        (HANDS, "meanwhile trim beans, 3 min: time for it now, or begin in 1:10"),
        (
            replace(HANDS, busy="peel"),
            "after that trim beans, 3 min: time for it, or begin in 1:10",
        ),
        (replace(HANDS, fits=None), "next trim beans, 3 min: begin in 1:10"),
        (HANDS, "dish-up: slack 2:00"),
    ],
)
def test_the_hands(hands: Hands, words: str) -> None:
    assert words in texts(draw_hands(hands, 80, 2))


def test_the_top_line_has_time_dish_up_and_flags() -> None:
    view = replace(COMING, sound="bell only", quiet=42, rehearsal=60.0)
    drawn = text(draw_head(head_part(view), 120))
    for words in ("18:12:05", "dish up 18:45, now 18:48 +3 min", "rehearsal ×60", "quiet 0:42",
                  "bell only"):  # fmt: skip
        assert words in drawn
    on_time = DishUp("18:45", "18:45", 1800, 0, "")
    planned = draw_head(head_part(replace(COMING, dish_up=on_time)), 80)
    assert "dish up 18:45 as planned" in text(planned)
    side = texts(draw_side(DISH_UP, COMING.steps_back, (), 50, 5))
    assert "planned 18:45, chicken thighs 3 min longer" in side
    assert "turned carrots 18:06" in side


def test_the_odds_give_way_to_dish_up_time_and_acts_and_their_figures_are_whole() -> None:
    odds = ("7 in 10 by 18:50", "1 in 10 past 18:56", "our estimate; most on carrots: onto a tray")
    on_time = DishUp("18:45", "18:45", 1800, 0, "")
    view = replace(COMING, dish_up=on_time, odds=odds)
    for width in (60, 80, 120):
        drawn = text(draw_head(head_part(view), width))
        assert "dish up 18:45 as planned, 7 in 10 by 18:50" in drawn
    narrow = replace(view, sound="sound: bell only", rehearsal=30.0)
    assert "7 in" not in text(draw_head(head_part(narrow), 66))
    for height, lines in ((3, 0), (5, 2)):
        side = texts(draw_side(on_time, COMING.steps_back, odds, 50, height))
        assert side.count("\n") == height - 1
        assert "turned carrots 18:06" in side
        assert ("ODDS 7 in 10 by 18:50, 1 in 10 past 18:56" in side) == bool(lines)
        assert ("most on carrots: onto" in side) == bool(lines)


def test_a_line_being_typed_goes_before_the_ways_out() -> None:
    part = FootPart(PENDING.probe, PENDING.pending, Typing(Typed("15", 2), "note", "hint"))
    assert "note  15▏" in texts(draw_foot(part, 80, 5))
    refused = part._replace(probe=replace(PROBE, refusal="no such time; write 19:00"))
    assert "not understood: no such time; write 19:00" in texts(draw_foot(refused, 80, 5))


def test_the_question_before_leaving_goes_before_all() -> None:
    part = FootPart(PENDING.probe, PENDING.pending, None, "The oven is on. Leave?")
    drawn = texts(draw_foot(part, 80, 5))
    assert "The oven is on. Leave?" in drawn
    assert "1  leave, the cook can be resumed" in drawn
    assert "2  stay" in drawn


def test_the_keys_shown_are_where_they_can_be_pressed() -> None:
    lines = draw_keys(standard(), ("done", "ready"), 80, 2)
    assert text(lines[0]).strip().startswith("Enter done  r hot now")
    assert text(lines[1]).rstrip().endswith("F1 help")
    assert all(width_of(line) <= 80 for line in lines)
    wide = texts(draw_keys(standard(), (), 400, 1))
    assert all(key in wide for key in ("serve at", "take back", "say it all", "leave"))


def test_help_has_every_function_and_fits_eighty_by_twenty_four() -> None:
    lines = draw_help(standard(), 75)
    assert len(lines) <= 14
    for words in ("Now's first line: done", "take back the last act", "leave; can be resumed"):
        assert words in texts(lines)
    assert "…" not in texts(lines)


def test_what_to_prepare_keeps_its_deadline_when_it_is_long() -> None:
    hands = replace(HANDS, prepare="beans, 3 min", doing="trim, " * 40)
    for height in (2, 3):
        drawn = texts(draw_hands(hands, 80, height))
        assert "meanwhile beans, 3 min: time for it now, or begin in 1:10: trim, trim" in drawn
    assert "meanwhile" not in texts(draw_hands(hands, 60, 1)), "cut beyond use it is left out"


def test_what_there_is_time_for_names_the_key_that_begins_it() -> None:
    assert "time for it now (j), or begin in 1:10" in texts(draw_hands(HANDS, 80, 2, key="j"))
    busy = replace(HANDS, busy="peel")
    assert "(j)" not in texts(draw_hands(busy, 80, 2, key="j"))


def test_where_now_is_full_the_hands_say_what_was_interrupted() -> None:
    for height in (1, 2, 4):
        drawn = texts(draw_hands(HANDS, 80, height, "you were: done: TOSS carrots, 2:10 ago"))
        assert "you were: done: TOSS carrots" in drawn
        assert "meanwhile" not in drawn


def test_the_dish_up_time_is_never_cut_for_a_flag() -> None:
    for width in (60, 66, 80):
        view = replace(COMING, sound="sound: bell only", rehearsal=30.0)
        drawn = text(draw_head(head_part(view), width))
        assert "18:48 +3 min" in drawn
        assert "×30" in drawn
        assert "bell only" in drawn


def test_what_is_stopped_or_away_is_ended_by_the_first_key_shown() -> None:
    line = KeyLine()
    line.want(("done", "away", "heat_off"), {"away": "back", "heat_off": "heat on"})
    assert text(line.lines(60, 1)[0]).startswith("   Enter done  a back  h heat on")


def test_an_alert_of_an_appliance_is_whole() -> None:
    off = replace(APPLIANCES[0], standing="stopped", display=None,
                  alert="heat off since 2:10; on going on, look earlier")  # fmt: skip
    drawn = text(draw_appliance(off, 80, 4))
    assert "stopped" in drawn
    assert "! heat off since 2:10; on going on, look earlier" in drawn


def test_an_appliance_without_a_display_gives_its_room_to_the_mode() -> None:
    waiting = replace(APPLIANCES[0], standing="preheating", display=None, coming="")
    assert "preheating, convection roast 400 °F" in text(draw_appliance(waiting, 80, 4))
    off = replace(APPLIANCES[0], standing="off", mode="", display=None,
                  coming="convection roast 400 °F on in 9:59")  # fmt: skip
    assert "off        convection roast 400 °F on in 9:59" in text(draw_appliance(off, 80, 4))


def test_what_came_of_an_answer_is_brought_into_sight() -> None:
    """A long page of cautions stands above it: it is scrolled to, until the page is scrolled."""
    cautions = tuple(f"Caution {n}, read before the first cook." for n in range(20))
    view = replace(BEFORE, cautions=cautions, sizes=("by model: 375 °F, 31 min",))
    page = Page(lambda width, height: draw_before(view, 0, width))
    assert "by model" not in texts(page.lines(80, 20))
    page.to_told()
    assert "by model: 375 °F" in texts(page.lines(80, 20))
    page.scroll_by(-60)
    assert "Caution 0" in texts(page.lines(80, 20))


@pytest.mark.parametrize("rows", range(1, 6))
def test_a_page_of_few_lines_shows_what_is_on_it(rows: int) -> None:
    lines: list[Line] = [(), (Run("HEAD", "strong"),), (), (Run("first"),), (Run("second"),)]
    page = Page(lambda width, height: Drawn(lines, fixed=3, keep=3))
    drawn = page.lines(20, rows)
    assert len(drawn) <= rows
    assert any(run.text.strip() for run in drawn[0])
