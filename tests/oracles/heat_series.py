"""The exact series of conduction in a slab, a long cylinder and a sphere (any heat-transfer text).

Roots by bracketing with SciPy; shares nothing with the product.
"""

import math
from collections.abc import Callable

import numpy as np
from scipy.optimize import brentq
from scipy.special import j0, j1

SHAPES = ("slab", "cylinder", "sphere")


def _equation(shape: str, biot: float) -> Callable[[float], float]:
    if shape == "slab":
        return lambda z: z * math.sin(z) - biot * math.cos(z)
    if shape == "cylinder":
        return lambda z: z * float(j1(z)) - biot * float(j0(z))
    return lambda z: math.sin(z) * (1 - biot) - z * math.cos(z)


def roots(shape: str, biot: float, count: int) -> list[float]:
    """The first roots: slab z tan z = Bi, cylinder z J1 = Bi J0, sphere 1 - z cot z = Bi."""
    equation = _equation(shape, biot)
    grid = np.linspace(1e-6, (count + 1) * math.pi, 400 * (count + 1))
    values = [equation(float(z)) for z in grid]
    found = [
        float(brentq(equation, float(a), float(b), xtol=1e-13))
        for a, b, fa, fb in zip(grid, grid[1:], values, values[1:], strict=False)
        if fa * fb < 0
    ]
    return found[:count]


def _weight(shape: str, z: float) -> float:
    if shape == "slab":
        return 4 * math.sin(z) / (2 * z + math.sin(2 * z))
    if shape == "cylinder":
        return float(2 * j1(z) / (z * (j0(z) ** 2 + j1(z) ** 2)))
    return 4 * (math.sin(z) - z * math.cos(z)) / (2 * z - math.sin(2 * z))


def _profile(shape: str, x: float) -> float:
    if shape == "slab":
        return math.cos(x)
    if shape == "cylinder":
        return float(j0(x))
    return math.sin(x) / x if x > 1e-9 else 1.0


def theta(shape: str, biot: float, fourier: float, place: float = 0.0, terms: int = 60) -> float:
    """(T - T_around) / (T_start - T_around) at a place, 0 core to 1 surface."""
    return sum(
        _weight(shape, z) * math.exp(-z * z * fourier) * _profile(shape, z * place)
        for z in roots(shape, biot, terms)
    )
