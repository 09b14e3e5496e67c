"""Conduction on a fine grid by SciPy's Radau, for any shape index and any surface in time.

Plain finite volumes with straight profiles between 120 midpoints: another discretisation and
another integrator than the product's.
"""

import itertools
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

CELLS = 120


def core_temperatures(
    body: tuple[float, float, float, float, float],
    film: Callable[[float], tuple[float, float]],
    stops: Sequence[float],
    asked: Sequence[float],
) -> list[float]:
    """The core at the asked instants.

    Args:
        body: shape index, half thickness m, k W/mK, alpha m²/s, start °C.
        film: instant to (h W/m²K, surroundings °C); smooth between the stops.
        stops: instants at which the film jumps, the first 0 and the last the end.
        asked: instants, s.
    """
    shape, half, k, alpha, start = body
    faces = np.linspace(0, half, CELLS + 1)
    middle = (faces[1:] + faces[:-1]) / 2
    volume = (faces[1:] ** (shape + 1) - faces[:-1] ** (shape + 1)) / (shape + 1)
    area = faces**shape
    width = half / CELLS

    def slope(t: float, u: NDArray[np.float64]) -> NDArray[np.float64]:
        h, around = film(t)
        flow = np.zeros(CELLS + 1)
        flow[1:-1] = alpha * area[1:-1] * (u[1:] - u[:-1]) / width
        flow[-1] = alpha / k * area[-1] * (around - u[-1]) / (1 / h + width / 2 / k)
        return np.asarray((flow[1:] - flow[:-1]) / volume)

    band = np.abs(np.subtract.outer(np.arange(CELLS), np.arange(CELLS))) <= 1
    row, found = np.full(CELLS, float(start)), {}
    for begin, end in itertools.pairwise(stops):
        wanted = sorted({t for t in asked if begin < t <= end} | {end})
        done = solve_ivp(
            slope, (begin + 1e-9, end), row, method="Radau", t_eval=wanted,
            rtol=1e-7, atol=1e-6, jac_sparsity=band, max_step=60.0,
        )  # fmt: skip
        first = (middle[0] / middle[1]) ** 2
        for t, u in zip(done.t, done.y.T, strict=True):
            found[float(t)] = float((u[0] - first * u[1]) / (1 - first))
        row = done.y[:, -1]
    return [found[float(t)] for t in asked]
