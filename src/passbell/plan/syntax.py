"""From the text of a plan file to plain data, within bounds, with every stray of its syntax."""

import tomllib
from dataclasses import replace

from passbell.plan.lexer import pieces
from passbell.plan.loose import Loose, read_loosely
from passbell.plan.places import DEEPEST
from passbell.plan.problem import PlanError, Problem

LARGEST = 1_000_000
"""The largest plan file, in bytes."""
MOST_PIECES = 100_000
"""The most words, quotes and signs of a plan file; a plan of 2000 steps has about half as many."""
MOST_DOTS = 30
"""The most dots of a dotted key: each is a level of its own."""


def parsed(text: str, file: str) -> Loose:
    """The data of a TOML text (1.0 or 1.1), with line ends of one kind and no mark in front.

    Args:
        text: the text; where it strays from TOML, what it says all the same is made out.
        file: what to call it in messages.

    Raises:
        PlanError: when it is larger or nested deeper than any meal.
    """
    _bounded(text, file)
    try:
        return Loose(tomllib.loads(text), (), (), {})
    except (ValueError, RecursionError):
        return read_loosely(text)


def located(read: Loose, text: str) -> Loose:
    """What `parsed` gave, with the line of every value; they cost time, and a right plan none."""
    return read if read.lines else replace(read, lines=read_loosely(text).lines)


def _bounded(text: str, file: str) -> None:
    if len(text.encode("utf-8", "replace")) > LARGEST:
        raise PlanError((too_large(file),))
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
