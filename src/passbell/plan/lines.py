"""Where each value of a plan file stands: paths of keys and list places to line numbers."""

from passbell.plan.lexer import Piece, pieces
from passbell.plan.problem import Path

DEEPEST = 30
"""The deepest nesting of lists and tables that is followed."""


def deepest(text: str) -> int:
    """How deep the brackets of a text are nested, strings and comments left out."""
    depth = found = 0
    for piece in pieces(text):
        if piece.kind == "mark" and piece.text in "[{":
            depth += 1
            found = max(found, depth)
        elif piece.kind == "mark" and piece.text in "]}":
            depth -= 1
    return found


def lines_of(text: str) -> dict[Path, int]:
    """The line, counted from 1, of every key and every list element of a TOML text."""
    walk = _Walk(text)
    walk.document()
    return walk.lines


def line_of(lines: dict[Path, int], path: Path) -> int:
    """The line of a value, or of the nearest thing around it that is there."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 1)


class _Walk:
    """One pass over the pieces of a text."""

    def __init__(self, text: str) -> None:
        self._pieces = [p for p in pieces(text) if p.kind != "comment"]
        self._line = self._line_table(text)
        self._at = 0
        self._counts: dict[Path, int] = {}
        self.lines: dict[Path, int] = {}

    def _line_table(self, text: str) -> list[int]:
        found, line, last = [], 1, 0
        for piece in self._pieces:
            line += text.count("\n", last, piece.start)
            last = piece.start
            found.append(line)
        return found

    def _peek(self) -> Piece | None:
        return self._pieces[self._at] if self._at < len(self._pieces) else None

    def _take(self) -> Piece | None:
        piece = self._peek()
        self._at += 1
        return piece

    def _skip_lines(self) -> None:
        while (piece := self._peek()) is not None and piece.kind == "newline":
            self._at += 1

    def _is(self, mark: str) -> bool:
        piece = self._peek()
        return piece is not None and piece.kind == "mark" and piece.text == mark

    def document(self) -> None:
        """Every table and every key of the file."""
        table: Path = ()
        while True:
            self._skip_lines()
            if self._peek() is None:
                return
            if self._is("["):
                table = self._header()
            else:
                self._pair(table)
            while (piece := self._peek()) is not None and piece.kind != "newline":
                self._at += 1

    def _header(self) -> Path:
        line = self._line[self._at]
        self._take()
        many = self._is("[")
        if many:
            self._take()
        parts = self._key("]")
        path: Path = ()
        for place, part in enumerate(parts):
            path = (*path, part)
            if many and place == len(parts) - 1:
                self._counts[path] = self._counts.get(path, -1) + 1
            if path in self._counts:
                path = (*path, self._counts[path])
            self.lines.setdefault(path, line)
        return path

    def _key(self, end: str) -> tuple[str, ...]:
        """The parts of a dotted key, up to and without the mark that ends it."""
        parts: list[str] = []
        while (piece := self._peek()) is not None and not self._is(end):
            if piece.kind == "newline":
                break
            self._at += 1
            if piece.kind == "bare":
                parts.extend(part for part in piece.text.split(".") if part)
            elif piece.kind == "string":
                parts.append(piece.text[1:-1])
        return tuple(parts)

    def _pair(self, table: Path) -> None:
        line = self._line[self._at]
        path = (*table, *self._key("="))
        self.lines.setdefault(path, line)
        if self._is("="):
            self._take()
            self._value(path, 0)

    def _value(self, path: Path, depth: int) -> None:
        if depth > DEEPEST:
            return
        if self._is("["):
            self._list(path, depth)
        elif self._is("{"):
            self._table(path, depth)
        else:
            self._plain()

    def _plain(self) -> None:
        while (piece := self._peek()) is not None and piece.kind in ("bare", "string", "broken"):
            self._at += 1

    def _list(self, path: Path, depth: int) -> None:
        self._take()
        place = 0
        while True:
            self._skip_lines()
            if self._peek() is None or self._is("]"):
                self._take()
                return
            if self._is(","):
                self._take()
                place += 1
                continue
            before = self._at
            self.lines.setdefault((*path, place), self._line[self._at])
            self._value((*path, place), depth + 1)
            self._at += self._at == before

    def _table(self, path: Path, depth: int) -> None:
        self._take()
        while True:
            self._skip_lines()
            if self._peek() is None or self._is("}"):
                self._take()
                return
            before = self._at
            if self._is(","):
                self._take()
            else:
                line = self._line[self._at]
                own = (*path, *self._key("="))
                self.lines.setdefault(own, line)
                if self._is("="):
                    self._take()
                    self._value(own, depth + 1)
            self._at += self._at == before
