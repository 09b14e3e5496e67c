"""The solver against the exact series, against worked examples, and against SciPy."""

import itertools
import math

import pytest

from passbell.heat.cells import CELLS, Row, cells
from passbell.heat.conduction import factored, march, soft_start
from tests.oracles.heat_series import SHAPES, roots, theta

PRINTED = [
    ("slab", 0.1, [0.3111, 3.1731, 6.2991, 9.4354, 12.5743, 15.7143]),
    ("slab", 1.0, [0.8603, 3.4256, 6.4373, 9.5293, 12.6453, 15.7713]),
    ("slab", 10.0, [1.4289, 4.3058, 7.2281, 10.2003, 13.2142, 16.2594]),
    ("sphere", 1.5, [1.8366, 4.8158, 7.9171, 11.0409, 14.1724, 17.3076]),
    ("sphere", 3.0, [2.2889, 5.0870, 8.0962]),
    ("sphere", 9.0, [2.8044, 5.6669, 8.6031, 11.5994, 14.6374, 17.7032]),
    # These two from the documentation of a library of transient heat transfer (pychemengg).
    ("cylinder", 0.5369128, [0.97061535, 3.96852663, 7.0915602, 10.22605944, 13.36390715]),
    ("sphere", 64.16667, [3.09267122, 6.1855719, 9.27892517, 12.37294192, 15.46781574]),
]
"""Essentials of Applied Mathematics for Scientists and Engineers, appendix A, tables A.1, A.2."""


@pytest.mark.parametrize(("shape", "biot", "printed"), PRINTED)
def test_the_oracle_has_the_printed_roots(shape: str, biot: float, printed: list[float]) -> None:
    assert roots(shape, biot, len(printed)) == pytest.approx(printed, abs=2e-4)


def solved(shape: float, biot: float, fourier: float, steps: int) -> list[Row]:
    matrix = factored(cells(shape), biot, fourier / steps)
    begin = (1.0,) * CELLS
    first = soft_start(matrix, begin, 0.0)
    return [begin, first, *march(matrix, first, [0.0] * (steps - 1))]


LIMIT = {"slab": 0.1, "cylinder": 0.2, "sphere": 0.4}
"""Worst error of the core in K, for food of 4 °C in surroundings of 95 °C."""


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("biot", [0.4, 1.0, 2.5, 7.0, 19.0])
def test_the_core_follows_the_exact_series(shape: str, biot: float) -> None:
    step, count = 0.008, 120
    rows = solved(SHAPES.index(shape), biot, step * count, count)
    w0, w1 = cells(SHAPES.index(shape)).core
    errors = [
        91 * (w0 * rows[i][0] + w1 * rows[i][1] - theta(shape, biot, i * step))
        for i in range(5, count + 1, 5)
    ]
    assert max(map(abs, errors)) <= LIMIT[shape]


@pytest.mark.parametrize("place", [0.15, 0.4, 0.7])
def test_a_probe_off_the_centre_is_placed_right(place: float) -> None:
    rows = solved(0, 2.0, 0.4, 50)
    exact = theta("slab", 2.0, 0.4, place)
    assert 96 * cells(0).at(rows[-1], place) == pytest.approx(96 * exact, abs=0.25)


def seconds_to(shape: int, biot: float, wanted: float, scale: float) -> float:
    """When the core reaches a θ, in the unit of `scale` = L²/α."""
    step = 0.002
    rows = solved(shape, biot, step * 2000, 2000)
    w0, w1 = cells(shape).core
    thetas = [w0 * row[0] + w1 * row[1] for row in rows]
    i = next(i for i, value in enumerate(thetas) if value <= wanted)
    back = (wanted - thetas[i]) / (thetas[i - 1] - thetas[i])
    return (i - back) * step * scale


def test_egg_of_the_textbook() -> None:
    """Heat and Mass Transfer: A Practical Approach, example 4-3: 14.4 min, printed 865 s."""
    biot, scale = 1200 * 0.025 / 0.627, 0.025**2 / 0.151e-6
    assert seconds_to(2, biot, (95 - 70) / (95 - 5), scale) == pytest.approx(865, abs=8)


def test_roast_as_a_sphere() -> None:
    """1.5 kg, 163 °C, 20 to 77 °C: Bi 2.56, 134 min (after a textbook's problem, from memory)."""
    radius = (3 * 1.5 / 1000 / (4 * math.pi)) ** (1 / 3)
    biot = 18 * radius / 0.5
    assert biot == pytest.approx(2.56, abs=0.01)
    minutes = seconds_to(2, biot, (163 - 77) / (163 - 20), radius**2 / 1.25e-7) / 60
    assert minutes == pytest.approx(134, abs=1.5)


def test_pipe_wall_of_the_textbook() -> None:
    """Fundamentals of Heat and Mass Transfer, example 5.4: 42.9 °C, about -7400 W/m² at 8 min."""
    biot, fourier = 500 * 0.04 / 63.9, 18.8e-6 * 480 / 0.04**2
    assert biot == pytest.approx(0.313, abs=5e-4)
    assert fourier == pytest.approx(5.64, abs=5e-3)
    row = solved(0, biot, fourier, 700)[-1]
    face = 60 - 80 * cells(0).at(row, 0.0)
    assert face == pytest.approx(42.9, abs=0.15)
    skin = 60 - 80 * theta("slab", biot, fourier, 1.0)
    near = 60 - 80 * cells(0).at(row, 1.0)
    assert near == pytest.approx(skin, abs=0.05)
    assert 500 * (near - 60) == pytest.approx(-7362, rel=0.01)


def test_shaft_of_the_textbook() -> None:
    """Heat and Mass Transfer: A Practical Approach, example 4-5: 360 °C by chart, 364 by series."""
    biot, fourier = 80 * 0.1 / 14.9, 3.95e-6 * 45 * 60 / 0.1**2
    row = solved(1, biot, fourier, 140)[-1]
    assert 200 + 400 * cells(1).at(row, 0.0) == pytest.approx(364, abs=1)


def test_heat_is_neither_made_nor_lost() -> None:
    """With hardly any film the mean stays; with one, it changes by what passed the surface."""
    closed = solved(1, 1e-9, 1.0, 100)[-1]
    volume = cells(1).volume
    mean = sum(u * v for u, v in zip(closed, volume, strict=True)) / sum(volume)
    assert mean == pytest.approx(1.0, abs=1e-6)


def test_steps_do_not_ring() -> None:
    """Long steps with a strong film: the core still falls without overshoot."""
    rows = solved(0, 50.0, 3.0, 30)
    w0, w1 = cells(0).core
    core = [w0 * row[0] + w1 * row[1] for row in rows]
    assert all(b <= a + 1e-3 for a, b in itertools.pairwise(core))
    assert min(min(row) for row in rows) > -0.02
