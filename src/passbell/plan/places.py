"""Where each value of a plan file stands: paths of keys and list places to lines and characters."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from passbell.plan.lexer import Piece, pieces
from passbell.plan.problem import Path

DEEPEST = 30
"""The deepest nesting of lists and tables that is followed."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a value stands in the text.

    Attributes:
        kind: value, list, inline (a table in braces) or table (one with a header of its own).
        line: the line of its key or, in a list, of the value; counted from 1.
        key: the character its key begins with; in a list and of a header, the value's own.
        start, end: the characters of the value; of a table: its header to its last own value.
    """

    kind: Literal["value", "list", "inline", "table"]
    line: int
    key: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Places:
    """The places of a whole text.

    Attributes:
        found: a place for every key, list element and header.
        twice: keys that are written twice, with the line of the second and of the first.
    """

    found: dict[Path, Place]
    twice: tuple[tuple[Path, int, int], ...]

    def line(self, path: Path) -> int:
        """The line of a value, or of the nearest thing around it that is there."""
        while path and path not in self.found:
            path = path[:-1]
        return self.found[path].line


def places_of(text: str) -> Places:
    """The place of every key and every list element of a TOML text.

    It judges nothing: a text that is no TOML gives the places up to where it goes astray.
    """
    walk = _Walk(text)
    walk.document()
    return Places(walk.found, tuple(walk.twice))


class _Walk:
    """One pass over the pieces of a text."""

    def __init__(self, text: str) -> None:
        self._pieces = [p for p in pieces(text) if p.kind != "comment"]
        self._lines = _line_numbers(text, self._pieces)
        self._end = Piece("newline", "", len(text), len(text))
        self._at = 0
        self._counts: dict[Path, int] = {}
        self.found: dict[Path, Place] = {(): Place("table", 1, 0, 0, 0)}
        self.twice: list[tuple[Path, int, int]] = []

    @property
    def _next(self) -> Piece:
        return self._pieces[self._at] if self._at < len(self._pieces) else self._end

    @property
    def _over(self) -> bool:
        return self._at >= len(self._pieces)

    @property
    def _line(self) -> int:
        return self._lines[min(self._at, len(self._lines) - 1)] if self._lines else 1

    def _is(self, mark: str) -> bool:
        return self._next.kind == "mark" and self._next.text == mark

    def _skip(self, mark: str) -> bool:
        there = self._is(mark)
        self._at += there
        return there

    def _skip_lines(self) -> None:
        while not self._over and self._next.kind == "newline":
            self._at += 1

    def document(self) -> None:
        """Every table and every key of the file."""
        table: Path = ()
        self._skip_lines()
        while not self._over:
            if self._is("["):
                table = self._header()
            else:
                end = self._pair(table, 0)
                self.found[table] = replace(self.found[table], end=end)
            while not self._over and self._next.kind != "newline":
                self._at += 1
            self._skip_lines()

    def _header(self) -> Path:
        line, start = self._line, self._next.start
        self._skip("[")
        many = self._skip("[")
        parts = self._key("]")
        end = self._next.end if self._is("]") else start
        if many and self._skip("]"):
            end = self._next.end if self._is("]") else end
        path: Path = ()
        for place, part in enumerate(parts):
            path = (*path, part)
            last = place == len(parts) - 1
            if many and last:
                self._counts[path] = self._counts.get(path, -1) + 1
            elif last and self.found.get(path, _NOWHERE).kind == "table":
                self._repeated(path, line)
            if path in self._counts:
                path = (*path, self._counts[path])
        self.found.setdefault(path, Place("table", line, start, start, end))
        return path

    def _repeated(self, path: Path, line: int) -> None:
        self.twice.append((path, line, self.found[path].line))

    def _key(self, end: str) -> tuple[str, ...]:
        """The parts of a dotted key, up to and without the mark that ends it."""
        parts: list[str] = []
        while not self._over and self._next.kind != "newline" and not self._is(end):
            piece = self._next
            self._at += 1
            if piece.kind == "bare":
                parts.extend(part for part in piece.text.split(".") if part)
            elif piece.kind == "string":
                parts.append(piece.text[1:-1])
        return tuple(parts)

    def _pair(self, table: Path, depth: int) -> int:
        """A key and its value; the character where it ends."""
        line, key = self._line, self._next.start
        path = (*table, *self._key("="))
        if path in self.found and path != table:
            self._repeated(path, line)
        if not self._skip("="):
            return key
        return self._value(path, (line, key), depth)

    def _value(self, path: Path, stands: tuple[int, int], depth: int) -> int:
        kind: Literal["value", "list", "inline"] = "value"
        line, key = stands
        start, end = self._next.start, self._next.end
        if depth <= DEEPEST and self._is("["):
            kind, end = "list", self._list(path, depth)
        elif depth <= DEEPEST and self._is("{"):
            kind, end = "inline", self._table(path, depth)
        else:
            while not self._over and self._next.kind in ("bare", "string", "broken"):
                end = self._next.end
                self._at += 1
        self.found.setdefault(path, Place(kind, line, key, start, end))
        return end

    def _list(self, path: Path, depth: int) -> int:
        self._at += 1
        place = 0
        while not self._over:
            self._skip_lines()
            before, end = self._at, self._next.end
            if self._skip("]"):
                return end
            if self._skip(","):
                place += 1
                continue
            self._value((*path, place), (self._line, self._next.start), depth + 1)
            self._at += self._at == before
        return self._pieces[-1].end

    def _table(self, path: Path, depth: int) -> int:
        self._at += 1
        while not self._over:
            self._skip_lines()
            before, end = self._at, self._next.end
            if self._skip("}"):
                return end
            if not self._skip(","):
                self._pair(path, depth + 1)
            self._at += self._at == before
        return self._pieces[-1].end


_NOWHERE = Place("value", 1, 0, 0, 0)


def _line_numbers(text: str, found: Sequence[Piece]) -> list[int]:
    numbers, line, last = [], 1, 0
    for piece in found:
        line += text.count("\n", last, piece.start)
        last = piece.start
        numbers.append(line)
    return numbers
