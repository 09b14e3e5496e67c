from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.cook.alerts import WORDS
from passbell.tui.keys import standard
from passbell.tui.letters import HEIGHTS, spelled
from passbell.tui.paint import Line, Run, minutes_off, width_of
from passbell.tui.screens.before import draw_before
from passbell.tui.typed import Typed
from passbell.tui.views.model import (
    Card,
    DishUp,
    Effect,
    Hands,
    Pending,
    Probe,
    ReadingMark,
    Row,
    RowState,
    Segment,
    Tick,
)
from passbell.tui.widgets.act import label
from passbell.tui.widgets.appliances import draw_appliance
from passbell.tui.widgets.cover import draw_help
from passbell.tui.widgets.foot import FootPart, draw_foot
from passbell.tui.widgets.hands import draw_hands
from passbell.tui.widgets.headline import draw_head, draw_side, head_part
from passbell.tui.widgets.keyline import KeyLine, draw_keys
from passbell.tui.widgets.now import digit_rows, draw_now
from passbell.tui.widgets.now_part import now_part
from passbell.tui.widgets.page import Drawn, Page
from passbell.tui.widgets.probe import Typing, draw_probe, draw_readings
from passbell.tui.widgets.rows import columns, draw_row, draw_steady
from passbell.tui.widgets.timeline import column_of, draw_scale, draw_timeline
from tests.tui.sample import (
    APPLIANCES,
    BELOW,
    CHANGE,
    COMING,
    DISH_UP,
    HANDS,
    OPENING,
    PENDING,
    PROBE,
    RESTING,
    ROWS,
    TWO_CARDS,
    VIEWS,
    cue,
)
from tests.tui.sample_pages import BEFORE


def text(line: Line) -> str:
    return "".join(run.text for run in line)


def texts(lines: list[Line]) -> str:
    return "\n".join(map(text, lines))


@pytest.mark.parametrize("name", sorted(VIEWS))
@pytest.mark.parametrize(
    "size", [(80, 8), (120, 18), (40, 7), (20, 4), (200, 30), (60, 9), (5, 1), (33, 6)]
)
@pytest.mark.parametrize("far", [False, True])
def test_now_keeps_to_its_room(name: str, size: tuple[int, int], far: bool) -> None:
    width, height = size
    lines = draw_now(now_part(VIEWS[name]), width, height, None, far)
    assert len(lines) <= max(height, 3)
    if VIEWS[name].cards and size not in ((5, 1), (33, 6)):
        first = VIEWS[name].cards[0].lines[0]
        assert first.verb in texts(lines)


def test_digits_have_room_twice() -> None:
    assert [digit_rows(height) for height in (7, 8, 12, 18, 6)] == [4, 4, 6, 9, 3]


def test_due_is_a_word_and_how_long_ago() -> None:
    assert label(cue(due_in=250)) == "in 4:10"
    assert label(cue(due_in=0)) == "DUE now"
    assert label(cue(due_in=-40)) == "DUE 0:40 ago"
    assert label(cue(due_in=-100)) == "DUE 1:40 ago, LATE"
    assert label(cue(due_in=-5, standing="put off")) == "DUE 0:05 ago, put off"


def test_the_digits_stay_where_they_are_when_a_cue_falls_due() -> None:
    def places(due_in: int) -> set[int]:
        view = replace(COMING, cards=(replace(COMING.cards[0], lines=(cue(due_in=due_in),)),))
        lines = [text(line) for line in draw_now(now_part(view), 80, 8, None)]
        return {len(line.rstrip()) for line in lines[:3]}

    assert places(88) == places(-88)


def test_the_words_stay_where_they_are_when_a_cue_falls_due() -> None:
    for due_in in (88, 0, -40, -100):
        view = replace(COMING, cards=(replace(COMING.cards[0], lines=(cue(due_in=due_in),)),))
        lines = [text(line) for line in draw_now(now_part(view), 80, 8, None)]
        assert lines[0][3:].startswith("ADD green beans")
        assert lines[1][3:].startswith("left side of the tray")
        assert lines[5][3:].strip().startswith(label(view.cards[0].lines[0]))


