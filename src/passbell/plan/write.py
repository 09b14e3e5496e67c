"""Small edits to the text of a plan: one value changes, every other character stays."""

import re
from collections.abc import Mapping, Sequence

import tomlkit

from passbell.plan.places import Place, Places, places_of
from passbell.plan.plain import as_toml_1_0
from passbell.plan.problem import Path
from passbell.units import clean_text
from passbell.units.base import Written

Value = str | int | Written | Sequence[str]
"""What a plan holds: text, a whole number, a quantity (written as its text), a list of text."""

_HEAD = re.compile(r"([ \t]*)([^=\n]*?)([ \t]*)=([ \t]*)")


def set_value(text: str, path: Path, value: Value) -> str:
    """The text with one value changed, or added to its table when it is not there.

    What is written is TOML 1.0. A text in TOML 1.1 is first put into TOML 1.0.

    Args:
        text: the text of a plan that can be read.
        path: keys and places in lists, such as ("component", 0, "steps", 2, "time").
        value: the new value.

    Raises:
        KeyError: when the table that should hold the value is not there, or a whole table is.
    """
    mark, plain = _without_mark(text)
    places = places_of(plain)
    there = places.found.get(path)
    written = _written(value)
    if there is not None:
        if there.kind == "table":
            raise KeyError(path)
        return mark + plain[: there.start] + written + plain[there.end :]
    return mark + _added(plain, places, path, written)


def set_values(text: str, changes: Mapping[Path, Value]) -> str:
    """The text with several values changed or added, as `set_value` does each.

    Args:
        text: the text of a plan that can be read.
        changes: the new values by their paths.

    Raises:
        KeyError: as for `set_value`.
    """
    mark, plain = _without_mark(text)
    found = places_of(plain).found
    there = {path: found[path] for path in changes if path in found}
    if any(place.kind == "table" for place in there.values()):
        raise KeyError(next(path for path, place in there.items() if place.kind == "table"))
    for path, place in sorted(there.items(), key=lambda item: item[1].start, reverse=True):
        plain = plain[: place.start] + _written(changes[path]) + plain[place.end :]
    for path in changes:
        if path not in there:
            plain = set_value(plain, path, changes[path])
    return mark + plain


def add_comment(text: str, path: Path, comment: str) -> str:
    """The text with a comment on a line of its own above a value.

    Args:
        text: the text of a plan that can be read.
        path: the value; the comment goes above the line where it or what holds it begins.
        comment: one line, without the sign.

    Raises:
        KeyError: when nothing of the path is there.
    """
    mark, plain = _without_mark(text)
    places = places_of(plain)
    while path and not _begins_line(plain, places, path):
        path = path[:-1]
    if not path:
        raise KeyError(path)
    start = plain.rfind("\n", 0, places.found[path].key) + 1
    indent = plain[start : places.found[path].key]
    return f"{mark}{plain[:start]}{indent}# {clean_text(comment)}{_line_end(plain)}{plain[start:]}"


def _without_mark(text: str) -> tuple[str, str]:
    """The byte order mark of a text, if it has one, and the text in TOML 1.0."""
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    return mark, as_toml_1_0(text.removeprefix("\ufeff"))


def _written(value: Value) -> str:
    if isinstance(value, Written):
        return _written(str(value))
    if isinstance(value, str):
        return str(tomlkit.string(value).as_string())
    if isinstance(value, int):
        return str(int(value))
    return f"[{', '.join(_written(entry) for entry in value)}]"


def _added(text: str, places: Places, path: Path, written: str) -> str:
    table, key = places.found.get(path[:-1]), path[-1] if path else None
    if table is None or not isinstance(key, str) or table.kind not in ("table", "inline"):
        raise KeyError(path)
    if table.kind == "inline":
        return _in_braces(text, table, f"{key} = {written}")
    return _on_a_line(text, places, path, written)


def _in_braces(text: str, table: Place, pair: str) -> str:
    """One more pair before the closing brace."""
    inside = text[table.start + 1 : table.end - 1]
    body = inside.rstrip()
    blank = inside[len(body) :]
    glue = ", " if body else ("" if blank else " ")
    closed = f"{blank or ('' if body else ' ')}}}"
    return f"{text[: table.start + 1]}{body}{glue}{pair}{closed}{text[table.end :]}"


def _on_a_line(text: str, places: Places, path: Path, written: str) -> str:
    """One more line behind the last of a table, set like its neighbour."""
    table, key = places.found[path[:-1]], str(path[-1])
    own = [p for at, p in places.found.items() if at[:-1] == path[:-1] and p.kind != "table"]
    end = _line_end(text)
    if not own:
        start = text.rfind("\n", 0, table.start) + 1
        indent = text[start : table.start] if path[:-1] else ""
        line = f"{indent}{key} = {written}"
    else:
        line = _like(text, max(own, key=lambda p: p.start), key) + written
    if not own and not path[:-1]:
        return f"{line}{end}{text}"
    after = text.find("\n", table.end)
    if after < 0:
        return f"{text}{end}{line}{end}"
    return f"{text[: after + 1]}{line}{end}{text[after + 1 :]}"


def _like(text: str, neighbour: Place, key: str) -> str:
    """A key and its sign, with the indent of a neighbour and, where it fits, its alignment."""
    start = text.rfind("\n", 0, neighbour.key) + 1
    head = _HEAD.match(text, start)
    if head is None:
        return f"{key} = "
    width = len(head[2]) + len(head[3])
    gap = " " * max(width - len(key), len(head[3][:1]))
    return f"{head[1]}{key}{gap}={head[4]}"


def _begins_line(text: str, places: Places, path: Path) -> bool:
    """Whether a line begins with a value or its key, where a comment may stand above it."""
    around = path[:-1]
    while around not in places.found:
        around = around[:-1]
    if path not in places.found or places.found[around].kind == "inline":
        return False
    key = places.found[path].key
    return not text[text.rfind("\n", 0, key) + 1 : key].strip()


def _line_end(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"
