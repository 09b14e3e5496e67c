"""TOML 1.1 put into TOML 1.0: held against a reader of 1.0 and a reader of 1.1."""

import re
import tomllib

import tomlkit
from hypothesis import given, settings

from passbell.plan.lexer import pieces
from passbell.plan.plain import as_toml_1_0
from tests.plan.toml_texts import texts


@settings(max_examples=40)
@given(texts(newer=False))
def test_a_toml_1_0_text_stays_as_it_is(text: str) -> None:
    assert as_toml_1_0(text) == text


@settings(max_examples=40)
@given(texts(newer=True))
def test_a_toml_1_1_text_says_the_same_in_toml_1_0(text: str) -> None:
    plain = as_toml_1_0(text)
    assert tomllib.loads(plain) == tomlkit.parse(text).unwrap()
    assert as_toml_1_0(plain) == plain


@settings(max_examples=40)
@given(texts(newer=True))
def test_every_comment_stays(text: str) -> None:
    def comments(of: str) -> list[str]:
        return sorted(piece.text.strip() for piece in pieces(of) if piece.kind == "comment")

    assert comments(as_toml_1_0(text)) == comments(text)


def test_a_step_over_several_lines_becomes_one_line() -> None:
    newer = """steps = [
  {
    prep = "peel",   # with the small knife
    time = "6 min",
  },
]
"""
    assert (
        as_toml_1_0(newer)
        == """steps = [
  # with the small knife
  { prep = "peel", time = "6 min" },
]
"""
    )


def test_escapes_that_only_look_new_stay() -> None:
    text = r"""a = "\\e \\x41 C:\\xed"
b = '\e \x41'
"""
    assert as_toml_1_0(text) == text
    assert as_toml_1_0(r'a = "\e\x41"') == r'a = "\u001B\u0041"'
    assert re.search("07:32:00", as_toml_1_0("at = 07:32"))
