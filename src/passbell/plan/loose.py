"""Read a text that may stray from TOML: what it says all the same, and every place it strays.

A cook who forgot the quotes on five lines is told of five lines, and of what is wrong with the
values besides. A text that is TOML 1.1 strays nowhere.
"""

import re
from dataclasses import dataclass
from typing import Any

from passbell.plan.cursor import Cursor, Stray
from passbell.plan.lexer import Piece, pieces
from passbell.plan.problem import Path
from passbell.plan.scalar import NO_VALUE, bare_value, inner, string_value
from passbell.plan.tables import Tables, Taken
from passbell.units import clean_text, quoted

_KEY = re.compile("(?:[A-Za-z0-9_-]+|\0)(?:[ \t]*\\.[ \t]*(?:[A-Za-z0-9_-]+|\0))*")
_HEADER = re.compile(r"(?:component|appliance)(?:\.\w+)?")
_CURLY = "“”„‟«»‘’‚‹›"


@dataclass(frozen=True, slots=True)
class Loose:
    """What could be made out of a text.

    Attributes:
        data: as of a TOML text.
        strays: in the order of the text; none: it is TOML 1.1.
        lost: the values of which something may be missing; (): of everything behind.
    """

    data: dict[str, Any]
    strays: tuple[Stray, ...]
    lost: tuple[Path, ...]

    def is_lost(self, path: Path) -> bool:
        """Whether a value may be missing only because the text strays."""
        return any(path[: len(lost)] == lost for lost in self.lost)


def read_loosely(text: str) -> Loose:
    """What a text says, by the rules of TOML 1.1 as far as it keeps them.

    Args:
        text: with line ends of one kind, its brackets nested no deeper than a recursion may go.
    """
    reader = _Reader(text)
    reader.document()
    strays = [*reader.strays, *_odd_blanks(text, reader)]
    return Loose(
        reader.tables.root, tuple(sorted(strays, key=lambda s: s.line)), tuple(reader.lost)
    )


