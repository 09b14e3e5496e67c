"""A place in the pieces of a TOML text that moves on, and what is noted on the way."""

import re
from bisect import bisect_left
from dataclasses import dataclass

from passbell.plan.lexer import Piece, pieces
from passbell.plan.problem import Path

END = Piece("newline", "", -1, -1)
"""What comes behind the last piece."""
_WORDS = ("bare", "string", "broken")


@dataclass(frozen=True, slots=True)
class Stray:
    """A place where a text strays from TOML.

    Attributes:
        line: counted from 1.
        path: the value it is about, as far as it is known.
        what: what is wrong, without a full stop.
        mend: how to write it, without a full stop.
    """

    line: int
    path: Path
    what: str
    mend: str


class Cursor:
    """A place in the pieces of a text, comments left out.

    Attributes:
        text: the text.
        strays: what was noted.
        lines: where each key and each entry of a list stands.
        lost: the values of which something may be missing.
        statement: the path of the statement that is being read.
        torn: whether what follows of it is a guess.
        place: how many pieces are behind.
    """

    def __init__(self, text: str) -> None:
        self.text = text
        self.strays: list[Stray] = []
        self.lines: dict[Path, int] = {}
        self.lost: list[Path] = []
        self.statement: Path = ()
        self._pieces = [piece for piece in pieces(text) if piece.kind != "comment"]
        self._breaks = [match.start() for match in re.finditer("\n", text)]
        self.place = 0
        self.torn = False

    @property
    def next(self) -> Piece:
        """The piece that comes next."""
        return self._pieces[self.place] if self.place < len(self._pieces) else END

    @property
    def last(self) -> Piece:
        """The piece before."""
        return self._pieces[self.place - 1] if self.place else END

    @property
    def over(self) -> bool:
        """Whether nothing comes any more."""
        return self.place >= len(self._pieces)

    def line_of(self, piece: Piece) -> int:
        """The line of a piece; of the end: the last line with anything on it."""
        start = piece.start if piece is not END else self._pieces[-1].start
        return bisect_left(self._breaks, start) + 1

    def is_mark(self, marks: str) -> bool:
        """Whether one of these marks comes next."""
        return self.next.kind == "mark" and self.next.text in marks

    def skip(self, mark: str) -> bool:
        """Go past a mark, if it comes next; whether it did."""
        there = self.is_mark(mark)
        self.place += there
        return there

    def skip_lines(self) -> None:
        """Go past line ends."""
        while not self.over and self.next.kind == "newline":
            self.place += 1

    def take(self) -> Piece:
        """Go past the next piece, whatever it is."""
        piece = self.next
        self.place += 1
        return piece

    def run(self, *, marks: bool = False) -> list[Piece]:
        """Take the words up to the next mark or line end; with `marks`, up to the line end."""
        begun = self.place
        while not self.over and self.next.kind != "newline":
            if not marks and self.next.kind not in _WORDS:
                break
            self.place += 1
        return self._pieces[begun : self.place]

    def back(self, run: list[Piece]) -> None:
        """Go back before the words that were taken last."""
        self.place -= len(run)

    def raw(self, run: list[Piece]) -> str:
        """The text of some pieces with what lies between them."""
        return self.text[run[0].start : run[-1].end]

    def stands(self, piece: Piece, path: Path) -> None:
        """Note that a value, or its key, begins with a piece."""
        self.lines.setdefault(path, self.line_of(piece))

    def begin(self, path: Path) -> None:
        """A new statement: what is torn no longer matters."""
        self.statement = path
        self.torn = False

    def stray(self, piece: Piece, path: Path, what: str, mend: str) -> None:
        """Note something wrong that leaves the pieces around it whole."""
        if not self.torn:
            self.strays.append(Stray(self.line_of(piece), path, what, mend))

    def tear(self, piece: Piece, what: str, mend: str, path: Path | None = None) -> None:
        """Note something wrong behind which the rest of the statement is a guess, and is let be."""
        self.stray(piece, self.statement if path is None else path, what, mend)
        self.torn = True
        self.lost.append(self.statement)
