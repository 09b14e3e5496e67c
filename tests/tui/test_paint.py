from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from passbell.tui.paint import (
    Run,
    cells_in,
    crop,
    cut,
    fill,
    full,
    minutes_off,
    packed,
    parted,
    span,
    split_cells,
    spread,
    steady,
    width_of,
    wrap,
)
from tests.tui.sample import HOSTILE_NAMES

TEXTS = st.text(max_size=60) | st.sampled_from(HOSTILE_NAMES)


@given(TEXTS, st.integers(0, 40))
def test_cut_and_fill_keep_to_the_cells(text: str, width: int) -> None:
    assert cell_len(cut(text, width)) <= width
    assert cell_len(fill(text, width)) == width
    assert cell_len(fill(text, width, right=True)) == width


@given(st.lists(TEXTS, max_size=4), st.lists(TEXTS, max_size=2), st.integers(0, 60))
def test_lines_have_exactly_the_width(left: list[str], right: list[str], width: int) -> None:
    line = spread(tuple(map(Run, left)), tuple(map(Run, right)), width, "plain")
    assert width_of(line) == width
    assert width_of(full(tuple(map(Run, left)), width, "plain")) == width
    assert width_of(crop(tuple(map(Run, left)), width)) <= width


@given(TEXTS, st.integers(1, 30), st.integers(1, 4))
def test_wrap_keeps_to_lines_and_cells(text: str, width: int, most: int) -> None:
    lines = wrap(text, width, most)
    assert len(lines) <= most
    assert all(cell_len(line) <= width for line in lines)


def test_wrap_loses_no_word_when_there_is_room() -> None:
    text = "put it back and look again in two minutes"
    assert " ".join(wrap(text, 12, 9)) == text
    assert wrap(text, 12, 2)[-1].endswith("…")


def test_packed_breaks_between_texts_only() -> None:
    assert packed(["carrots: 3 min", "beans: 1 min", "rest"], 30, 3) == [
        "carrots: 3 min · beans: 1 min",
        "rest",
    ]


def test_steady_text_is_the_same_width_in_every_terminal() -> None:
    assert steady("👩‍👩‍👧 🇫🇷") == "👩👩👧 FR"
    assert steady("🧑🏽‍🍳") == "🧑🍳"
    assert steady("red\x1b[2J\x9b") == "red[2J"
    assert steady("plain [bold]text[/]") == "plain [bold]text[/]"


def test_clock_words() -> None:
    assert [span(s) for s in (0, 9, 70, -100, 3600, 36061)] == [
        "0:00", "0:09", "1:10", "1:40", "1:00:00", "10:01:01",
    ]  # fmt: skip
    assert [minutes_off(s) for s in (0, 29, 30, 180, -30, -29, -200)] == [
        "on time", "on time", "+1 min", "+3 min", "-1 min", "on time", "-3 min",
    ]  # fmt: skip


@given(st.lists(TEXTS, max_size=4), st.integers(1, 60), st.integers(0, 60))
def test_a_parted_line_is_as_wide_as_it_was(texts: list[str], width: int, cut_at: int) -> None:
    line = full(tuple(map(Run, texts)), width, "plain")
    left, right = parted(line, min(cut_at, width))
    assert width_of(left) == min(cut_at, width)
    assert width_of(left) + width_of(right) == width


@given(TEXTS | st.text("a° ─█◇", max_size=30), st.integers(0, 40))
def test_a_split_keeps_every_cell(text: str, cut_at: int) -> None:
    text = steady(text)
    cut_at = min(cut_at, cell_len(text))
    first, rest = split_cells(text, cut_at)
    assert cell_len(first) == cut_at
    assert cell_len(first) + cell_len(rest) == cell_len(text)


def test_narrow_text_is_split_where_it_is_cut() -> None:
    assert split_cells("400 °F ━━◇──", 8) == ("400 °F ━", "━◇──")
    assert split_cells("", 0) == ("", "")


@given(
    st.text(st.sampled_from("a1 :~é汉\u0301\u200d\t\x1b\x7f🍗"), max_size=12) | st.text(max_size=12)
)
def test_the_width_of_a_text_is_the_library_s(text: str) -> None:
    assert cells_in(text) == cell_len(text)
