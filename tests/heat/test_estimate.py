"""The fit: what it recovers, that it is repeatable, and that its numbers are right."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import minimize
from scipy.stats import qmc

from passbell.heat.course import course, step_for
from passbell.heat.draws import normals, radical_inverse, weighted_quantile
from passbell.heat.estimate import (
    START,
    Question,
    body_at,
    draws,
    estimate,
    looks_of,
    misfits,
)
from passbell.heat.journey import follow
from passbell.heat.linear import backward, cholesky, forward, solve
from tests.heat.samples import AIR_FRY, TARGET, chop, probed


def question(readings=()) -> Question:  # type: ignore[no-untyped-def]
    body = chop()
    at = tuple(r.at_s for r in readings)
    legs = course(replace(AIR_FRY, doors_s=at), 2 * step_for(body), 4000)
    return Question(body, legs, tuple(readings))


def test_without_readings_it_is_the_prior() -> None:
    found = estimate(question())
    assert found.best == START
    assert found.root == [[float(i == j) for j in range(5)] for i in range(5)]


def test_the_most_likely_values_are_those_scipy_finds() -> None:
    readings = probed(chop(0.9, 13.5), AIR_FRY, [500.0, 800.0], [0.6, -0.4])
    asked = question(readings)

    def cost(z: np.ndarray) -> float:
        unknowns = tuple(float(x) for x in z)
        shown = follow(body_at(asked.body, unknowns), asked.legs, looks_of(asked, unknowns))
        return 0.5 * sum(x * x for x in (*misfits(asked, shown), *unknowns))

    best = minimize(cost, np.zeros(5), method="Nelder-Mead", options={"maxiter": 1500})
    found = estimate(asked)
    assert found.cost == pytest.approx(best.fun, abs=0.02)
    assert found.best == pytest.approx(best.x.tolist(), abs=0.12)


def test_a_faster_piece_is_seen_as_faster() -> None:
    truth = chop(1.1)
    reached = follow(truth, course(AIR_FRY, 4.0, 4000), (), TARGET).reach_s
    readings = probed(truth, AIR_FRY, [420.0, 600.0])
    asked = question(readings)
    found = estimate(asked)
    expected = follow(body_at(asked.body, found.best), asked.legs, (), TARGET).reach_s
    assert reached is not None
    assert expected == pytest.approx(reached, rel=0.08)
    assert found.best[0] > 0.3


def test_draws_are_the_same_every_time_and_shrink_with_readings() -> None:
    truth = chop(0.8)
    widths = []
    for at in ([], [500.0], [500.0, 760.0]):
        asked = question(probed(truth, AIR_FRY, at) if at else ())
        found = estimate(asked)
        once, again = (draws(asked, found, TARGET, 60) for _ in (1, 2))
        assert once == again
        times = [(math.inf if d.shown.reach_s is None else d.shown.reach_s, d.weight) for d in once]
        widths.append(weighted_quantile(times, 0.9) - weighted_quantile(times, 0.1))
    assert widths[0] > 2 * widths[1] > 2 * widths[2]


def test_the_draws_are_scipys_halton_sequence_made_normal() -> None:
    engine = qmc.Halton(d=5, scramble=False)
    halton = engine.random(80)
    ours = [[radical_inverse(i, base) for base in (2, 3, 5, 7, 11)] for i in range(80)]
    assert np.allclose(halton, ours)
    made = np.array(normals(200))
    assert np.abs(made.mean(axis=0)).max() < 1e-12
    assert made.std(axis=0) == pytest.approx(np.ones(5), abs=0.06)


def test_small_systems_are_solved_as_numpy_solves_them() -> None:
    generator = np.random.default_rng(4)
    for _ in range(20):
        square = generator.standard_normal((5, 5))
        matrix = square @ square.T + np.eye(5)
        right = generator.standard_normal(5)
        lower = cholesky(matrix.tolist())
        assert np.allclose(lower, np.linalg.cholesky(matrix))
        assert np.allclose(solve(matrix.tolist(), right.tolist()), np.linalg.solve(matrix, right))
        assert np.allclose(forward(lower, right.tolist()), np.linalg.solve(lower, right))
        assert np.allclose(
            backward(lower, right.tolist()), np.linalg.solve(np.array(lower).T, right)
        )


def test_a_weighted_quantile() -> None:
    even = [(float(i), 1.0) for i in range(101)]
    assert weighted_quantile(even, 0.5) == pytest.approx(50)
    assert weighted_quantile(even, 0.1) == pytest.approx(10, abs=0.5)
    assert weighted_quantile([(1.0, 1.0), (5.0, 3.0)], 0.5) == pytest.approx(4.0)
    assert weighted_quantile([(1.0, 1.0), (math.inf, 1.0)], 0.9) == math.inf
