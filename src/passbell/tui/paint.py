"""Lines of styled text as plain data: what a widget paints, before Textual sees it.

A line is a tuple of runs; a run is text with the name of its role (theme.py says how a role
looks) and, where the mouse may press it, a tag. Nothing here is ever read as markup.
"""

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple

from rich.cells import cell_len, set_cell_size


class Run(NamedTuple):
    """A stretch of text of one look.

    Attributes:
        text: plain text, never markup.
        role: the name of its look in theme.py.
        tag: what a mouse click on it means; empty: nothing.
    """

    text: str
    role: str = "plain"
    tag: str = ""


Line = tuple[Run, ...]
"""One line of a widget."""


def cells_in(text: str) -> int:
    """How many cells of a terminal a text takes.

    Every countdown is another text, and rich keeps what it has measured: what is seen at once to
    be one cell a character is not given to it.
    """
    return len(text) if text.isascii() and text.isprintable() else cell_len(text)


_UNSTEADY = {0x200D, 0xFE0E, 0xFE0F, 0x20E3, *range(0x1F3FB, 0x1F400)}
_NARROW = re.compile(r"[ -~°·×─-◿]*")
"""Text of which every character is one cell wide: letters, lines, blocks and marks."""
_FLAG_LETTERS = range(0x1F1E6, 0x1F200)


def steady(text: str) -> str:
    """The text with only such characters as all terminals give the same width.

    Joiners, variation selectors and skin tones go, flags become their two letters, and control
    characters that slipped past the border go too: a name may not shift the columns after it.
    """
    # Every countdown is another text: what is quickly seen to be steady fills no cache.
    return text if text.isascii() and text.isprintable() else _made_steady(text)


@lru_cache(512)
def _made_steady(text: str) -> str:
    kept = (c for c in text if ord(c) not in _UNSTEADY and unicodedata.category(c)[0] != "C")
    return "".join(_flag_letter(c) for c in kept)


def _flag_letter(char: str) -> str:
    place = ord(char)
    return chr(place - _FLAG_LETTERS.start + ord("A")) if place in _FLAG_LETTERS else char


def cut(text: str, width: int) -> str:
    """The text in at most `width` cells, with an ellipsis where it was cut."""
    text = steady(text)
    if cells_in(text) <= width:
        return text
    return set_cell_size(text, width - 1).rstrip() + "…" if width > 1 else "…"[:width]


def fill(text: str, width: int, right: bool = False) -> str:
    """The text in exactly `width` cells, cut or padded; `right`: padded in front."""
    text = cut(text, max(width, 0))
    blank = " " * (width - cells_in(text))
    return blank + text if right else text + blank


def width_of(line: Iterable[Run]) -> int:
    """The cells a line takes."""
    return sum(cells_in(run.text) for run in line)


def crop(line: Iterable[Run], width: int) -> Line:
    """The line in at most `width` cells, with an ellipsis where it was cut."""
    return tuple(_cropped(line, width)[0])


def _cropped(line: Iterable[Run], width: int) -> tuple[list[Run], int]:
    """The runs that fit, and the cells left over."""
    kept: list[Run] = []
    room = width
    for run in line:
        text = steady(run.text)
        cells = cells_in(text)
        if cells > room:
            if room > 0:
                kept.append(run._replace(text=cut(text, room) if text.strip() else " " * room))
                room -= cells_in(kept[-1].text)
            break
        kept.append(run if text == run.text else run._replace(text=text))
        room -= cells
    return kept, room


def full(line: Iterable[Run], width: int, role: str) -> Line:
    """The line in exactly `width` cells, the rest blank in `role`."""
    kept, blank = _cropped(line, width)
    if blank > 0:
        kept.append(Run(" " * blank, role))
    return tuple(kept)


def parted(line: Line, cut: int) -> tuple[Line, Line]:
    """The line before and after so many cells; a wide character on the cut becomes a blank."""
    left: list[Run] = []
    at = 0
    for place, run in enumerate(line):
        width = cells_in(run.text)
        if at + width > cut:
            first, rest = split_cells(run.text, cut - at)
            return (*left, run._replace(text=first)), (run._replace(text=rest), *line[place + 1 :])
        left.append(run)
        at += width
    return tuple(left), ()


def split_cells(text: str, cut: int) -> tuple[str, str]:
    """The text before and after so many cells, together as wide as it was."""
    if _NARROW.fullmatch(text):
        return text[:cut], text[cut:]
    first = set_cell_size(text, cut)
    rest, width = text, cells_in(text)
    while rest and cells_in(rest) > width - cut:
        rest = rest[1:]
    return first, rest + " " * (width - cut - cells_in(rest))


def spread(left: Line, right: Line, width: int, role: str) -> Line:
    """Left and right in one line of `width` cells; the left is cut when both do not fit."""
    tail = crop(right, width)
    room = width - width_of(tail)
    gap = 1 if tail and room > 0 else 0
    return (*full(left, max(room - gap, 0), role), *((Run(" ", role),) if gap else ()), *tail)


def wrap(text: str, width: int, most: int) -> list[str]:
    """The text broken at blanks into at most `most` lines; the last is cut when it goes on."""
    lines: list[str] = []
    words = steady(text).split()
    while words and len(lines) < most and width > 0:
        if len(lines) == most - 1:
            lines.append(cut(" ".join(words), width))
            break
        line = words.pop(0)
        while words and cells_in(line) + 1 + cells_in(words[0]) <= width:
            line += " " + words.pop(0)
        lines.append(cut(line, width))
    return lines


def packed(texts: Iterable[str], width: int, most: int) -> list[str]:
    """The texts one after the other with a dot between, broken only between texts."""
    lines: list[str] = []
    for text in map(steady, texts):
        if lines and cells_in(lines[-1]) + 3 + cells_in(text) <= width:
            lines[-1] += f" · {text}"
        else:
            lines.append(text)
    if len(lines) > most > 0:
        lines[most - 1] = " · ".join(lines[most - 1 :])
    return [cut(line, width) for line in lines[:most]]


def span(seconds: int) -> str:
    """A length of time as a clock shows it: "4:10", "1:02:05"; the sign is left to the words."""
    minutes, left = divmod(abs(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{left:02}" if hours else f"{minutes}:{left:02}"


_HOURS_FROM = 100
"""Minutes off the plan from which hours are told."""


def minutes_off(seconds: int) -> str:
    """How far off the plan, in whole minutes: "+3 min", "-1 min", "+2 h 05", "on time"."""
    minutes = int(seconds / 60 + (0.5 if seconds > 0 else -0.5))
    if abs(minutes) >= _HOURS_FROM:
        hours, left = divmod(abs(minutes), 60)
        return f"{'+' if minutes > 0 else '-'}{hours} h {left:02}"
    return f"{minutes:+d} min" if minutes else "on time"


def joined(cells: Iterable[tuple[str, str]]) -> Line:
    """Cells, each a sign and its role, as a line: those of one role beside each other are a run."""
    return tuple(
        Run("".join(sign for sign, _ in same), role)
        for role, same in groupby(cells, key=lambda cell: cell[1])
    )
