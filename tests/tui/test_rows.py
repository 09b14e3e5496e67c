"""What the rows of the components draw, and their time lines."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.tui.paint import minutes_off, width_of
from passbell.tui.views.model import (
    Effect,
    RowState,
    Segment,
    Tick,
)
from passbell.tui.widgets.rows import columns, draw_steady
from passbell.tui.widgets.timeline import column_of, draw_scale, draw_timeline
from tests.tui.drawn import row_lines, text
from tests.tui.sample import (
    BELOW,
    ROWS,
)


def test_an_alert_is_whole_beside_a_change() -> None:
    row = replace(BELOW.rows[0], pending=Effect("chicken thighs", 180, "3 min later"))
    assert "below by 13 °F, look again in 3:00" in text(row_lines(row, 80)[0])
    drawn = text(row_lines(row, 120)[0])
    assert "below by 13 °F, look again in 3:00" in drawn
    assert " +3 min " in drawn


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


def test_with_two_lines_to_a_row_the_alert_stands_beneath() -> None:
    first, second = row_lines(BELOW.rows[0], 200, lines=2)
    assert "below by" in text(second)
    assert "━" in text(first)


def test_a_row_hours_late_keeps_its_columns() -> None:
    assert [minutes_off(60 * m) for m in (3, 99, 100, 212, -605)] == [
        "+3 min", "+99 min", "+1 h 40", "+3 h 32", "-10 h 05",
    ]  # fmt: skip
    late = replace(ROWS[0], drift=212 * 60, left=-54, alert="")
    assert "+0:54 +3 h 32" in text(row_lines(late, 80)[0])
