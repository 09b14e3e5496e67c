"""The forgiving reader: on right texts it reads what two other readers of TOML read."""

import tomllib
from datetime import time
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st
from tomlkit.exceptions import TOMLKitError

from passbell.plan.loose import read_loosely
from passbell.planfiles import bundled_folder
from tests.plan.toml_texts import texts

SHIPPED = [path.read_text("utf-8") for path in sorted(bundled_folder().glob("*.toml"))]
# The rules for tables of TOML 1.0.0, sections Table, Inline Table and Array of Tables, in one.
TABLES = """\
a.b.c = 1
a.b.d = [1, 2, { x = 1, y.z = 2 }]
"q k".'l' = 'lit' # c
[tab.le]
x = true
[tab]
y = -1.5e3
[[arr]]
x = 0x1F
[[arr.sub]]
y = inf
[arr.tab]
z = 3
[[arr]]
i = { a = "\\e \\x41",
  # comment
  b = [ 1,
 ], }
t = 07:32
"""
BITS = st.sampled_from(
    [
        '"', "'", "[", "]", "{", "}", ",", "=", "\n", "#", "\\", '"""', "'''", "\t", " ", "é",
        "“", "1e400", "nan", "-", ".", ":", "true", "[[component]]\n", "[component]\n",
        "[a.b]\n", "a.b = 1\n", "[tab.le]\n", "[arr]\n", "[[arr]]\n", "[a]\n", "x.y.z = 2\n",
        "y.q = 1\n", "{}", "[]", "a = {}\n", "\u00a0", "= =", "\\u0000", "\\ud800",
        "1979-05-27", "07:32"
    ]
)  # fmt: skip


@settings(max_examples=40)
@given(texts(newer=False))
def test_toml_1_0_is_read_as_the_standard_library_reads_it(text: str) -> None:
    found = read_loosely(text)
    assert found.strays == ()
    assert repr(found.data) == repr(tomllib.loads(text))


@settings(max_examples=40)
@given(texts(newer=True))
def test_toml_1_1_is_read_as_tomlkit_reads_it(text: str) -> None:
    found = read_loosely(text)
    assert found.strays == ()
    assert found.data == tomlkit.parse(text).unwrap()


@pytest.mark.parametrize("text", SHIPPED)
def test_plans_that_ship_are_read_alike(text: str) -> None:
    assert read_loosely(text).data == tomllib.loads(text)


def _by_tomlkit(text: str) -> dict[str, Any] | None:
    try:
        return dict(tomlkit.parse(text).unwrap())
    except (TOMLKitError, ValueError):
        return None


@settings(max_examples=80)
@given(st.data())
def test_it_strays_exactly_where_tomlkit_refuses(data: st.DataObject) -> None:
    text = TABLES
    for _ in range(data.draw(st.integers(0, 3))):
        start = data.draw(st.integers(0, len(text) - 1))
        end = min(len(text), start + data.draw(st.sampled_from([0, 0, 1, 2, 20])))
        text = text[:start] + data.draw(BITS) + text[end:]
    found = read_loosely(text)
    kit = _by_tomlkit(text)
    assert (kit is None) == bool(found.strays)
    if kit is not None:
        assert repr(found.data) == repr(kit)


def test_a_time_may_lack_its_seconds() -> None:
    assert read_loosely("t = 07:32\n").data == {"t": time(7, 32)}


@pytest.mark.parametrize("header", ["[[arr]\t]", "[[arr] ]", "[ [arr]]"])
def test_the_brackets_of_a_header_stand_together(header: str) -> None:
    """TOML 1.0.0, Array of Tables: double brackets are one token."""
    assert _by_tomlkit(f"{header}\nx = 1\n") is None
    assert read_loosely(f"{header}\nx = 1\n").strays


def test_what_may_be_missing_is_known() -> None:
    found = read_loosely('[[a]]\nx = [ "1\ny = 2\n')
    assert found.data == {"a": [{"x": ["1"], "y": 2}]}
    assert found.is_lost(("a", 0, "x", 3))
    assert not found.is_lost(("a", 0, "y"))
    assert [stray.line for stray in found.strays] == [2]
