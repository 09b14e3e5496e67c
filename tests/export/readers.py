"""Readers of each published format that are not ours, and what hostile text must not do to them."""

import csv
import html
import io
import json
import re
from collections.abc import Callable
from typing import Any

import vobject
import webvtt
from markdown_it import MarkdownIt
from markdown_it.token import Token

from passbell.export.chapters import chapters
from passbell.export.meal import Meal
from passbell.export.table import COLUMNS, harmless

MARKDOWN = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
PARTS = frozenset(
    f"{name}_{end}"
    for name in ("heading", "paragraph", "bullet_list", "ordered_list", "list_item")
    for end in ("open", "close")
) | {"inline", "text", "text_special", "softbreak"}
"""All that a card is made of: no link, no emphasis, no markup of a web page."""


def tokens(text: str) -> list[Token]:
    """What a reader of Markdown takes a text for."""
    found: list[Token] = []
    for token in MARKDOWN.parse(text):
        found.append(token)
        found += token.children or []
    return found


def rows(text: str) -> list[list[str]]:
    """The rows of a table."""
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def titles(text: str) -> list[str]:
    """The titles of the chapters of a WebVTT file."""
    return [html.unescape(cue.raw_text) for cue in webvtt.from_buffer(io.StringIO(text))]


def events(data: bytes) -> list[Any]:
    """The entries of a calendar."""
    return list(vobject.readOne(data.decode()).vevent_list)


def misread(kind: str, data: bytes, meal: Meal) -> list[str]:
    """What a reader takes an export for that it is not; empty: nothing.

    Args:
        kind: the format.
        data: the export.
        meal: what was exported.
    """
    text = data.decode()
    wrong: dict[str, Callable[[], object]] = {
        "card": lambda: {token.type for token in tokens(text)} - PARTS,
        "jsonld": lambda: _json(text, meal),
        "vtt": lambda: titles(text) != [c.title for c in chapters(meal)],
        "chapters": lambda: _lines(text, meal),
        "csv": lambda: _table(text, meal),
        "ics": lambda: _calendar(data),
    }
    found = wrong[kind]()
    return [f"{kind}: {found}"] if found else []


def _json(text: str, meal: Meal) -> set[str] | bool:
    acting = set(text) & set("<>&\u2028\u2029")
    return acting or json.loads(text)["name"] != meal.plan.title


def _lines(text: str, meal: Meal) -> list[str] | bool:
    lines = text.split("\n")
    odd = [line for line in lines[:-1] if not re.match(r"(?:\d+:)?\d\d:\d\d \S", line)]
    return odd or lines.pop() != "" or len(lines) != len(chapters(meal))


def _table(text: str, meal: Meal) -> list[str] | bool:
    found = rows(text)
    acting = [cell for row in found for cell in row if cell.strip()[:1] in tuple("=+-@")]
    uneven = [str(row) for row in found if len(row) != len(COLUMNS)]
    names = [harmless(part.name) for part in meal.account.components]
    return acting or uneven or [row[0] for row in found[1:]] != names


def _calendar(data: bytes) -> list[bytes] | bool:
    lines = data.split(b"\r\n")
    odd = [line for line in lines if b"\n" in line or b"\r" in line or len(line) > 75]
    return odd or data.count(b"\r\nBEGIN:VEVENT\r\n") != len(events(data))
