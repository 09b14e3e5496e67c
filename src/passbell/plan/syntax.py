"""From the text of a plan file to plain data, within bounds, and what is wrong where it fails."""

import re
import tomllib
from typing import Any

import tomlkit
from tomlkit.exceptions import ParseError, TOMLKitError

from passbell.plan.lexer import Piece, pieces
from passbell.plan.places import DEEPEST, places_of
from passbell.plan.problem import PlanError, Problem
from passbell.units import quoted

LARGEST = 1_000_000
"""The largest plan file, in bytes."""
MOST_PIECES = 100_000
"""The most words, quotes and signs of a plan file; a plan of 2000 steps has about half as many."""

MOST_DOTS = 30
"""The most dots of a dotted key: each is a level of its own."""

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
_CURLY = re.compile("[“”„‟«»‘’‚]")
_TRIPLE = ('"""', "'''")
_SYNTAX_MEND = 'write key = "value" on each line, and close every quote and bracket'


def parsed(text: str, file: str) -> dict[str, Any]:
    """The data of a TOML text (1.0 or 1.1), with line ends of one kind and no mark in front.

    Args:
        text: the text.
        file: what to call it in messages.

    Raises:
        PlanError: with the one place where the text stops being TOML.
    """
    _bounded(text, file)
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError):
        pass
    try:
        return dict(tomlkit.parse(text).unwrap())
    except (TOMLKitError, ValueError, KeyError, RecursionError) as error:
        raise PlanError((_explained(text, file, error),)) from None


def _bounded(text: str, file: str) -> None:
    if len(text.encode("utf-8", "replace")) > LARGEST:
        raise PlanError((too_large(file),))
    control = _CONTROL.search(text)
    if control is not None:
        line = text.count("\n", 0, control.start()) + 1
        what = f"there is a control character (U+{ord(control[0]):04X})"
        raise PlanError((Problem(file, line, "", what, "take it out"),))
    depth = dots = 0
    for count, piece in enumerate(pieces(text)):
        depth += (piece.text in ("[", "{")) - (piece.text in ("]", "}"))
        if piece.kind != "string":
            dots = dots + piece.text.count(".") if piece.kind == "bare" else 0
        if depth > DEEPEST or dots > MOST_DOTS:
            line = text.count("\n", 0, piece.start) + 1
            what = "lists and tables are nested too deep"
            raise PlanError((Problem(file, line, "", what, "write the steps one level deep"),))
        if count > MOST_PIECES:
            raise PlanError((too_large(file),))


def too_large(file: str) -> Problem:
    """What is said of a file beyond the bounds."""
    return Problem(file, 1, "", "it is larger than any meal", "a plan is one meal: cut it down")


def _explained(text: str, file: str, error: Exception) -> Problem:
    twice = places_of(text).twice
    if twice and "already" in str(error).lower():
        path, second, first = twice[0]
        what = f"{quoted(str(path[-1]))} is there twice, first on line {first}"
        return Problem(file, second, "", what, "keep one of them")
    line = error.line if isinstance(error, ParseError) else 1
    if isinstance(error, ParseError) and error.col == 0 and line > 1 and _stands_at_end(text, line):
        line -= 1
    lines = text.split("\n")
    shown = lines[min(line, len(lines)) - 1]
    unclosed = _unclosed(text)
    if unclosed is not None and unclosed[2].endswith(_TRIPLE):
        found: tuple[int, str, str] | None = unclosed
    else:
        found = _on_line(shown, line) or unclosed or _comma(shown, line)
    if found is None:
        words = re.sub(r" at line \d+ col \d+", "", str(error)).strip(" .'\"")
        what = f"it cannot be read as TOML ({words})" if words else "it cannot be read as TOML"
        found = line, what, _SYNTAX_MEND
    return Problem(file, found[0], "", found[1], found[2])


def _stands_at_end(text: str, line: int) -> bool:
    """Whether a line is the empty one behind the last: the fault is then before it."""
    return line > text.count("\n") and text.endswith("\n")


def _on_line(line: str, number: int) -> tuple[int, str, str] | None:
    """What can be told of a broken line by looking at it."""
    if _CURLY.search(line):
        return number, "curly quotes mark no text here", 'write straight ones: "…"'
    if re.match(r"""\s*[\w-]+\s*=\s*(#.*)?$""", line):
        return number, "there is no value behind the =", 'write one, for example title = "Supper"'
    if re.match(r"""\s*[\w-]+\s*=\s*[^\W\d]""", line):
        return number, "the text behind the = has no quotes", 'write it like title = "Supper"'
    if re.match(r"""\s*[\w-]+\s*=\s*\d+[\d.,:]*\s*[a-zA-Z°]""", line):
        return number, "a number with a unit stands without quotes", 'write it like time = "6 min"'
    bare = re.match(r"\s*([\w-]+)\s*(#.*)?$", line)
    if bare is not None:
        return number, "there is no = behind the key", f'write {bare[1][:60]} = "…"'
    if re.match(r"\s*[\w-]+\s*[:\"]", line):
        return number, "there is no = between the key and its value", 'write key = "value"'
    return None


def _comma(line: str, number: int) -> tuple[int, str, str] | None:
    if re.match(r"\s*[{\"]", line):
        return number, "a comma is missing before this", "end the line above with a comma"
    return None


def _unclosed(text: str) -> tuple[int, str, str] | None:
    """A quote or a bracket that opens and is never closed."""
    open_pieces: list[Piece] = []
    for piece in pieces(text):
        if piece.kind == "broken":
            line = text.count("\n", 0, piece.start) + 1
            mark = piece.text[:3] if piece.text[:3] in _TRIPLE else piece.text[0]
            return line, "a quote opens here and is not closed", f"close it with {mark}"
        if piece.kind == "mark" and piece.text in "[{":
            open_pieces.append(piece)
        elif piece.kind == "mark" and piece.text in "]}" and open_pieces:
            open_pieces.pop()
    if not open_pieces:
        return None
    opened = open_pieces[-1]
    line = text.count("\n", 0, opened.start) + 1
    close = {"[": "]", "{": "}"}[opened.text]
    return line, f"the {opened.text} that opens here is not closed", f"close it with {close}"
