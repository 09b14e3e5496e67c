"""One-dimensional conduction through the twelve cells, by Crank-Nicolson steps.

The matrix is factored once for each stretch of constant surface and step. A step is solved in its
midpoint form: half an implicit step M, then the new temperature is 2 M - T. Half implicit steps
have the same matrix; two of them replace the first step after every change, so that nothing
rings. Time is dimensionless here (the Fourier number α t / L²), and so is the film (the Biot
number h L / k).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from passbell.heat.cells import CELLS, Cells, Row


@dataclass(frozen=True, slots=True)
class Factored:
    """The doubled midpoint matrix of one step, ready to be applied.

    Attributes:
        gain: weight of each cell's own temperature.
        down: weight of the neighbour towards the core in the forward sweep.
        back: weight of the neighbour towards the surface in the backward sweep.
        source: weight of the surface's surroundings in the last cell.
    """

    gain: Row
    down: Row
    back: Row
    source: float


def factored(cells: Cells, biot: float, step: float) -> Factored:
    """Factor the midpoint matrix for a Biot number and a step in Fourier number."""
    film = 1 / (1 / biot + 1 / cells.skin)
    link = cells.link
    gain: list[float] = []
    down: list[float] = []
    back: list[float] = []
    pivot_scale = 0.0
    for i, volume in enumerate(cells.volume):
        store = 2 * volume / step
        inner = link[i - 1] if i else 0.0
        outer = link[i] if i < CELLS - 1 else film
        pivot_scale = 1 / (store + inner + outer - (inner * back[i - 1] if i else 0.0))
        gain.append(2 * store * pivot_scale)
        down.append(inner * pivot_scale)
        back.append(outer * pivot_scale)
    return Factored(tuple(gain), tuple(down[1:]), tuple(back[:-1]), 2 * film * pivot_scale)


def _doubled_midpoint(matrix: Factored, row: Row, around: float) -> list[float]:
    up = [matrix.gain[0] * row[0]]
    for i in range(1, CELLS):
        up.append(matrix.gain[i] * row[i] + matrix.down[i - 1] * up[i - 1])
    up[-1] += matrix.source * around
    for i in range(CELLS - 2, -1, -1):
        up[i] += matrix.back[i] * up[i + 1]
    return up


def soft_start(matrix: Factored, row: Row, around: float) -> Row:
    """One step as two half implicit ones, for the start of a stretch."""
    for _ in (1, 2):
        row = tuple(value / 2 for value in _doubled_midpoint(matrix, row, around))
    return row


def march(matrix: Factored, row: Row, around: Sequence[float]) -> list[Row]:
    """The temperatures of the cells after each Crank-Nicolson step.

    The sweep is written out cell by cell because that makes it three times as fast.

    Args:
        matrix: from `factored`.
        row: the temperatures to begin with, °C.
        around: what the surface sees in the middle of each step, °C.
    """
    a0, a1, a2, a3, a4, a5, a6, a7, a8, a9, a10, a11 = matrix.gain
    f1, f2, f3, f4, f5, f6, f7, f8, f9, f10, f11 = matrix.down
    g0, g1, g2, g3, g4, g5, g6, g7, g8, g9, g10 = matrix.back
    u0, u1, u2, u3, u4, u5, u6, u7, u8, u9, u10, u11 = row
    source, rows = matrix.source, list[Row]()
    for seen in around:
        d0 = a0 * u0
        d1 = a1 * u1 + f1 * d0
        d2 = a2 * u2 + f2 * d1
        d3 = a3 * u3 + f3 * d2
        d4 = a4 * u4 + f4 * d3
        d5 = a5 * u5 + f5 * d4
        d6 = a6 * u6 + f6 * d5
        d7 = a7 * u7 + f7 * d6
        d8 = a8 * u8 + f8 * d7
        d9 = a9 * u9 + f9 * d8
        d10 = a10 * u10 + f10 * d9
        d11 = a11 * u11 + f11 * d10 + source * seen
        d10 += g10 * d11
        d9 += g9 * d10
        d8 += g8 * d9
        d7 += g7 * d8
        d6 += g6 * d7
        d5 += g5 * d6
        d4 += g4 * d5
        d3 += g3 * d4
        d2 += g2 * d3
        d1 += g1 * d2
        d0 += g0 * d1
        u0, u1, u2, u3 = d0 - u0, d1 - u1, d2 - u2, d3 - u3
        u4, u5, u6, u7 = d4 - u4, d5 - u5, d6 - u6, d7 - u7
        u8, u9, u10, u11 = d8 - u8, d9 - u9, d10 - u10, d11 - u11
        rows.append((u0, u1, u2, u3, u4, u5, u6, u7, u8, u9, u10, u11))
    return rows
