"""Twelve cells from the core to the surface of a slab, cylinder, sphere, or a shape between.

Lengths are shares of the half thickness, so one geometry serves every size.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

CELLS = 12
"""How many finite volumes stand between core and surface."""

Row = tuple[float, ...]
"""One value a cell, core first."""


@dataclass(frozen=True, slots=True)
class Cells:
    """The geometry of a shape index, for a half thickness of 1.

    Attributes:
        volume: of each cell.
        square: mean of r² over each cell.
        link: conductance between neighbours for k = 1, exact for a parabola in r.
        skin: conductance from the last cell's mean to the surface per area, for k = 1.
    """

    volume: Row
    square: Row
    link: Row
    skin: float

    def at(self, row: Row, place: float) -> float:
        """The temperature at a distance from the core, as a share of the half thickness.

        Between two cell means the profile is taken as straight in r²; inside the first pair it is
        the even parabola through both, which gives the core itself at 0.
        """
        wanted, square = place * place, self.square
        i = min(int(place * CELLS - 0.5), CELLS - 2) if place * CELLS > 1.5 else 0
        slope = (row[i + 1] - row[i]) / (square[i + 1] - square[i])
        return row[i] + slope * (wanted - square[i])

    @property
    def core(self) -> tuple[float, float]:
        """Weights of the two innermost cells that give the core temperature."""
        inner = self.square[0] / (self.square[1] - self.square[0])
        return 1 + inner, -inner


@lru_cache(maxsize=64)
def cells(shape: float) -> Cells:
    """The cells of a shape index: 0 slab, 1 cylinder, 2 sphere, or a real number between."""
    faces = [i / CELLS for i in range(CELLS + 1)]
    pairs = list(pairwise(faces))
    volume = tuple((b ** (shape + 1) - a ** (shape + 1)) / (shape + 1) for a, b in pairs)
    moment = ((b ** (shape + 3) - a ** (shape + 3)) / (shape + 3) for a, b in pairs)
    square = tuple(m / v for m, v in zip(moment, volume, strict=True))
    link = tuple(
        2 * faces[i + 1] ** (shape + 1) / (square[i + 1] - square[i]) for i in range(CELLS - 1)
    )
    return Cells(volume, square, link, 2 / (1 - square[-1]))
