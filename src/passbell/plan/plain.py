r"""The same file in TOML 1.0: what 1.1 allows besides is written the older way, the rest stays.

TOML 1.1 allows line ends, comments and a last comma in a table in braces, the escapes `\e` and
`\xHH`, and times without seconds (TOML 1.1.0, changes since 1.0.0).
"""

import re

from passbell.plan.lexer import Piece, pieces

_NEW_ESCAPE = re.compile(r"\\(?:(e)|x([0-9A-Fa-f]{2})|.)", re.DOTALL)
_SHORT_TIME = re.compile(r"((?:\d{4}-\d\d-\d\d[Tt])?\d\d:\d\d)(?!:)((?:[Zz]|[+-]\d\d:\d\d)?)")


def as_toml_1_0(text: str) -> str:
    """A valid TOML 1.1 text as TOML 1.0; a text that is TOML 1.0 comes back unchanged.

    Comments inside a table in braces move to lines of their own above it.
    """
    rewrite = _Rewrite(text)
    for piece in pieces(text):
        rewrite.take(piece)
    return rewrite.finished()


class _Rewrite:
    """One pass over the pieces, with what stands between them kept."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._out: list[str] = []
        self._last = 0
        self._open: list[str] = []
        self._brace: int | None = None
        self._comments: list[str] = []
        self._comma: int | None = None
        self._broken = False

    @property
    def _in_braces(self) -> bool:
        return bool(self._open) and self._open[-1] == "{"

    def take(self, piece: Piece) -> None:
        """Write one piece, with the blanks before it."""
        blanks, self._last = self._text[self._last : piece.start], piece.end
        if self._in_braces and piece.kind in ("newline", "comment"):
            self._broken = True
            if piece.kind == "comment":
                self._comments.append(piece.text.rstrip())
            return
        self._out.append(" " if self._broken else blanks)
        self._broken = False
        if piece.kind == "mark":
            self._mark(piece.text)
            return
        if piece.kind in ("bare", "string"):
            self._comma = None
        self._out.append(_plain(piece))

    def finished(self) -> str:
        """The whole text."""
        return "".join(self._out) + self._text[self._last :]

    def _mark(self, mark: str) -> None:
        if mark in "[{":
            if mark == "{" and "{" not in self._open:
                self._brace = len(self._out)
            self._open.append(mark)
        elif mark in "]}" and self._open:
            self._open.pop()
            if mark == "}" and self._comma is not None:
                self._out[self._comma] = ""
        self._comma = len(self._out) if mark == "," and self._in_braces else None
        self._out.append(mark)
        if mark == "}" and "{" not in self._open:
            self._place_comments()

    def _place_comments(self) -> None:
        """Put the comments of a table in braces on lines above the one it begins on."""
        if not self._comments or self._brace is None:
            return
        before = "".join(self._out[: self._brace])
        start = before.rfind("\n") + 1
        head = before[start:]
        indent = head[: len(head) - len(head.lstrip())]
        lines = "".join(f"{indent}{comment}\n" for comment in self._comments)
        if self._open and head.strip():
            inside = f"{head.rstrip()}\n{lines}{indent}"
            self._out[: self._brace] = [before[:start], inside]
        else:
            self._out[: self._brace] = [before[:start], lines, head]
        self._comments.clear()


def _plain(piece: Piece) -> str:
    if piece.kind == "string" and piece.text[0] == '"':
        return _NEW_ESCAPE.sub(_escape, piece.text)
    if piece.kind == "bare":
        match = _SHORT_TIME.fullmatch(piece.text)
        return f"{match[1]}:00{match[2]}" if match else piece.text
    return piece.text


def _escape(match: re.Match[str]) -> str:
    if match[1]:
        return "\\u001B"
    return f"\\u00{match[2]}" if match[2] else match[0]