def test_one_opening_is_a_numbered_list() -> None:
    drawn = texts(draw_now(now_part(OPENING), 80, 8, None))
    assert "ONE OPENING oven" in drawn
    assert "▸1 PROBE chicken thighs, thickest part" in drawn
    assert " 5 MODE air fry 375 °F" in drawn
    assert drawn.count("then ") == 2


def test_a_long_opening_says_how_many_more() -> None:
    lines = tuple(cue("TURN", f"thing {n}", "", 30) for n in range(12))
    view = replace(OPENING, cards=(replace(OPENING.cards[0], lines=lines),))
    assert "and 8 more" in texts(draw_now(now_part(view), 80, 8, None))


def test_a_line_that_does_not_take_done_yet_is_marked_so() -> None:
    first, *rest = OPENING.cards[0].lines
    lines = (replace(first, ready=False), *rest)
    view = replace(OPENING, cards=(replace(OPENING.cards[0], lines=lines),))
    drawn = texts(draw_now(now_part(view), 80, 8, None))
    assert "·1 PROBE" in drawn
    assert "▸" not in drawn


@pytest.mark.parametrize(("width", "height"), [(80, 8), (80, 7), (120, 18), (200, 38)])
def test_two_cards_stand_at_full_size(width: int, height: int) -> None:
    lines = draw_now(now_part(TWO_CARDS), width, height, None)
    drawn = texts(lines)
    assert "ADD green beans" in drawn
    assert "STIR rice" in drawn
    digits = [line for line in lines if any(run.role == "due.digits" for run in line[1:])]
    first, second = (digits[: len(digits) // 2], digits[len(digits) // 2 :])
    assert len(digits) >= 7
    assert len(second) - len(first) == (1 if height == 7 else 0)


def test_a_pending_change_takes_the_place_of_what_follows() -> None:
    drawn = texts(draw_now(now_part(PENDING), 80, 8, None))
    assert "oven stage roast: +3 min" in drawn
    assert "in 7 s" in drawn
    assert "lengthens crisp by 2 min" in drawn
    for words in ("dish-up 3 min later, 18:48", "carrots +3 min, 1 min over (108 %)"):
        assert words in drawn
    assert "then TURN" not in drawn
    assert "ADD green beans" in drawn


@pytest.mark.parametrize(("width", "height"), [(80, 8), (80, 10), (120, 20), (200, 30)])
def test_the_size_of_a_change_stands_in_digits_for_two_metres(width: int, height: int) -> None:
    lines = draw_now(now_part(PENDING)._replace(in_rows=True), width, height, None)
    digits = [line for line in lines if any(run.role == "now.by" for run in line)]
    rows = min(len(digits), 9)
    assert rows >= 4, "four rows are read at two metres"
    assert all(run.text.strip() for line in digits[1:3] for run in line if run.role == "now.by")
    assert "oven to crisp +3 min" in texts(lines), "what has no row of its own"
    assert "green beans" not in texts(lines).split("in 7 s")[1], "its row says it"


def test_each_row_says_what_a_change_does_to_it() -> None:
    shown = {row.name: text(row_lines(row, 80)[0]) for row in PENDING.rows}
    assert " +3 min  1 min over (108 %)" in shown["carrots"]
    assert " +3 min " in shown["green beans"]
    assert " hold +3 min " in shown["bread"]
    assert shown["yoghurt sauce"] == text(row_lines(COMING.rows[4], 80)[0])
    narrow = {row.name: text(row_lines(row, 50)[0]) for row in PENDING.rows}
    assert " +3 min " in narrow["carrots"]


def test_an_alert_is_whole_beside_a_change() -> None:
    row = replace(BELOW.rows[0], pending=Effect("chicken thighs", 180, "3 min later"))
    assert "below by 13 °F, look again in 3:00" in text(row_lines(row, 80)[0])
    drawn = text(row_lines(row, 120)[0])
    assert "below by 13 °F, look again in 3:00" in drawn
    assert " +3 min " in drawn


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_what_many_have_in_common_is_not_cut_from_their_names(width: int) -> None:
    names = ("potatoes", "carrots", "chicken thighs", "green beans", "oven to crisp")
    change = replace(
        CHANGE, warnings=(), effects=tuple(Effect(n, 60, "1 min later") for n in names)
    )
    drawn = texts(draw_now(now_part(replace(PENDING, pending=change)), width, 12, None))
    words = " ".join(w for w in drawn.split("in 7 s")[1].split() if w.isascii())
    assert "chicken thighs, green beans, oven to crisp +1 min" in words


def test_a_changes_notes_are_never_cut_for_its_digits() -> None:
    notes = (
        "free until 18:20, in 2:00",
        "can still be held back: carrots, rice, beans, flat bread",
    )
    pending = replace(CHANGE, warnings=(), notes=notes)
    part = now_part(replace(PENDING, pending=pending))._replace(in_rows=True)
    drawn = texts(draw_now(part, 80, 10, None))
    assert all(note in drawn for note in notes)
    assert "dish-up 3 min later, 18:48" in drawn


def test_a_change_gives_up_no_line_for_what_it_covers() -> None:
    due = tuple(cue("TURN", f"dish {n}", "", -30) for n in range(3))
    alone, among = (
        draw_now(now_part(replace(view, following=due)), 80, 10, None)
        for view in (PENDING, replace(PENDING, cards=TWO_CARDS.cards))
    )
    assert len(alone) == len(among) == 10
    assert all(any(run.role == "now.by" for run in among[y]) for y in (6, 7, 8, 9))


def test_the_interruption_comes_before_what_follows() -> None:
    drawn = texts(draw_now(now_part(VIEWS["away"]), 80, 8, None))
    for words in VIEWS["away"].interruption:
        assert words in drawn


def test_only_the_symbol_flashes() -> None:
    part = now_part(VIEWS["late"])
    lit, dim = (draw_now(part, 80, 8, on) for on in (True, False))
    assert lit != dim
    assert [line[1:] for line in lit[:6]] == [line[1:] for line in dim[:6]]
    assert lit[6:] == dim[6:]


def test_in_few_cells_now_is_words() -> None:
    lines = [text(line) for line in draw_now(now_part(COMING), 20, 4, None)]
    assert lines[0] == "ADD green beans"
    assert lines[1] == "in 4:10"


def cells(state: str = "") -> str:
    line = draw_timeline(
        (Segment("prep", 0, 10, real=True), Segment("cook", 10, 60, real=False)),
        (Tick("check", 30, done=False),),
        (0, 100),
        20,
        20,
    )
    return text(line)


def test_a_time_line_marks_what_was_what_comes_and_now() -> None:
    assert cells() == "╍╍──╂─▽─────        "


@given(st.integers(-500, 5000), st.integers(1, 200), st.integers(0, 4000), st.integers(0, 4000))
def test_a_time_line_never_leaves_its_cells(at: int, width: int, start: int, length: int) -> None:
    over = (start, start + length)
    assert 0 <= column_of(at, over, width) < width
    line = draw_timeline((Segment("cook", at, at + 60, True),), (), over, at, width)
    assert width_of(line) == width
    assert width_of(draw_scale(over, at, width)) == (width if width >= 12 else 0)


def test_the_scale_counts_minutes_from_now() -> None:
    scale = text(draw_scale((0, 3600), 1200, 60))
    assert "now" in scale
    assert scale.index("-10") < scale.index("now") < scale.index("+10") < scale.index("+30")
    assert scale.index("now") == column_of(1200, (0, 3600), 60)


def row_lines(row: Row, width: int, lines: int = 1) -> list[Line]:
    cells = columns(width)
    return draw_row(row, cells, draw_steady(row, cells, (0, 2700), 1500, lines), lines)


@pytest.mark.parametrize("width", [40, 60, 80, 99, 120, 200])
def test_rows_keep_their_columns_whatever_happens(width: int) -> None:
    plain = ROWS[1]
    changed = [
        plain,
        replace(plain, alert="below by 13 °F, look again in 3:00"),
        replace(plain, selected=True, wanted=True, raw="raw"),
        replace(plain, state="holding", words="holding 12:00", left=-70, drift=-180),
        replace(plain, name="x" * 90, words="y" * 90, left=36000, share=100),
    ]
    ends = {width_of(row_lines(row, width)[0]) for row in changed}
    assert len(ends) == 1
    assert ends.pop() <= width


def test_a_row_says_where_when_and_how_late() -> None:
    row = replace(ROWS[1], drift=180)
    drawn = text(row_lines(row, 120)[0])
    for words in ("carrots", "in", "turned", "4:20", "60%", "+3 min"):
        assert words in drawn


def test_an_alert_is_whole_at_eighty_cells() -> None:
    drawn = text(row_lines(BELOW.rows[0], 80)[0])
    assert "below by 13 °F, look again in 3:00" in drawn
    assert "▸!" in drawn
    assert "raw" in drawn


@pytest.mark.parametrize(
    ("state", "words", "shown"),
    [
        ("prep", "preparing", "prep"),
        ("finish", "finishing", "finish"),
        ("in", "in 13:39, stays with chicken", "in 13:39, stays with chicken"),
        ("in", "in, turned", "in turned"),
        ("holding", "held 10:13", "holding held 10:13"),
    ],
)
def test_a_wide_row_says_its_state_once(state: RowState, words: str, shown: str) -> None:
    cells = columns(120)
    line = draw_steady(replace(ROWS[1], state=state, words=words), cells, (0, 2700), 1500, 1)
    start = 3 + cells.name + 1
    text = "".join(run.text for run in line)[start : start + cells.state + 1 + cells.words]
    assert " ".join(text.split()) == shown


@pytest.mark.parametrize("width", [80, 120])
@pytest.mark.parametrize("left", ["in 4:48", "in 13:39", "in 1:13:39"])
def test_a_row_drops_a_clause_whole(left: str, width: int) -> None:
    row = replace(ROWS[1], words=f"{left}, stays with the chicken thighs", raw="by raw")
    drawn = " ".join(text(row_lines(row, width)[0]).split())
    assert left in drawn
    assert "stays" not in drawn
    assert "…" not in drawn


@pytest.mark.parametrize("width", [40, 46, 60, 80])
@pytest.mark.parametrize("height", [3, 4])
def test_advice_that_is_cut_says_so(width: int, height: int) -> None:
    long = " ".join(f"word{n}" for n in range(60))
    probe = replace(BELOW.probe, sentence=long, advice=(long, long), wash=False, readings=())
    lines = [text(line).rstrip() for line in draw_probe(probe, None, width, height)]
    for n, line in enumerate(lines):
        goes_on = n + 1 < len(lines) and lines[n + 1].lstrip().startswith("word")
        if "word" in line and not goes_on:
            assert line.endswith("…")


@pytest.mark.parametrize(("width", "height"), [(20, 3), (40, 4), (80, 3)])
def test_whose_reading_it_is_is_asked_before_it_is_typed(width: int, height: int) -> None:
    nobody = replace(PROBE, component="", place="", minimum="")
    drawn = texts(draw_probe(nobody, Typed("15", 2), width, height))
    assert "which one? na" in drawn
    assert "needs" not in drawn
    assert "no food chos" in texts(draw_probe(nobody, None, width, 1))


@pytest.mark.parametrize("width", [30, 34, 40, 44, 60])
def test_the_figure_of_the_minimum_is_never_cut(width: int) -> None:
    drawn = texts(draw_probe(RESTING.probe, None, width, 3))
    assert "needs 165 °F" in drawn


def test_the_colour_of_good_news_is_for_a_minimum_that_is_met_alone() -> None:
    for word, said in WORDS.items():
        lines = draw_probe(replace(RESTING.probe, verdict=said), None, 80, 4)
        roles = {run.role for line in lines for run in line if said in run.text}
        assert roles == {"met" if word == "met" else "below"}


def test_a_rest_is_read_before_the_reason_of_the_verdict() -> None:
    why = "The minimum of 165 °F for pieces of poultry was reached at both places probed. " * 2
    probe = replace(RESTING.probe, sentence=why)
    for width, height in ((80, 3), (40, 3)):
        drawn = texts(draw_probe(probe, None, width, height))
        assert "MET" in drawn
        assert "safety rest 2:10 more" in drawn


def test_with_two_lines_to_a_row_the_alert_stands_beneath() -> None:
    first, second = row_lines(BELOW.rows[0], 200, lines=2)
    assert "below by" in text(second)
    assert "━" in text(first)


def test_an_appliance_says_what_its_display_should_read() -> None:
    drawn = text(draw_appliance(APPLIANCES[0], 80, 4))
    for words in ("oven", "hot, convection roast 400 °F", "reads 9:41", "crisp: air fry 375 °F"):
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
        (replace(HANDS, away=95), "AWAY for 1:35"),
        (replace(HANDS, fits=False), "later trim beans, 3 min: begin by 1:10 (no time yet)"),
        (HANDS, "meanwhile trim beans, 3 min: begin by 1:10 (time for it)"),
        (HANDS, "slack 2:00"),
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


def test_the_probe_box_shows_all_before_the_first_digit() -> None:
    drawn = texts(draw_probe(PROBE, Typed(), 80, 5))
    for words in ("chicken thighs, piece 1", "°F", "165 °F", "United States, home cooks", "▏"):
        assert words in drawn


def test_the_verdict_comes_before_everything_else() -> None:
    for height in (2, 3, 5, 9):
        drawn = texts(draw_probe(BELOW.probe, None, 80, height))
        assert "▼ BELOW " in drawn
        assert "13 °F below the minimum" in drawn
    assert "Put it back." in texts(draw_probe(BELOW.probe, None, 80, 3))
    assert "wash the probe" in texts(draw_probe(BELOW.probe, None, 80, 3))
    assert "▼ BELOW" in texts(draw_probe(BELOW.probe, None, 40, 1))


def test_the_examples_are_in_the_thermometers_unit() -> None:
    empty = replace(PROBE, scale="C", verdict="", advice=(), minimum="", readings=(), expect=())
    assert "66 · 151f · chicken 66 · 2 65 for" in texts(draw_probe(empty, None, 120, 4))


def test_the_question_about_the_unit_is_left_out_last() -> None:
    asked = "40 °F: was that °C? It was taken as °F; if not, take it back and type it so."
    probe = replace(
        BELOW.probe, advice=(asked, "Wash the probe."), odd="Odd: 4 °C is not what was expected",
        expect=("75 °C expected in about 14 min.",),
    )  # fmt: skip
    for height in (4, 5):
        assert "was that °C?" in texts(draw_probe(probe, None, 80, height))


def test_readings_stand_about_the_mark_of_the_minimum() -> None:
    drawn = text(draw_readings(BELOW.probe.readings, "165 °F"))
    below, reached = drawn.split("┃ 165 °F ┃")
    assert "152 °F ▽" in below
    assert "166 °F ▲" in reached
    assert "121 °F × taken back" in reached
    assert text(draw_readings((ReadingMark("1", "70 °F", None),), "")) == "1 70 °F ?  "


def test_only_met_has_the_look_of_good_news() -> None:
    roles = [
        [run.role for line in draw_probe(probe, None, 80, 5) for run in line]
        for probe in (BELOW.probe, RESTING.probe)
    ]
    assert "met" not in roles[0]
    assert "met" in roles[1]
    unsure: Probe = replace(BELOW.probe, verdict="NO MARGIN")
    assert "met" not in [run.role for line in draw_probe(unsure, None, 80, 5) for run in line]


def test_a_refusal_and_a_question_are_never_left_out() -> None:
    refused = replace(
        BELOW.probe, refusal="'abc' is no reading; type 152 or 66c", question="1 or 2?"
    )
    for height in (3, 5):
        drawn = texts(draw_probe(refused, Typed("abc", 3), 80, height))
        assert "not understood: 'abc' is no reading" in drawn
        assert "1 or 2?" in drawn


def test_the_ways_out_stand_in_the_foot_by_number() -> None:
    drawn = draw_foot(FootPart(PENDING.probe, PENDING.pending), 80, 5)
    assert "1  take carrots out on time" in texts(drawn)
    assert "4  serve 3 min later: dish-up 3 min later; carrots, green beans +3 min" in texts(drawn)
    assert {run.tag for line in drawn for run in line if run.tag} == {
        f"way:{n}" for n in (1, 2, 3, 4)
    }


def test_a_single_way_out_has_lines_for_what_else_moves() -> None:
    change = replace(CHANGE, ways=(CHANGE.ways[3],))
    lines = draw_foot(FootPart(PENDING.probe, change), 80, 5)
    assert [text(line).strip() for line in lines[:2]] == [
        "1  serve 3 min later: dish-up 3 min later",
        "carrots, green beans +3 min",
    ]


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


def test_many_effects_of_one_kind_are_told_together_and_none_is_lost() -> None:
    names = (
        "potatoes",
        "carrots",
        "chicken thighs",
        "green beans",
        "yoghurt sauce",
        "rice",
        "flat bread",
        "lemon wedges",
    )
    pending = Pending("oven: +1 min", tuple(Effect(name, 60, "1 min later") for name in names))
    drawn = texts(draw_now(now_part(replace(COMING, pending=pending)), 80, 8, None))
    assert "potatoes, carrots" in drawn
    assert all(name in " ".join(drawn.split()) for name in names)


def test_what_to_prepare_keeps_its_deadline_when_it_is_long() -> None:
    hands = replace(HANDS, prepare="beans, 3 min: begin in 1:10", doing="trim, " * 40)
    for height in (2, 3):
        drawn = texts(draw_hands(hands, 80, height))
        assert "meanwhile beans, 3 min: begin in 1:10 (time for it): trim, trim" in drawn
    assert "meanwhile" not in texts(draw_hands(hands, 60, 1)), "cut beyond use it is left out"


def test_where_now_is_full_the_hands_say_what_was_interrupted() -> None:
    for height in (1, 2, 4):
        drawn = texts(draw_hands(HANDS, 80, height, "you were: done: TOSS carrots, 2:10 ago"))
        assert "you were: done: TOSS carrots" in drawn
        assert "meanwhile" not in drawn


def test_a_row_hours_late_keeps_its_columns() -> None:
    assert [minutes_off(60 * m) for m in (3, 99, 100, 212, -605)] == [
        "+3 min", "+99 min", "+1 h 40", "+3 h 32", "-10 h 05",
    ]  # fmt: skip
    late = replace(ROWS[0], drift=212 * 60, left=-54, alert="")
    assert "+0:54 +3 h 32" in text(row_lines(late, 80)[0])


def test_the_dish_up_time_is_never_cut_for_a_flag() -> None:
    for width in (60, 66, 80):
        view = replace(COMING, sound="sound: bell only", rehearsal=30.0)
        drawn = text(draw_head(head_part(view), width))
        assert "18:48 +3 min" in drawn
        assert "×30" in drawn
        assert "bell only" in drawn


def test_a_verdict_in_few_cells_stands_alone_with_its_reason() -> None:
    drawn = [text(line) for line in draw_probe(BELOW.probe, None, 20, 3)]
    assert drawn[0].strip() == "▼ BELOW"
    assert "13 °F" in " ".join(drawn[1:])


def test_what_is_stopped_or_away_is_ended_by_the_first_key_shown() -> None:
    line = KeyLine()
    line.want(("done", "away", "heat_off"), {"away": "back", "heat_off": "heat on"})
    assert text(line.lines(60, 1)[0]).startswith("   Enter done  a back  h heat on")


def test_now_itself_says_that_the_heat_is_off_and_which_key_ends_it() -> None:
    stopped = replace(APPLIANCES[0], standing="stopped", display=None, alert="HEAT OFF for 2:10")
    view = replace(COMING, appliances=(stopped, *APPLIANCES[1:]))
    keys = {"heat_off": "h", "away": "a", "together": "", "leave": "x"}
    for size in ((80, 8), (80, 10), (120, 18), (40, 7)):
        lines = draw_now(now_part(view, keys.__getitem__), *size, None)
        assert "oven: HEAT OFF for 2:10  h: it is on" in texts(lines)
        assert {"key:heat_off"} <= {run.tag for line in lines for run in line}
        assert "ADD green beans" in texts(lines), "the cue stays"
    assert "oven: HEAT OFF" in texts(draw_now(now_part(view), 20, 4, None))
    large = draw_now(now_part(view), 120, 18, None)
    off = spelled("HEAT OFF", 70, 6)
    assert off
    assert off[0] in texts(large), "the largest words are what is wrong, not what comes"
    due = replace(view, cards=VIEWS["due"].cards)
    assert off[0] not in texts(draw_now(now_part(due), 120, 18, None)), "an act that is due"


def test_now_itself_says_that_the_cook_is_away() -> None:
    view = replace(COMING, hands=replace(HANDS, away=95))
    drawn = texts(draw_now(now_part(view, lambda function: "a"), 80, 8, None))
    assert "AWAY for 1:35  a: I am back" in drawn
    proposed = now_part(replace(view, together="together at 18:20?"))
    assert not proposed.together, "nothing is joined while the hands are away"


def test_after_dish_up_now_says_when_it_was_and_what_is_left_to_do() -> None:
    part = now_part(VIEWS["over"], lambda function: "x")
    assert part.after == ("at 18:48, 3 min later than planned", "x: say how it went")
    for size in ((80, 8), (80, 10), (120, 18), (40, 7)):
        assert "x: say how it went" in texts(draw_now(part, *size, None))
    assert any(run.role == "now.letters" for line in draw_now(part, 80, 8, None) for run in line)
    assert "on the table" in texts(draw_now(part, 20, 3, None))


def test_the_first_act_of_an_opening_is_told_whole() -> None:
    how = "a fork goes in easily, the edges are brown"
    acts = tuple(cue("TAKE OUT", name, how, 30) for name in ("potatoes", "carrots", "beans"))
    view = replace(COMING, cards=(Card("oven", opening=True, lines=acts),))
    lines = [text(line)[:54] for line in draw_now(now_part(view), 80, 10, None)]
    assert how in " ".join(" ".join(lines[1:3]).replace("▏", "").split())
    assert "2 TAKE OUT carrots" in lines[3]
    assert "3 TAKE OUT beans" in lines[4]


def test_what_could_be_one_opening_names_its_key() -> None:
    view = replace(COMING, together="together at 18:20 with TOSS carrots?")
    assert "c: together at 18:20" in texts(
        draw_now(now_part(view, lambda function: "c"), 80, 10, None)
    )


def test_an_alert_of_an_appliance_is_whole() -> None:
    off = replace(APPLIANCES[0], standing="stopped", display=None,
                  alert="heat off since 2:10; on going on, look earlier")  # fmt: skip
    drawn = text(draw_appliance(off, 80, 4))
    assert "stopped" in drawn
    assert "! heat off since 2:10; on going on, look earlier" in drawn


def test_the_first_act_of_an_opening_is_spelled_where_there_is_room() -> None:
    lines = [text(line)[3:].rstrip() for line in draw_now(now_part(OPENING), 120, 18, None)]
    wanted = tuple(spelled("PROBE", 200, height)[0] for height in HEIGHTS)
    assert any(line.startswith(wanted) for line in lines)


def test_an_appliance_without_a_display_gives_its_room_to_the_mode() -> None:
    waiting = replace(APPLIANCES[0], standing="preheating", display=None, coming="")
    assert "preheating, convection roast 400 °F" in text(draw_appliance(waiting, 80, 4))
    off = replace(APPLIANCES[0], standing="off", mode="", display=None,
                  coming="convection roast 400 °F on in 9:59")  # fmt: skip
    assert "off        convection roast 400 °F on in 9:59" in text(draw_appliance(off, 80, 4))


@pytest.mark.parametrize(
    ("size", "far"), [((120, 18), False), ((200, 30), False), ((80, 23), True)]
)
def test_where_there_is_room_the_act_is_spelled_in_block_letters(
    size: tuple[int, int], far: bool
) -> None:
    drawn = draw_now(now_part(COMING), *size, None, far)
    lines = [text(line)[3:].rstrip() for line in drawn]
    wanted = tuple(spelled("ADD", 200, height)[0].strip() for height in HEIGHTS)
    assert any(line.strip().startswith(wanted) for line in lines)
    assert lines[0].startswith("ADD green beans")


def test_at_eighty_by_twenty_four_there_is_no_room_for_letters() -> None:
    assert "▄▀▀▀▄" not in texts(draw_now(now_part(COMING), 80, 8, None))


def test_in_the_smallest_box_a_verdict_below_leaves_room_for_the_forecast() -> None:
    said = "75 °C expected in about 14 min (11 to 18), piece 2 last: look in 9:30."
    longer = f"{BELOW.probe.sentence} Chart: United States, home cooks, and more of the same kind."
    probe = replace(BELOW.probe, sentence=longer, advice=(), expect=(said,))
    drawn = texts(draw_probe(probe, None, 80, 3))
    assert said in drawn
    assert "▼ BELOW " in drawn
    odd = replace(probe, odd="Odd: piece 2: the reading has fallen: another spot. Both count.")
    named = replace(probe, odd="Odd: leg no. 2: the reading has fallen: another spot. Both count.")
    for opened in (texts(draw_probe(each, None, 80, 5)) for each in (odd, named)):
        assert said in opened
        assert "has fallen: another spot." in opened


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


def test_what_else_is_due_is_named_where_two_cards_fill_now() -> None:
    others = (
        replace(COMING.following[0], verb="CHECK", what="bread", due_in=-70, tone="late"),
        replace(COMING.following[1], verb="MOVE", what="wedges", due_in=0, tone="due"),
    )
    part = now_part(replace(TWO_CARDS, following=(*others, *COMING.following)))
    for width, height in ((80, 10), (120, 18), (40, 7)):
        drawn = texts(draw_now(part, width, height, None))
        assert "also DUE  CHECK bread +1:10" in drawn
        assert "STIR rice" in drawn
    assert "also DUE" not in texts(draw_now(now_part(TWO_CARDS), 80, 10, None))


def test_the_first_of_two_cards_says_that_it_is() -> None:
    drawn = texts(draw_now(now_part(TWO_CARDS), 80, 10, None))
    assert drawn.index("oven: do this first") < drawn.index("hob: then this")


@pytest.mark.parametrize("rows", range(1, 6))
def test_a_page_of_few_lines_shows_what_is_on_it(rows: int) -> None:
    lines: list[Line] = [(), (Run("HEAD", "strong"),), (), (Run("first"),), (Run("second"),)]
    page = Page(lambda width, height: Drawn(lines, fixed=3, keep=3))
    drawn = page.lines(20, rows)
    assert len(drawn) <= rows
    assert any(run.text.strip() for run in drawn[0])
