"""Text made harmless: nothing a terminal would obey, everything a cook would see."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.units import clean_paragraphs, clean_text, quoted

NASTY = st.text(
    alphabet=st.one_of(
        st.characters(),
        st.sampled_from(
            "\x00\x1b\x7f\x9b\t\r\n\u2028\u202e\u2066\u200b\u200c\u200d\ufeff\u0301é👩🍳क्"
        ),
    ),
    max_size=60,
)


@given(NASTY)
def test_what_is_left_is_one_harmless_line(text: str) -> None:
    found = clean_text(text)
    for char in found:
        category = unicodedata.category(char)
        assert category not in ("Cc", "Cs", "Zl", "Zp")
        assert category != "Cf" or char in "\u200c\u200d"
    assert found == " ".join(found.split())
    assert unicodedata.is_normalized("NFC", found)


@given(NASTY, st.integers(1, 30))
def test_cleaning_twice_changes_nothing_more(text: str, longest: int) -> None:
    once = clean_text(text, longest)
    assert clean_text(once, longest) == once
    assert len(once) <= longest


@pytest.mark.parametrize(
    "text",
    [
        "[red]hot[/] {chilli}",
        "Käse & “Brot”, 50 %",
        "شوربة عدس",
        "מרק",
        "味噌汁",
        "👩\u200d🍳 stew",
        "❤\ufe0f\u200d🔥 sauce",
        "\U0001fadb \U0001fada",  # pea pod and ginger: newer than the Unicode of Python 3.11
        "نیم\u200cپز",  # Persian, half-cooked: the joiner is part of the spelling
        "क्\u200dष",
        "<script>=cmd|' /C'!A0",
        "½ tsp",
    ],
)
def test_what_a_cook_types_stays(text: str) -> None:
    assert clean_text(text) == text


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("a\x1b[2Jb", "a[2Jb"),
        ("a\x9b31mb", "a31mb"),
        ("a\x00\x07\x7fb", "ab"),
        ("a\t b\r\nc\u2028d", "a b c d"),
        ("pay \u202eetah\u202c now", "pay etah now"),
        ("a\u200b \u200bb", "a b"),
        ("e\u200b\u0301", "é"),
        ("a\u200db", "ab"),
        ("👩\u200d", "👩"),
        ("\ufeffsoup", "soup"),
        ("\ud800x", "x"),
        ("\ufffex\ufdd0", "x"),
        ("  ", ""),
    ],
)
def test_what_a_terminal_would_obey_goes(text: str, left: str) -> None:
    assert clean_text(text) == left


def test_paragraphs_stay_apart() -> None:
    text = "\n First\tline \r\nsecond\x1b\n\n\n\nThird\x00\n\n"
    assert clean_paragraphs(text) == "First line\nsecond\n\nThird"
    assert len(clean_paragraphs("word \n" * 5000)) <= 4000


@given(NASTY)
def test_cleaning_paragraphs_twice_changes_nothing_more(text: str) -> None:
    once = clean_paragraphs(text)
    assert clean_paragraphs(once) == once


def test_a_quoted_value_is_short_and_clean() -> None:
    assert quoted("35\x1b") == "“35”"
    assert quoted("x" * 1_000_000) == f"“{'x' * 60}…”"
