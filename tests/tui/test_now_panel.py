"""What Now draws: its cues, digits and words, at every size and in every state."""

from dataclasses import replace

import pytest

from passbell.tui.letters import HEIGHTS, spelled
from passbell.tui.views.model import (
    Card,
)
from passbell.tui.widgets.act import label
from passbell.tui.widgets.now import digit_rows, draw_now
from passbell.tui.widgets.now_part import now_part
from tests.tui.drawn import text, texts
from tests.tui.sample import (
    APPLIANCES,
    COMING,
    HANDS,
    OPENING,
    TWO_CARDS,
    VIEWS,
    cue,
)


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


def test_now_itself_says_that_the_heat_is_off_and_which_key_ends_it() -> None:
    stopped = replace(APPLIANCES[0], standing="stopped", display=None, alert="NO HEAT for 2:10")
    view = replace(COMING, appliances=(stopped, *APPLIANCES[1:]))
    keys = {"heat_off": "h", "away": "a", "together": "", "leave": "x"}
    for size in ((80, 8), (80, 10), (120, 18), (40, 7)):
        lines = draw_now(now_part(view, keys.__getitem__), *size, None)
        assert "oven: NO HEAT for 2:10  h: it's on" in texts(lines)
        assert {"key:heat_off"} <= {run.tag for line in lines for run in line}
        assert "ADD green beans" in texts(lines), "the cue stays"
    assert "oven: NO HEAT" in texts(draw_now(now_part(view), 20, 4, None))
    large = draw_now(now_part(view), 120, 18, None)
    off = next(
        (o for rows in (8, 7, 6) if (o := spelled("NO HEAT", 70, rows))[0] in texts(large)), ()
    )
    assert off, "the largest words are what is wrong, not what comes"
    due = replace(view, cards=VIEWS["due"].cards)
    assert off[0] not in texts(draw_now(now_part(due), 120, 18, None)), "an act that is due"


def test_now_itself_says_that_the_cook_is_away() -> None:
    view = replace(COMING, hands=replace(HANDS, away=95))
    drawn = texts(draw_now(now_part(view, lambda function: "a"), 80, 8, None))
    assert "AWAY, gone 1:35  a: I am back" in drawn
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


def test_the_first_act_of_an_opening_is_spelled_where_there_is_room() -> None:
    lines = [text(line)[3:].rstrip() for line in draw_now(now_part(OPENING), 120, 18, None)]
    wanted = tuple(spelled("PROBE", 200, height)[0] for height in HEIGHTS)
    assert any(line.startswith(wanted) for line in lines)


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
