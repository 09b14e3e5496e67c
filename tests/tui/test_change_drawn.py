"""What a change being looked at draws: in Now, on the rows, and its ways out in the foot."""

from dataclasses import replace

import pytest

from passbell.tui.views.model import (
    Effect,
    Pending,
)
from passbell.tui.widgets.foot import FootPart, draw_foot
from passbell.tui.widgets.now import draw_now
from passbell.tui.widgets.now_part import now_part
from passbell.tui.widgets.pending import draw_pending
from tests.tui.drawn import row_lines, text, texts
from tests.tui.sample import (
    CHANGE,
    COMING,
    PENDING,
    TWO_CARDS,
    cue,
)


def test_a_pending_change_takes_the_place_of_what_follows() -> None:
    drawn = texts(draw_now(now_part(PENDING), 80, 8, None))
    assert "oven stage roast: +3 min" in drawn
    assert "in 7 s" in drawn
    assert "lengthens crisp by 2 min" in drawn
    for words in ("dish-up 3 min later, 18:48", "carrots +3 min, 1 min over (108 %)"):
        assert words in drawn
    assert "then TURN" not in drawn
    assert "ADD green beans" in drawn


@pytest.mark.parametrize(
    "name", ["oven", "oven, roast", "oven, roast: +1 min, with all food in it"]
)
def test_until_when_a_change_can_be_dropped_is_never_cut(name: str) -> None:
    (head, *_) = draw_pending(replace(CHANGE, words=name), 77, 4)
    drawn = text(head)
    assert f" {name} " in drawn
    assert "in 7 s" in drawn
    assert "…" not in drawn
    assert "Esc drops" in drawn


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
        "choose by 18:20, in 2:00",
        "can wait: carrots, rice, beans, flat bread",
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
