"""Block letters, drawn by strokes of our own: what to do, legible from across the kitchen.

A letter is a few straight strokes between the nine points of its box, a b c above, d e f at half
height, g h i below, and j within, between e and i, with some corners taken off. Half blocks set it
as they set the digits.
"""

import unicodedata
from functools import cache, lru_cache
from itertools import pairwise

from rich.cells import cell_len

from passbell.tui.digits import Points, half_blocks, stem_of

HEIGHTS = (8, 7, 6, 5, 4, 3)
"""Heights tried by `spelled`, in rows of the terminal, largest first."""

_STROKES = {
    "A": "gaci df", "B": "agicad df", "C": "cagi", "D": "agica", "E": "cagi de", "F": "cag de",
    "G": "cagife", "H": "ag ci df", "I": "ac bh gi", "J": "cigd", "K": "ag dec ei", "L": "agi",
    "M": "gaeci", "N": "gaic", "O": "acigac", "P": "gacfd", "Q": "acigac ji", "R": "gacfd ei",
    "S": "cadfig", "T": "ac bh", "U": "agic", "V": "adhfc", "W": "ageic", "X": "ai cg",
    "Y": "aec eh", "Z": "acgi", "?": "acfe hh", "!": "be hh", "-": "df", "'": "be", "/": "cg",
    ",": "hh", ".": "hh",
}  # fmt: skip
_CUTS = {
    "A": "ac", "B": "ci", "C": "ag", "D": "ci", "G": "ag", "J": "gi", "O": "acgi", "P": "cf",
    "Q": "acg", "R": "cf", "S": "afi", "U": "gi", "?": "ac",
}  # fmt: skip


_SLIM, _MIDDLE, _SLANTED = "I!'.,", "MTVWXY?", {"N": 2, "M": 3, "W": 3}
"""Letters of one stroke; those that have a middle; those whose slants need so much more room."""


def _width(letter: str, rows: int, stem: int) -> int:
    """The points across of a letter."""
    if letter in _SLIM:
        return stem + 2
    wide = rows + 1 + (_SLANTED.get(letter, 0) if stem > 1 else 0)
    return wide + (letter in _MIDDLE and (wide - stem) % 2)


def _point(name: str, wide: int, high: int) -> tuple[int, int]:
    if name == "j":
        return (3 * wide + 2) // 4, (3 * high + 2) // 4
    row, column = divmod("abcdefghi".index(name), 3)
    return (column * wide + 1) // 2, (row * high + 1) // 2


def _stroke(start: tuple[int, int], end: tuple[int, int]) -> Points:
    """The points of a straight stroke."""
    (x, y), (to_x, to_y) = start, end
    steps = max(abs(to_x - x), abs(to_y - y), 1)
    return {
        (x + round((to_x - x) * n / steps), y + round((to_y - y) * n / steps))
        for n in range(steps + 1)
    }


def _letter(letter: str, wide: int, high: int, stem: int) -> Points:
    """All points of a letter in a box of so many points."""
    bar = max(1, high // 7)
    across, down = wide - stem, high - bar
    thin: Points = set()
    for path in _STROKES[letter].split():
        ends = [_point(name, across, down) for name in path]
        for start, end in pairwise(ends):
            thin |= _stroke(start, end)
    drawn = {(x + i, y + j) for x, y in thin for i in range(stem) for j in range(bar)}
    return drawn - {_corner(name, wide, high) for name in _CUTS.get(letter, "")}


def _corner(name: str, wide: int, high: int) -> tuple[int, int]:
    x, y = _point(name, wide - 1, high - 1)
    return x, y


@cache
def _glyph(letter: str, rows: int) -> tuple[str, ...]:
    if letter == " ":
        return ("  ",) * rows
    stem = stem_of(rows + 1)
    wide = _width(letter, rows, stem)
    points = _letter(letter, wide, rows * 2 - 1, stem)
    return tuple(half_blocks(points, wide, row) for row in range(rows))


@lru_cache(64)
def spelled(text: str, width: int, rows: int) -> tuple[str, ...]:
    """The text in block letters as large as they fit; no lines when they do not.

    Args:
        text: any text; accents are left out, and other signs cannot be spelled.
        width: the cells there are.
        rows: the lines there are.
    """
    plain = "".join(c for c in unicodedata.normalize("NFD", text.upper()) if ord(c) < 0x300)
    if not plain.strip() or not set(plain) <= set(_STROKES) | {" "}:
        return ()
    for height in (height for height in HEIGHTS if height <= rows):
        glyphs = [_glyph(letter, height) for letter in plain]
        lines = tuple(" ".join(parts).rstrip() for parts in zip(*glyphs, strict=True))
        if max(cell_len(line) for line in lines) <= width:
            return lines
    return ()


def spelled_act(verb: str, what: str, width: int, rows: int) -> tuple[str, ...]:
    """Verb and thing in block letters, in one line or two, whichever is larger.

    Args:
        verb: the act.
        what: what it is done to; where it cannot be spelled, the act stands alone.
        width: the cells there are.
        rows: the lines there are.
    """
    one = spelled(f"{verb} {what}", width, rows)
    each = (rows - 1) // 2
    both = [spelled(verb, width, each), spelled(what, width, each)]
    if all(both) and min(len(lines) for lines in both) > len(one):
        size = min(len(lines) for lines in both)
        upper, lower = spelled(verb, width, size), spelled(what, width, size)
        return (*upper, "", *lower)
    return one or spelled(verb, width, rows)
