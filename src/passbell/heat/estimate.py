"""The estimate from readings: the most likely values of five unknowns, and how sure they are.

Unknowns, each a standard normal before any reading: the surface coefficient, the thickness, the
moisture of the surface, the temperature at the start, and how far the probe sits from the coldest
point. One set holds for all stages: what is learned in the first carries into the second.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from passbell.heat.course import Body, Leg
from passbell.heat.draws import normals
from passbell.heat.journey import Look, Shown, follow
from passbell.heat.linear import Matrix, backward, cholesky, solve
from passbell.heat.model import Reading

UNKNOWNS: Final = 5
SPREAD_COEFFICIENT: Final = 0.35
SPREAD_THICKNESS: Final = 0.10
SPREAD_MOISTURE: Final = 0.30
SPREAD_START_K: Final = 2.0
PLACE_MEDIAN: Final = 0.15
SPREAD_PLACE: Final = 0.6
THERMOMETER_K: Final = 0.7
MODEL_K: Final = 0.3
MODEL_SHARE: Final = 0.02

_ROUNDS = 8
_NUDGE = 0.05
_FARTHEST = 0.9
Unknowns = tuple[float, ...]
START: Final[Unknowns] = (0.0,) * UNKNOWNS
"""The unknowns before any reading."""


@dataclass(frozen=True, slots=True)
class Question:
    """What is known when the estimate is asked for.

    Attributes:
        body: the piece with the plan's calibration in it.
        legs: what it meets, from going in to the horizon.
        readings: in order of time.
        doubt: factor on the model's part of the error; more than 1 when readings disagree.
    """

    body: Body
    legs: tuple[Leg, ...]
    readings: tuple[Reading, ...] = ()
    doubt: float = 1.0

    def sd(self, reading: Reading) -> float:
        """Standard deviation of one reading from the model, K."""
        rise = self.doubt * MODEL_SHARE * (reading.temp_c - self.body.start_c)
        return math.hypot(THERMOMETER_K, self.doubt * MODEL_K, rise)


@dataclass(frozen=True, slots=True)
class Estimate:
    """The unknowns after the readings.

    Attributes:
        best: the most likely values.
        root: lower Cholesky root of the inverse covariance at `best`.
        cost: half the sum of squares at `best`.
    """

    best: Unknowns
    root: Matrix
    cost: float


@dataclass(frozen=True, slots=True)
class Draw:
    """One possible truth.

    Attributes:
        unknowns: its values.
        weight: how likely it is beside the others.
        shown: what it would show.
    """

    unknowns: Unknowns
    weight: float
    shown: Shown


def body_at(body: Body, unknowns: Unknowns) -> Body:
    """The body with the unknowns put in."""
    return replace(
        body,
        coefficient=body.coefficient * math.exp(SPREAD_COEFFICIENT * unknowns[0]),
        half_m=body.half_m * math.exp(SPREAD_THICKNESS * unknowns[1]),
        moisture=body.moisture * math.exp(SPREAD_MOISTURE * unknowns[2]),
        start_c=body.start_c + SPREAD_START_K * unknowns[3],
    )


def place_at(unknowns: Unknowns, shape: float) -> float:
    """How far the probe sits from the coldest point, as a share of the half thickness.

    A slab is missed across its thickness alone, a bar in two directions and a ball in three: their
    squares add.
    """
    median = PLACE_MEDIAN * math.sqrt(1 + shape)
    return min(median * math.exp(SPREAD_PLACE * unknowns[4]), _FARTHEST)


def looks_of(question: Question, unknowns: Unknowns) -> tuple[Look, ...]:
    """Where and when the probe looked, if the unknowns were true."""
    place = place_at(unknowns, question.body.shape)
    return tuple(Look(r.at_s, place) for r in question.readings)


def misfits(question: Question, shown: Shown) -> list[float]:
    """Reading minus model, in standard deviations."""
    pairs = zip(question.readings, shown.looks, strict=True)
    return [(r.temp_c - looked) / question.sd(r) for r, looked in pairs]


def _residuals(question: Question, unknowns: Unknowns) -> list[float]:
    body, looks = body_at(question.body, unknowns), looks_of(question, unknowns)
    return [*misfits(question, follow(body, question.legs, looks)), *unknowns]


def _cost(residuals: Sequence[float]) -> float:
    return 0.5 * sum(r * r for r in residuals)


def _slopes(question: Question, at: Unknowns, residuals: list[float]) -> Matrix:
    """Derivatives of each residual: a row for each unknown."""
    rows = []
    for i in range(UNKNOWNS):
        nudged = tuple(x + _NUDGE * (i == j) for j, x in enumerate(at))
        after = _residuals(question, nudged)
        rows.append([(a - b) / _NUDGE for a, b in zip(after, residuals, strict=True)])
    return rows


def _normal(slopes: Matrix) -> Matrix:
    return [[sum(a * b for a, b in zip(x, y, strict=True)) for y in slopes] for x in slopes]


def estimate(question: Question, near: Unknowns = START) -> Estimate:
    """The most likely unknowns and their covariance: Gauss-Newton with a damped step.

    Without readings it is the prior itself.

    Args:
        question: what is known.
        near: where to begin; what was found for nearly the same readings is soon there.
    """
    at = near if question.readings else START
    residuals = _residuals(question, at) if question.readings else list(at)
    if not question.readings:
        return Estimate(at, cholesky(_identity()), 0.0)
    damping, matrix = 0.0, _identity()
    for _ in range(_ROUNDS):
        slopes = _slopes(question, at, residuals)
        matrix = _normal(slopes)
        slope = [sum(a * r for a, r in zip(row, residuals, strict=True)) for row in slopes]
        tried, after, damping = _step(question, (at, residuals), (matrix, slope), damping)
        gain = _cost(residuals) - _cost(after)
        if gain > 0:
            at, residuals = tried, after
        if gain < 0.005:
            break
    return Estimate(at, cholesky(matrix), _cost(residuals))


def _identity() -> Matrix:
    return [[float(i == j) for j in range(UNKNOWNS)] for i in range(UNKNOWNS)]


def _step(
    question: Question,
    here: tuple[Unknowns, list[float]],
    system: tuple[Matrix, list[float]],
    damping: float,
) -> tuple[Unknowns, list[float], float]:
    """A step that does not make things worse, and the damping it needed."""
    at, residuals = here
    tried, after = at, residuals
    for _ in range(6):
        damped = [
            [x + damping * (i == j) for j, x in enumerate(r)] for i, r in enumerate(system[0])
        ]
        move = solve(damped, system[1])
        tried = tuple(x - m for x, m in zip(at, move, strict=True))
        after = _residuals(question, tried)
        if _cost(after) <= _cost(residuals):
            return tried, after, damping / 4
        damping = max(1.0, 4 * damping)
    return at, residuals, damping


def draws(question: Question, found: Estimate, target_c: float, count: int) -> list[Draw]:
    """Possible truths around the estimate, each weighed by how well it fits the readings.

    Args:
        question: what was asked.
        found: the answer of `estimate`.
        target_c: the core temperature waited for, °C.
        count: how many.
    """
    made = []
    for normal in normals(count):
        step = backward(found.root, normal)
        unknowns = tuple(b + s for b, s in zip(found.best, step, strict=True))
        body = body_at(question.body, unknowns)
        shown = follow(body, question.legs, looks_of(question, unknowns), target_c)
        worse = _cost([*misfits(question, shown), *unknowns]) - found.cost
        proposed = 0.5 * sum(x * x for x in normal)
        made.append(Draw(unknowns, math.exp(min(proposed - worse, 1.5)), shown))
    return made
