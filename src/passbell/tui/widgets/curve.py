"""Readings drawn in the terminal: a plot in cells of two by four dots.

Each run has its own letter at its readings and its own dash between them, so that no colour is
needed to tell them apart.
"""

from itertools import pairwise

from passbell.tui.paint import Line, Run, fill, joined
from passbell.tui.views.runs import Curve, Curves

_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""The dots of a cell, by row and column (Unicode 16.0, Braille Patterns, U+2800)."""

_DASHES = ("1", "1100", "10", "1000")
"""How the line of each run is broken, along its dots."""

ROLES = ("cook", "prep", "rest", "hold")
"""The look of each run."""

LABELS = 8
"""Cells at the left for the temperatures."""

_LEAST = 5.0
"""The smallest range of temperatures that is drawn, in °C."""


class _Field:
    """Dots and letters in so many cells, over a range of times and temperatures."""

    def __init__(self, found: Curves, width: int, height: int) -> None:
        self.width, self.height = width, height
        points = [point for curve in found.curves for point in curve.points]
        heats = [heat for _, heat in points] + ([found.until] if found.until is not None else [])
        self.low, self.high = min(heats), max(heats)
        lacking = max(0.0, _LEAST - (self.high - self.low)) / 2
        self.low, self.high = self.low - lacking, self.high + lacking
        self.first = min(at for at, _ in points)
        self.last = max(self.first + 60, *(at for at, _ in points))
        self.bits = [[0] * width for _ in range(height)]
        self.cells = [[(" ", "plain")] * width for _ in range(height)]

    def dot(self, at: float, heat: float) -> tuple[int, int]:
        """The dot of a time and a temperature, from the upper left."""
        across = (at - self.first) / (self.last - self.first) * (self.width * 2 - 1)
        down = (self.high - heat) / (self.high - self.low) * (self.height * 4 - 1)
        return round(across), round(down)

    def line(self, curve: Curve, dash: str, role: str) -> None:
        """The line through the readings of a run, and its letter at each."""
        ends = [self.dot(at, heat) for at, heat in curve.points]
        place = 0
        for (x, y), (to_x, to_y) in pairwise(ends):
            steps = max(abs(to_x - x), abs(to_y - y), 1)
            for n in range(steps + 1):
                place += 1
                if dash[place % len(dash)] == "1":
                    self._set(
                        x + round((to_x - x) * n / steps), y + round((to_y - y) * n / steps), role
                    )

    def _set(self, x: int, y: int, role: str) -> None:
        row, column = y // 4, x // 2
        self.bits[row][column] |= _DOTS[y % 4][x % 2]
        self.cells[row][column] = (chr(0x2800 + self.bits[row][column]), role)

    def across(self, heat: float) -> None:
        """A level line, where nothing else stands."""
        row = self.dot(self.first, heat)[1] // 4
        for column in range(self.width):
            if self.cells[row][column][0] == " ":
                self.cells[row][column] = ("┄", "soft")

    def letters(self, curve: Curve) -> None:
        """The run's letter at each of its readings."""
        for at, heat in curve.points:
            x, y = self.dot(at, heat)
            self.cells[y // 4][x // 2] = (curve.letter, "strong")


def draw_curves(found: Curves, width: int, height: int) -> list[Line]:
    """The readings of a component in all runs: one plot, with its scales.

    Args:
        found: the readings; every run in it has at least one.
        width: cells there are; fewer than 24 show the readings as they are.
        height: lines for the plot itself, at least 2.
    """
    if width < LABELS + 16:
        return []
    field = _Field(found, width - LABELS, max(2, height))
    for curve in found.curves:
        place = (ord(curve.letter) - ord("A")) % len(_DASHES)
        field.line(curve, _DASHES[place], ROLES[place])
    if found.until is not None:
        field.across(found.until)
    for curve in found.curves:
        field.letters(curve)
    labels = _labels(found, field)
    lines = [
        (Run(fill(labels.get(row, ""), LABELS - 1, right=True) + " ", "soft"), *joined(cells))
        for row, cells in enumerate(field.cells)
    ]
    return [*lines, _scale(field)]


def _labels(found: Curves, field: _Field) -> dict[int, str]:
    """The temperatures at the left: top and bottom, and the probe temperature where it stands."""
    labels = {0: _shown(field.high, found.scale), field.height - 1: _shown(field.low, found.scale)}
    if found.until is not None:
        labels[field.dot(field.first, found.until)[1] // 4] = f"┄{_shown(found.until, found.scale)}"
    return labels


def _shown(celsius: float, scale: str) -> str:
    return f"{celsius if scale == 'C' else celsius * 1.8 + 32:.0f} °{scale}"


def _scale(field: _Field) -> Line:
    first, last = f"{field.first / 60:.0f} min", f"{field.last / 60:.0f} min"
    gap = max(1, field.width - len(first) - len(last))
    return (Run(" " * LABELS + first + " " * gap + last, "soft"),)
