"""Edits to a plan's text: one value changes, every other character stays."""

import tomllib

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from passbell.plan.places import places_of
from passbell.plan.problem import Path
from passbell.plan.read import read_plan
from passbell.plan.say import at_path
from passbell.plan.write import Value, add_comment, set_value
from passbell.units import Duration, Temperature
from tests.plan.test_places import leaves
from tests.plan.toml_texts import texts

PLAN = """\
# A cook's own words.
title    = "Supper"    # short
serves   = 2

[[component]]           # the first
name  = "carrots"
steps = [
  { prep = "peel",   time = "6 min" },   # sharp knife
  { cook = "roast", on = "oven", time = '30 min' },
]

[[appliance]]
name    = "oven"

  [[appliance.stage]]
  name = "roast"

[[component]]
name = "dip"
steps = [ { finish = "on the table", time = "1 min" } ]
# the end
"""


@pytest.mark.parametrize(
    ("path", "value", "before", "after"),
    [
        (("component", 0, "steps", 0, "time"), Duration(480), "6 min", "8 min"),
        (("component", 0, "steps", 1, "time"), Duration(1980), "'30 min'", '"33 min"'),
        (("title",), "Dinner", "Supper", "Dinner"),
        (("serves",), 4, "= 2", "= 4"),
        (("appliance", 0, "stage", 0, "name"), "crisp", '  name = "roast"', '  name = "crisp"'),
        (
            ("component", 1, "steps", 0, "hands"),
            Duration(0),
            '"1 min" }',
            '"1 min", hands = "0 min" }',
        ),
        (
            ("component", 0, "steps", 1, "until"),
            Temperature(62.8, "C"),
            "'30 min' }",
            "'30 min', until = \"62.8 °C\" }",
        ),
        (
            ("component", 0, "steps", 1, "stage"),
            ["a", "b"],
            "'30 min' }",
            '\'30 min\', stage = ["a", "b"] }',
        ),
        (("component", 1, "hold"), Duration(900), "# the end", 'hold  = "15 min"\n# the end'),
        (("slack",), Duration(60), "serves   = 2\n", 'serves   = 2\nslack    = "1 min"\n'),
        (
            ("appliance", 0, "preheat"),
            Duration(60),
            'name    = "oven"\n',
            'name    = "oven"\npreheat = "1 min"\n',
        ),
        (
            ("appliance", 0, "stage", 0, "temp"),
            "200 °C",
            '  name = "roast"\n',
            '  name = "roast"\n  temp = "200 °C"\n',
        ),
    ],
)
def test_only_the_value_changes(path: Path, value: Value, before: str, after: str) -> None:
    assert PLAN.count(before) == 1
    edited = set_value(PLAN, path, value)
    assert edited == PLAN.replace(before, after)
    assert at_path(tomllib.loads(edited), path) == _plain(value)


def _plain(value: object) -> object:
    return str(value) if isinstance(value, Duration | Temperature) else value


@settings(max_examples=40)
@given(texts(newer=True), st.data(), st.sampled_from(["x", 'a "b" \\ é\n\t\x1b', "", 7]))
def test_any_value_of_any_text_can_be_changed(
    text: str, data: st.DataObject, new: str | int
) -> None:
    plain = tomlkit.parse(text).unwrap()
    paths = leaves(plain)
    if not paths:
        text, paths = 'title = "x"\n', [("title",)]
    path = data.draw(st.sampled_from(paths))
    after = set_value(text, path, new)
    assert at_path(tomllib.loads(after), path) == new
    # Putting the old text of the value back gives the whole text again, byte for byte.
    once = set_value(text, path, "old")
    place = places_of(once).found[path]
    assert once[place.start : place.end] == '"old"'
    there = places_of(after).found[path]
    assert after[: there.start] + '"old"' + after[there.end :] == once


@pytest.mark.parametrize("path", [(), ("component", 0), ("component", 7, "name"), ("a", "b")])
def test_what_has_no_table_to_stand_in_is_refused(path: Path) -> None:
    with pytest.raises(KeyError):
        set_value(PLAN, path, "x")
    with pytest.raises(KeyError):
        set_value(PLAN, (*path, 3), "x")


def test_line_ends_and_the_mark_in_front_stay() -> None:
    text = "\ufeff" + PLAN.replace("\n", "\r\n")
    after = set_value(text, ("component", 1, "hold"), Duration(900))
    assert after.startswith("\ufeff#")
    assert after.count("\r\n") == after.count("\n") == PLAN.count("\n") + 1
    assert read_plan(set_value(after, ("title",), "T"), "x").components[1].hold == 900


def test_a_plan_in_toml_1_1_is_written_in_toml_1_0() -> None:
    text = 'title = "x"\nserves = 1\n[[component]]\nname = "c"\nsteps = [{\n finish = "\\x41",\n'
    text += ' time = "1 min",\n}]\n'
    after = set_value(text, ("component", 0, "steps", 0, "time"), Duration(120))
    assert tomllib.loads(after)["component"][0]["steps"] == [{"finish": "A", "time": "2 min"}]


def test_a_value_is_added_to_an_empty_file_and_to_empty_braces() -> None:
    assert set_value("", ("title",), "x") == 'title = "x"\n'
    assert set_value("[[a]]", ("a", 0, "b"), 1) == "[[a]]\nb = 1\n"
    assert set_value("a = {}", ("a", "b"), 1) == "a = { b = 1 }"
    assert set_value("a = {c=2}", ("a", "b"), 1) == "a = {c=2, b = 1}"


def test_a_comment_goes_above_the_line() -> None:
    after = add_comment(PLAN, ("component", 0, "steps", 1, "time"), "longer:\nthey were hard")
    line = "  # longer: they were hard\n"
    assert f'{line}  {{ cook = "roast", on' in after
    assert after.replace(line, "") == PLAN
    inside = add_comment(PLAN, ("component", 1, "steps", 0, "time"), "why")
    assert '# why\nsteps = [ { finish = "on' in inside
    assert tomllib.loads(inside) == tomllib.loads(PLAN)
    with pytest.raises(KeyError):
        add_comment(PLAN, ("nothing",), "why")


@settings(max_examples=40)
@given(texts(newer=False), st.data())
def test_a_comment_changes_no_value(text: str, data: st.DataObject) -> None:
    before = tomllib.loads(text)
    paths = leaves(before)
    if paths:
        after = add_comment(text, data.draw(st.sampled_from(paths)), "note")
        assert tomllib.loads(after) == before
        assert len(after) > len(text)
