"""Read a text that may stray from TOML: what it says all the same, and every place it strays.

A cook who forgot the quotes on five lines is told of five lines, and of what is wrong with the
values besides. A text that is TOML 1.1 strays nowhere.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from passbell.plan.cursor import Cursor, Stray
from passbell.plan.lexer import Piece, pieces
from passbell.plan.problem import Path
from passbell.plan.scalar import NO_VALUE, bare_value, inner, string_value
from passbell.plan.tables import Table, Tables, Taken
from passbell.units import clean_text, quoted

_KEY = re.compile("(?:[A-Za-z0-9_-]+|\0)(?:[ \t]*\\.[ \t]*(?:[A-Za-z0-9_-]+|\0))*")
_HEADER = re.compile(r"(?:component|appliance)(?:\.\w+)?")
_KEY_MEND = "write letters, digits, - and _ only, such as serve_at"
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_TRIPLE = ('"""', "'''")
_CURLY = "“”„‟«»‘’‚‹›"


@dataclass(frozen=True, slots=True)
class Loose:
    """What could be made out of a text.

    Attributes:
        data: as of a TOML text.
        strays: in the order of the text; none: it is TOML 1.1.
        lost: the values of which something may be missing; (): of everything behind.
        lines: where each key and each entry of a list stands.
    """

    data: dict[str, Any]
    strays: tuple[Stray, ...]
    lost: tuple[Path, ...]
    lines: Mapping[Path, int]

    def line(self, path: Path) -> int:
        """The line of a value, or of the nearest thing around it that is there."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)

    def is_lost(self, path: Path) -> bool:
        """Whether a value may be missing only because the text strays."""
        return any(path[: len(lost)] == lost for lost in self.lost)


def read_loosely(text: str) -> Loose:
    """What a text says, by the rules of TOML 1.1 as far as it keeps them.

    Args:
        text: with line ends of one kind, its brackets nested no deeper than a recursion may go.
    """
    reader = _Reader(_CONTROL.sub(" ", text))
    reader.document()
    strays = [*reader.strays, *_odd_signs(text), *_odd_blanks(reader)]
    strays.sort(key=lambda stray: stray.line)
    return Loose(reader.tables.root, tuple(strays), tuple(reader.lost), reader.lines)


class _Reader(Cursor):
    """One pass over the pieces of a text."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.tables = Tables()
        self._lost_lines = False

    def document(self) -> None:
        """Every table and every key of the file."""
        path: Path = ()
        here: Table = self.tables.root
        self.skip_lines()
        while not self.over:
            self.begin(path)
            if self.is_mark("["):
                path, here = self._header()
            elif self._is_bare_header():
                path, here = self._bare_header()
            elif self.next.kind == "mark":
                self._stranded()
            else:
                self._pair(here, path, inline=False)
            if not self.over and "newline" not in (self.last.kind, self.next.kind):
                more = self.run(marks=True)
                what = f"there is more behind it: {quoted(self.raw(more))}"
                self.tear(more[0], what, "begin a new line, or take it out")
            self.skip_lines()

    def _stranded(self) -> None:
        """A line that begins with a mark; of several in a row the first is told."""
        piece = self.next
        if not self._lost_lines:
            what = f"the line begins with {piece.text}, and nothing there wants it"
            self.stray(piece, (), what, "look at the lines above, or take it out")
        self._lost_lines = True
        self.lost.append(self.statement)
        self.run(marks=True)

    def _is_bare_header(self) -> bool:
        run = self.run()
        alone = self.over or self.next.kind == "newline"
        self.back(run)
        return alone and len(run) == 1 and _HEADER.fullmatch(run[0].text) is not None

    def _bare_header(self) -> tuple[Path, Table]:
        piece = self.take()
        what = f"{quoted(piece.text)} stands without brackets"
        self.stray(piece, (), what, f"write [[{piece.text}]]")
        return self._enter(piece, piece.text.split("."), many=True)

    def _header(self) -> tuple[Path, Table]:
        opened = self.take()
        many = self.is_mark("[") and self.next.start == opened.end
        self.place += many
        keys, run, whole = self._keys()
        closed = [self.skip("]")]
        if many:
            apart = self.next.start != self.last.end
            closed.append(self.skip("]") and not apart)
        if not keys or not all(closed):
            marks = ("[[", "]]") if many else ("[", "]")
            mend = f"write {marks[0]}{'.'.join(keys) or 'component'}{marks[1]}"
            self.stray(opened, (), "the header is not closed", mend)
        elif not whole:
            what = f"{quoted(self.raw(run))} is no name of a table"
            self.stray(opened, (), what, _KEY_MEND)
            self.lost.append(tuple(keys))
        if not keys:
            self.lost.append(())
            return ("",), {}
        return self._enter(opened, keys, many=many)

    def _enter(self, opened: Piece, keys: list[str], *, many: bool) -> tuple[Path, Table]:
        try:
            found = self.tables.enter(keys, many=many)
        except Taken as taken:
            self._twice(opened, tuple(keys), taken)
            found = taken.path, taken.table
        self.statement = found[0]
        self.tables.note(found[1], self.line_of(opened))
        self.stands(opened, found[0])
        return found

    def _twice(self, piece: Piece, path: Path, taken: Taken) -> None:
        first = f", first on line {taken.line}" if taken.line else ""
        what = f"{quoted(str(path[-1]))} is there twice{first}"
        header = ".".join(str(key) for key in path)
        known = _HEADER.fullmatch(header) is not None and len(path) < 3
        mend = f"for several of them write [[{header}]]" if known else "keep one of them"
        self.stray(piece, path, what, mend)

    def _keys(self) -> tuple[list[str], list[Piece], bool]:
        """The parts of a dotted key, the pieces it was made from, and whether it is one."""
        run = self.run()
        if not run:
            return [], run, False
        ends = [run[0].start, *(piece.end for piece in run)]
        between = (self.text[end : piece.start] for end, piece in zip(ends, run, strict=False))
        signs = ["\0" if piece.kind == "string" else piece.text for piece in run]
        shape = "".join(part for pair in zip(between, signs, strict=True) for part in pair)
        texts = [string_value(piece.text) for piece in run if piece.kind == "string"]
        whole = None not in texts and not any(p.text.startswith(_TRIPLE) for p in run)
        if not whole or _KEY.fullmatch(shape) is None:
            return [re.sub(r"[^\w-]+", "_", self.raw(run)).strip("_") or "?"], run, False
        said = iter(texts)
        parts = re.split(r"[ \t]*\.[ \t]*", shape)
        return [str(next(said)) if part == "\0" else part for part in parts], run, True

    def _pair(self, here: Table, path: Path, *, inline: bool) -> None:
        self._lost_lines = False
        first = self.next
        keys, run, whole = self._keys()
        if not inline:
            self.statement = (*path, *keys)
        if not run:
            self.tear(first, f"{quoted(first.text)} stands where a key should", "write key = value")
            self.take()
            return
        if not self.skip("="):
            keys = self._without_equals(run, path, inline=inline)
        elif not whole:
            what = f"{quoted(self.raw(run))} is no key"
            self.stray(first, (*path, *keys), what, _KEY_MEND)
            self.lost.append((*path, *keys))
        if keys:
            self.stands(first, (*path, *keys))
            value = self._value((*path, *keys), inline=inline)
            try:
                self.tables.put(here, keys, value, self.line_of(first))
            except Taken as taken:
                self._twice(first, (*path, *keys), taken)

    def _without_equals(self, run: list[Piece], path: Path, *, inline: bool) -> list[str]:
        """Say that the = is missing; the key, when a value follows all the same."""
        key = run[0].text.rstrip(":")
        colon = key != run[0].text or [piece.text for piece in run[1:2]] == [":"]
        rest = run[1 + (run[1:2] != [] and run[1].text == ":") :]
        named = run[0].kind == "bare" and re.fullmatch(r"[\w-]+", key) is not None
        follows = colon or (rest and rest[0].kind == "string")
        if not named or not follows:
            what = f"{quoted(self.raw(run))} has no = and no value"
            remark = "" if inline else "; a remark begins with #"
            self.tear(run[0], what, f'write key = "value"{remark}', path)
            return []
        what = f"a colon stands behind “{key}”" if colon else f"there is no = behind “{key}”"
        self.stray(run[0], (*path, key), what, f"write {key} = …")
        self.back(rest)
        return [key]

    def _value(self, path: Path, *, inline: bool) -> object:
        if self.is_mark("["):
            return self._list(path)
        if self.is_mark("{"):
            return self._table(path)
        before = self.next
        run = self.run(marks=not inline)
        if inline and self.is_mark("=") and run:
            self.back([run.pop()])
        if not run:
            name = path[-1] if isinstance(path[-1], str) else "it"
            self.stray(before, path, f"“{name}” has no value", f"write {name} = …")
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
            mark = broken.text[:3] if broken.text.startswith(_TRIPLE) else broken.text[0]
            self._torn_by(broken, path, what, f"close it with {mark}", inline=inline)
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
        if piece.text.startswith(_TRIPLE):
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
        if inline and run[1:] and run[1].kind == "string":
            self.stray(run[0], path, "a comma is missing behind this", "put one there")
        elif len(run) > 1:
            more = self.raw(run[1:])
            what = f"there is more behind the text: {quoted(more)}"
            mend = "take it out"
            if '"' in more:
                mend = r'close every text with ", and write a quote within one as \"'
            swallowed = inline and any(piece.kind == "broken" for piece in run)
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
                    what = f"there is a {quoted(piece.text)} too many in the list"
                    self.tear(piece, what, "take it out")
                self.take()
                last = None
                continue
            if last is not None:
                self.stray(last, path, "a comma is missing behind this", "put one there")
            begun = self.place
            self.stands(piece, (*path, len(found)))
            found.append(self._value((*path, len(found)), inline=True))
            if self.place == begun:
                self.tear(self.take(), "a key stands in a list", "write { key = value } for it")
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
                self.tear(piece, "there is a “,” too many in the braces", "take it out")
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


def _odd_signs(text: str) -> Iterator[Stray]:
    """Control characters, the first of each line."""
    lines = text.split("\n")
    for number, line in enumerate(lines, 1):
        control = _CONTROL.search(line)
        if control is not None:
            what = f"there is a control character (U+{ord(control[0]):04X})"
            yield Stray(number, (), what, "take it out")


def _odd_blanks(reader: Cursor) -> Iterator[Stray]:
    """What looks like a blank between words and is none to TOML."""
    place = 0
    for piece in pieces(f"{reader.text}\n"):
        odd = reader.text[place : piece.start].strip(" \t")
        if odd:
            what = f"there is a blank of an unusual kind (U+{ord(odd[0]):04X})"
            yield Stray(reader.line_of(piece), (), what, "write an ordinary one")
        place = piece.end