class _Reader(Cursor):
    """One pass over the pieces of a text."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.tables = Tables()

    def document(self) -> None:
        """Every table and every key of the file."""
        path: Path = ()
        here = self.tables.root
        self.skip_lines()
        while not self.over:
            self.begin(path)
            if self.is_mark("["):
                path, here = self._header(path, here)
            else:
                self._pair(here, path, inline=False)
            if not self.over and self.next.kind != "newline":
                more = self.run(marks=True)
                what = f"there is more behind it: {quoted(self.raw(more))}"
                self.tear(more[0], what, "begin a new line, or take it out")
            self.skip_lines()

    def _header(self, path: Path, here: dict[str, Any]) -> tuple[Path, dict[str, Any]]:
        opened = self.next
        self.take()
        many = self.is_mark("[") and self.next.start == opened.end
        self.place += many
        keys, _ = self._keys()
        closed = [self.skip("]") for _ in range(1 + many)]
        if not keys or not all(closed):
            self.statement = path
            marks = ("[[", "]]") if many else ("[", "]")
            name = ".".join(keys) or "component"
            self.tear(opened, "the header is not closed", f"write {marks[0]}{name}{marks[1]}")
            if not keys:
                return path, here
        try:
            found = self.tables.enter(keys, many=many)
        except Taken as taken:
            self._twice(opened, tuple(keys), taken)
            found = taken.path, taken.table
        self.statement = found[0]
        self.tables.note(found[1], self.line_of(opened))
        return found

    def _twice(self, piece: Piece, path: Path, taken: Taken) -> None:
        first = f", first on line {taken.line}" if taken.line else ""
        what = f"{quoted(str(path[-1]))} is there twice{first}"
        header = ".".join(str(key) for key in path)
        known = _HEADER.fullmatch(header) is not None and len(path) < 3
        mend = f"for several of them write [[{header}]]" if known else "keep one of them"
        self.stray(piece, path, what, mend)

    def _keys(self) -> tuple[list[str], list[Piece]]:
        """The parts of a dotted key, and the pieces it was made from."""
        run = self.run()
        if not run:
            return [], run
        shape, place = "", run[0].start
        for piece in run:
            shape += self.text[place : piece.start]
            shape += "\0" if piece.kind != "bare" else piece.text
            place = piece.end
        if _KEY.fullmatch(shape) is None or any(piece.kind == "broken" for piece in run):
            return [re.sub(r"[^\w-]+", "_", self.raw(run)).strip("_") or "?"], run
        texts = iter([string_value(p.text) or inner(p.text) for p in run if p.kind == "string"])
        return [next(texts) if part == "\0" else part for part in re.split(r"\s*\.\s*", shape)], run

    def _pair(self, here: dict[str, Any], path: Path, *, inline: bool) -> None:
        first = self.next
        keys, run = self._keys()
        full = (*path, *keys)
        if not inline:
            self.statement = full
        if not run:
            self.tear(first, f"a {first.text} stands where a key should", "write key = value")
            self.take()
            return
        if self.skip("="):
            if not self._is_key(run):
                mend = f"write one word, such as {keys[0]}"
                self.stray(first, full, f"{quoted(self.raw(run))} is no key", mend)
        elif not self._without_equals(run, full):
            return
        else:
            keys = [run[0].text.rstrip(":")]
            full = (*path, *keys)
        value = self._value(full, inline=inline)
        try:
            self.tables.put(here, keys, value, self.line_of(first))
        except Taken as taken:
            self._twice(first, full, taken)

    def _is_key(self, run: list[Piece]) -> bool:
        shape = self.raw(run)
        for piece in run:
            if piece.kind == "string" and string_value(piece.text) is not None:
                shape = shape.replace(piece.text, "\0", 1)
        simple = all(p.text[:3] not in ('"""', "'''") for p in run)
        return simple and _KEY.fullmatch(shape) is not None

    def _without_equals(self, run: list[Piece], full: Path) -> bool:
        """Say that the = is missing; whether a value follows all the same."""
        key = run[0].text.rstrip(":")
        colon = key != run[0].text
        named = run[0].kind == "bare" and re.fullmatch(r"[\w-]+", key) is not None
        if not named or not (colon or (len(run) > 1 and run[1].kind == "string")):
            what = f"{quoted(self.raw(run))} has no = and no value"
            self.tear(run[0], what, 'write key = "value"; a remark begins with #')
            return False
        what = f"a colon stands behind “{key}”" if colon else f"there is no = behind “{key}”"
        self.stray(run[0], full, what, f"write {key} = …")
        self.back(run[1:])
        return True

    def _value(self, path: Path, *, inline: bool) -> object:
        if self.is_mark("["):
            return self._list(path)
        if self.is_mark("{"):
            return self._table(path)
        before = self.next
        run = self.run(marks=not inline)
        if inline and self.is_mark("=") and run:
            self.back([run.pop()])
            if run:
                what = f"a comma is missing before {quoted(self.next.text)}"
                self.stray(self.next, path, what, "put one between the two")
        if not run:
            name = path[-1] if isinstance(path[-1], str) else "it"
            self.stray(before, path, f"“{name}” has no value", f'write {name} = "…"')
            return ""
        return self._plain(run, path, inline=inline)

    def _plain(self, run: list[Piece], path: Path, *, inline: bool) -> object:
        """The value of a run of words."""
        raw = self.raw(run)
        if all(piece.kind == "bare" for piece in run):
            value = bare_value(raw)
            if value is not NO_VALUE:
                return value
        if run[0].kind == "string":
            return self._text(run, path, inline=inline)
        broken = next((piece for piece in run if piece.kind == "broken"), None)
        if broken is run[0]:
            what = "a quote opens here and is not closed"
            self._torn_by(broken, path, what, f"close it with {broken.text[0]}", inline=inline)
            return inner(raw).rstrip("]}, ")
        bare = raw.strip(_CURLY + " ")
        if raw[0] in _CURLY:
            what, mend = "curly quotes mark no text here", f'write straight ones: "{_brief(bare)}"'
        else:
            what, mend = f"{quoted(raw)} stands without quotes", f'write "{_brief(bare)}"'
        self._torn_by(broken or run[0], path, what, mend, inline=inline and broken is not None)
        return bare

    def _torn_by(self, piece: Piece, path: Path, what: str, mend: str, *, inline: bool) -> None:
        """A stray that, within brackets, has swallowed the brackets that close them."""
        if piece.text.startswith(('"""', "'''")):
            self.statement = ()
        elif not inline:
            self.stray(piece, path, what, mend)
            return
        self.tear(piece, what, mend)

    def _text(self, run: list[Piece], path: Path, *, inline: bool) -> str:
        """The text of a string, and what is wrong with it or behind it."""
        value = string_value(run[0].text)
        if value is None:
            what = r"the \ in this text is followed by what it cannot be"
            self.stray(run[0], path, what, r"write \\ for a \ itself")
        if len(run) > 1:
            more = self.raw(run[1:])
            mend = r"write a quote within a text as \"" if '"' in more else "take it out"
            swallowed = inline and any(piece.kind == "broken" for piece in run)
            what = f"there is more behind the text: {quoted(more)}"
            self._torn_by(run[1], path, what, mend, inline=swallowed)
        return inner(run[0].text) if value is None else value

    def _list(self, path: Path) -> list[object]:
        opened = self.next
        self.take()
        found: list[object] = []
        last = None
        while True:
            self.skip_lines()
            piece = self.next
            if self.skip("]"):
                return found
            if self.over or self._begins_statement(pairs=True) or self.is_mark("}"):
                self.tear(opened, "the [ that opens here is not closed", "close it with ]")
                return found
            if self.is_mark(",="):
                if piece.text == "=" or last is None:
                    self.tear(piece, f"a {piece.text} too many is in the list", "take it out")
                self.take()
                last = None
                continue
            if last is not None:
                self.stray(last, path, "a comma is missing behind this", "end it with a comma")
            found.append(self._value((*path, len(found)), inline=True))
            last = self.last

    def _table(self, path: Path) -> dict[str, object]:
        opened = self.next
        self.take()
        found: dict[str, object] = {}
        last = None
        while True:
            self.skip_lines()
            piece = self.next
            if self.skip("}"):
                return found
            if self.over or self._begins_statement(pairs=False) or self.is_mark("[]{"):
                self.tear(opened, "the { that opens here is not closed", "close it with }")
                return found
            if self.is_mark(",") and last is None:
                self.tear(piece, "a comma too many is in the braces", "take it out")
            if self.skip(","):
                last = None
                continue
            if last is not None and not self.torn:
                self.stray(last, path, "a comma is missing behind this", "put one there")
            self._pair(found, path, inline=True)
            last = self.last

    def _begins_statement(self, *, pairs: bool) -> bool:
        """Whether a line begins here that can only be the next statement of the file."""
        if not self.place or self.last.kind != "newline":
            return False
        begun = self.place
        opens = 0
        while self.skip("["):
            opens += 1
        run = self.run()
        follows = self.next
        self.place = begun
        if opens:
            name = self.raw(run) if run else ""
            return _HEADER.fullmatch(name) is not None and follows.text in ("]", "")
        return pairs and bool(run) and follows.kind == "mark" and follows.text == "="


def _brief(text: str) -> str:
    return clean_text(text.replace('"', "'"), 40)


def _odd_blanks(text: str, reader: _Reader) -> list[Stray]:
    """Blanks between words that look like blanks and are none to TOML."""
    found = []
    place = 0
    for piece in (*pieces(text), Piece("newline", "", len(text), len(text))):
        odd = text[place : piece.start].strip(" \t")
        if odd:
            what = f"there is a blank of an unusual kind (U+{ord(odd[0]):04X})"
            found.append(Stray(reader.line_of(piece), (), what, "write an ordinary one"))
        place = piece.end
    return found
