"""Block digits, drawn by strokes of our own in any height and set in half blocks.

A half block makes a cell two square points, one above the other. A digit of so many rows is twice
as many points high less one: halves of equal height, and a gap to whatever stands beneath. Four
rows can be read from two metres.
"""

from collections.abc import Callable
from functools import cache, lru_cache

from rich.cells import cell_len

HEIGHTS = (20, 18, 16, 14, 12, 10, 9, 8, 7, 6, 5, 4, 3)
"""Heights tried by `size_for`, in rows of the terminal, largest first."""

Points = set[tuple[int, int]]
"""A drawing: the points that are set, across and down."""


def _box(left: int, top: int, right: int, bottom: int) -> Points:
    return {(x, y) for x in range(left, right) for y in range(top, bottom)}


def stem_of(wide: int) -> int:
    """How many points across an upright stroke is in a sign of so many."""
    return max(1, round(wide / 3.4))


class _Strokes:
    """The strokes of one size: `wide` by `high` points, `stem` across and `bar` thick."""

    def __init__(self, wide: int, high: int) -> None:
        self.wide, self.high = wide, high
        self.stem = stem_of(wide)
        self.bar = max(1, high // 7)
        self.waist = (high - self.bar) // 2
        self.bend = 2 if wide >= 10 else 1 if wide >= 5 else 0

    def across(self, top: int) -> Points:
        return _box(0, top, self.wide, top + self.bar)

    def left(self, top: int, bottom: int) -> Points:
        return _box(0, top, self.stem, bottom)

    def right(self, top: int, bottom: int) -> Points:
        return _box(self.wide - self.stem, top, self.wide, bottom)

    def draw(self, sign: str) -> Points:
        high, bar, waist = self.high, self.bar, self.waist
        top, middle, foot = self.across(0), self.across(waist), self.across(high - bar)
        upper, lower = (0, waist + bar), (waist, high)
        shapes: dict[str, Callable[[], Points]] = {
            "0": lambda: top | foot | self.left(0, high) | self.right(0, high),
            "1": self._one,
            "2": lambda: top | self.right(*upper) | middle | self.left(*lower) | foot,
            "3": lambda: top | middle | foot | self.right(0, high),
            "4": self._four,
            "5": lambda: top | self.left(*upper) | middle | self.right(*lower) | foot,
            "6": lambda: top | self.left(0, high) | middle | self.right(*lower) | foot,
            "7": self._seven,
            "8": lambda: top | middle | foot | self.left(0, high) | self.right(0, high),
            "9": lambda: top | self.left(*upper) | middle | self.right(0, high) | foot,
        }
        return shapes[sign]() - self._rounded(sign)

    def _rounded(self, sign: str) -> Points:
        """Points taken off the outer corners; the eight is also drawn in at its waist."""
        corners = {"0": "abcd", "2": "ab", "3": "bd", "5": "cd", "6": "abcd", "9": "abcd"}
        corners |= {"8": "abcd"}
        right, low = self.wide - 1, self.high - 1
        at = {"a": (0, 0, 1, 1), "b": (right, 0, -1, 1), "c": (0, low, 1, -1)}
        at |= {"d": (right, low, -1, -1)}
        off: Points = set()
        for x, y, dx, dy in (at[c] for c in corners.get(sign, "")):
            steps = [(i, j) for i in range(self.bend) for j in range(self.bend - i)]
            off |= {(x + i * dx, y + j * dy) for i, j in steps}
        if sign == "8" and self.bend:
            off |= {(x, y) for x in (0, right) for y in range(self.waist, self.waist + self.bar)}
        return off

    def _one(self) -> Points:
        start = (self.wide - self.stem) // 2
        stem = _box(start, 0, start + self.stem, self.high)
        flag = _box(max(0, start - self.stem), self.bar, start, 2 * self.bar)
        return stem | flag | self.across(self.high - self.bar)

    def _four(self) -> Points:
        bar = self.high * 5 // 8
        inset = 1 if self.wide >= 5 else 0
        right = self.wide - inset
        stem = _box(right - self.stem, 0, right, self.high)
        return stem | self.left(0, bar) | _box(0, bar, self.wide, bar + self.bar)

    def _seven(self) -> Points:
        drawn = self.across(0) | self.right(0, self.waist)
        run, fall = (self.wide - self.stem) // 2, self.high - self.waist
        for y in range(self.waist, self.high):
            start = self.wide - self.stem - round(run * (y - self.waist + 1) / fall)
            drawn |= _box(start, y, start + self.stem, y + 1)
        return drawn


def _sign(sign: str, strokes: _Strokes) -> tuple[Points, int]:
    """The points of one sign and its width."""
    stem, high, bar = strokes.stem, strokes.high, strokes.bar
    if sign == ":":
        size = max(1, min(stem, high // 5))
        dots = [max(1, high // 4), high - max(1, high // 4) - size]
        return set().union(*(_box(0, y, stem, y + size) for y in dots)), stem
    if sign in "+-":
        wide = max(3, strokes.wide - 2)
        middle = _box(0, strokes.waist, wide, strokes.waist + bar)
        start, reach = (wide - stem + 1) // 2, max(1, high // 4)
        up = _box(start, strokes.waist - reach, start + stem, strokes.waist + bar + reach)
        return (middle | up if sign == "+" else middle), wide
    if sign == " ":
        return set(), strokes.wide
    return strokes.draw(sign), strokes.wide


@cache
def _glyph(sign: str, rows: int, narrow: bool) -> tuple[str, ...]:
    points, width = _sign(sign, _Strokes(_width(rows, narrow), rows * 2 - 1))
    return tuple(half_blocks(points, width, row) for row in range(rows))


def half_blocks(points: Points, width: int, row: int) -> str:
    """One row of the terminal of a drawing: two rows of points in half blocks."""
    pairs = (((x, 2 * row) in points, (x, 2 * row + 1) in points) for x in range(width))
    return "".join(" ▄▀█"[2 * upper + lower] for upper, lower in pairs)


def _width(rows: int, narrow: bool) -> int:
    wide = {3: 4, 4: 6}.get(rows, rows + 2)
    return max(3, wide - 2) if narrow else wide


def block(text: str, rows: int, narrow: bool = False) -> tuple[str, ...]:
    """The signs 0-9 : - + and blank as `rows` lines of half blocks.

    Args:
        text: such signs only.
        rows: 3 or more.
        narrow: two points slimmer, where there is little room.

    Raises:
        KeyError: for any other sign.
    """
    gap = " " if rows < 8 else "  "
    glyphs = [_glyph(sign, rows, narrow) for sign in text]
    return tuple(gap.join(lines) for lines in zip(*glyphs, strict=True))


@lru_cache(64)
def size_for(text: str, width: int, rows: int) -> tuple[int, bool] | None:
    """Rows and slimness of the largest block digits that fit; None when not even the smallest do.

    A thick stem is seen from further away than a tall digit, so thickness goes before height.

    Args:
        text: the widest text they will have to show.
        width: the cells there are.
        rows: the lines there are.
    """
    sizes = [(height, slim) for height in HEIGHTS if height <= rows for slim in (False, True)]
    fit = [size for size in sizes if cell_len(block(text, *size)[0]) <= width]
    return max(fit, key=lambda size: (stem_of(_width(*size)), size[0], not size[1]), default=None)


def largest(text: str, width: int, rows: int) -> tuple[str, ...]:
    """The largest block digits that fit; no lines when not even the smallest do."""
    size = size_for(text, width, rows)
    return block(text, *size) if size else ()
