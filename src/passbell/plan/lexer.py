"""The pieces of a TOML text with their places, for line numbers and for edits of single bytes.

It follows the lexical rules of TOML 1.0 and 1.1 (strings, comments, brackets, separators) and
judges nothing: any text gives pieces, in time and memory proportional to its length.
"""

import re
from collections.abc import Iterator
from typing import Literal, NamedTuple

PieceKind = Literal["string", "broken", "comment", "newline", "mark", "bare"]

_PIECE = re.compile(
    r"""
      (?P<string> \"\"\" (?: [^"\\] | \\. | "{1,2}(?!") )*+ "{3,5}
                | ''' (?: [^'] | '{1,2}(?!') )*+ '{3,5}
                | " (?!"") (?: [^"\\\n] | \\[^\n] )*+ "
                | ' (?!'') [^'\n]*+ ' )
    | (?P<broken> (?: \"\"\" | ''' ) .*+ | ["'] [^\n]*+ )
    | (?P<comment> \#[^\n]*+ )
    | (?P<newline> \n )
    | (?P<mark> [\[\]{},=] )
    | (?P<bare> [^\s"'\#\[\]{},=]++ )
    """,
    re.VERBOSE | re.DOTALL,
)


class Piece(NamedTuple):
    """One piece of the text: its kind, its text and where it begins and ends.

    A "broken" piece is a quote without its end, and all that it swallows: the line, or with
    three quotes the rest of the text. (Looking for an end once only keeps the time linear.)
    """

    kind: PieceKind
    text: str
    start: int
    end: int


def pieces(text: str) -> Iterator[Piece]:
    """Every piece of a TOML text but blanks, in order."""
    for match in _PIECE.finditer(text):
        kind: PieceKind = match.lastgroup  # type: ignore[assignment]  # the five groups are the kinds
        yield Piece(kind, match[0], match.start(), match.end())
