"""Places of values: held against two TOML readers that know nothing of ours."""

import tomllib
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from passbell.plan.lexer import pieces
from passbell.plan.places import DEEPEST, places_of
from passbell.plan.problem import Path
from passbell.plan.say import at_path
from tests.plan.toml_texts import texts


def leaves(data: object, path: Path = ()) -> list[Path]:
    """The paths of everything in plain data but tables."""
    if isinstance(data, dict):
        return [p for key, value in data.items() for p in leaves(value, (*path, key))]
    if isinstance(data, list):
        inside = [p for i, value in enumerate(data) for p in leaves(value, (*path, i))]
        return [*inside, path] if not any(isinstance(v, dict) for v in data) else inside
    return [path]


def held_against(text: str, data: dict[str, Any], version: Any) -> None:
    places = places_of(text)
    for path in leaves(data):
        place = places.found[path]
        alone = version(f"it = {text[place.start : place.end]}")["it"]
        assert alone == at_path(data, path)
        assert place.line == text.count("\n", 0, place.key) + 1


@settings(max_examples=40)
@given(texts(newer=False))
def test_every_value_of_a_toml_1_0_text_stands_where_it_is_said_to(text: str) -> None:
    held_against(text, tomllib.loads(text), tomllib.loads)


@settings(max_examples=40)
@given(texts(newer=True))
def test_every_value_of_a_toml_1_1_text_stands_where_it_is_said_to(text: str) -> None:
    data = tomlkit.parse(text).unwrap()
    held_against(text, data, lambda alone: tomlkit.parse(alone).unwrap())


@settings(max_examples=40)
@given(st.one_of(st.text(), st.text(alphabet="[]{}=,.\"'#\n ab1\\", max_size=80)))
def test_any_text_has_places(text: str) -> None:
    places = places_of(text)
    lines = text.count("\n") + 1
    assert all(1 <= place.line <= lines for place in places.found.values())
    assert all(0 <= place.start <= place.end <= len(text) for place in places.found.values())


@settings(max_examples=40)
@given(st.one_of(st.text(), st.text(alphabet="\"'#\n ab\\", max_size=80)))
def test_the_pieces_leave_out_only_blanks(text: str) -> None:
    last = 0
    for piece in pieces(text):
        assert text[piece.start : piece.end] == piece.text
        assert not text[last : piece.start].strip()
        last = piece.end
    assert not text[last:].strip()


def test_a_list_over_several_lines_gives_each_entry_its_line() -> None:
    text = 'steps = [\n  # first\n  { prep = "a" },\n\n  { cook = """\nb""",\n on = "x" },\n]\n'
    text += "last = 1\n"
    places = places_of(text)
    assert places.line(("steps", 0)) == 3
    assert places.line(("steps", 1, "cook")) == 5
    assert places.line(("steps", 1, "on")) == 7
    assert places.line(("last",)) == 9
    assert places.line(("steps", 1, "time")) == 5  # not there: the step that should hold it
    assert places.line(("missing",)) == 1


def test_tables_of_one_list_may_lie_apart() -> None:
    text = "[[a]]\nx = 1\n[[b]]\n[[a]]\nx = 2\n[[a.c]]\n[[a.c]]\ny = 3\n"
    places = places_of(text)
    assert places.line(("a", 1, "x")) == 5
    assert places.line(("a", 1, "c", 1, "y")) == 8


@pytest.mark.parametrize(
    ("text", "twice"),
    [
        ("a = 1\nb = 2\na = 3\n", (("a",), 3, 1)),
        ("[[c]]\nn = 1\n[[c]]\nn = 2\nn = 3\n", (("c", 1, "n"), 5, 4)),
        ("[t]\n[u]\n[t]\n", (("t",), 3, 1)),
        ("a = { b = 1, b = 2 }", (("a", "b"), 1, 1)),
    ],
)
def test_a_key_written_twice_is_found(text: str, twice: tuple[Path, int, int]) -> None:
    assert places_of(text).twice == (twice,)


def test_nesting_without_end_is_not_followed() -> None:
    found = places_of("a = " + "[" * 100_000).found
    assert max(len(path) for path in found) <= DEEPEST + 2
