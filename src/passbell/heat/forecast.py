"""The forecast: when the coldest point is expected at the target, and when to look again.

It helps to decide when to look; it never says that food is done. Only a reading judged by the
chart does.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from passbell.heat.course import Body, Leg, body_of, coarse_step, course
from passbell.heat.draws import weighted_quantile
from passbell.heat.estimate import (
    Estimate,
    Question,
    body_at,
    draws,
    estimate,
)
from passbell.heat.journey import follow
from passbell.heat.looking import look_again
from passbell.heat.model import Exposure, Forecast, NoForecast, Odd, Piece, PlanTime, Reading
from passbell.heat.plausible import believed, odd_readings, outside
from passbell.heat.prior import DRYING_MOISTURE, Calibration, calibrate
from passbell.heat.rise import rise_after

DRAWS = 60
"""How many possible truths an interval rests on."""

_MIDDLE = 0.5
_TAILS = (0.10, 0.135, 0.16)
"""Tails left out after no, one, and more readings. The draws are a little wide after readings: with
0.10 the interval held in 90 to 95 % of simulated cooks where 80 are asked."""
_HORIZON = 4.0
_SLACK_S = 1200.0
_CHI_95 = 3.84
_DOUBT = 2.0
_UNCERTAIN = 0.4
_MOST_STEPS = 2000
_NEXT_LOOK = 0.85


@dataclass(frozen=True, slots=True)
class Case:
    """One piece with its calibration.

    Attributes:
        body: with the plan's calibration in it.
        exposure: what it meets, the doors of its readings included.
        target_c: the core temperature waited for, °C.
        until_s: how far ahead is looked, s.
    """

    body: Body
    exposure: Exposure
    target_c: float
    until_s: float


@dataclass(frozen=True, slots=True)
class Fit:
    """What the readings of one piece say.

    Attributes:
        piece: which one.
        question: with its readings.
        found: the estimate.
        odd: its implausible readings.
        reach_s: when it most likely reaches the target, s; infinite: not within the horizon.
    """

    piece: str
    question: Question
    found: Estimate
    odd: tuple[Odd, ...]
    reach_s: float


def forecast(
    piece: Piece,
    exposure: Exposure,
    target_c: float,
    readings: Sequence[Reading],
    tested: PlanTime,
) -> Forecast | NoForecast:
    """Forecast the time to a core temperature from readings and the plan's tested time.

    Args:
        piece: the food as written.
        exposure: what it meets, in seconds from going in.
        target_c: the temperature waited for, °C.
        readings: of every piece; each opened the door.
        tested: the plan's own time.

    Returns:
        the forecast of the slowest piece, or why there is none.
    """
    tested_c = target_c if tested.target_c is None else tested.target_c
    found = _calibrated(piece, tested.exposure or exposure, tested_c, tested.time_s)
    if found is None:
        return NoForecast(
            "does_not_fit",
            "The plan's time, size and oven do not belong together: check size and until.",
        )
    last = max((r.at_s for r in readings), default=0.0)
    until = _HORIZON * max(tested.time_s, last) + _SLACK_S
    doors = tuple(sorted({*exposure.doors_s, *(r.at_s for r in readings)}))
    case = Case(_bent(_drying(piece), found), replace(exposure, doors_s=doors), target_c, until)
    names = list(dict.fromkeys(r.piece for r in readings)) or ["1"]
    fits = [
        _fitted(case, name, sorted((r for r in readings if r.piece == name), key=_when))
        for name in names
    ]
    odd = tuple(sorted((o for fit in fits for o in _of_piece(fit, names)), key=lambda o: o.at_s))
    return _answer(case, max(fits, key=lambda fit: fit.reach_s), last, odd)


def _of_piece(fit: Fit, names: Sequence[str]) -> tuple[Odd, ...]:
    """What is odd about a piece, with its name where there are several."""
    if len(names) == 1:
        return fit.odd
    whose = f"piece {fit.piece}" if fit.piece.isdecimal() else fit.piece
    return tuple(replace(odd, sentence=f"{whose}: {odd.sentence}") for odd in fit.odd)


def _when(reading: Reading) -> float:
    return reading.at_s


@lru_cache(maxsize=64)
def _calibrated(
    piece: Piece, exposure: Exposure, target_c: float, time_s: float
) -> Calibration | None:
    return calibrate(_drying(piece), exposure, target_c, time_s)


def _drying(piece: Piece) -> Body:
    return replace(body_of(piece), moisture=DRYING_MOISTURE)


def _bent(body: Body, found: Calibration) -> Body:
    half = body.half_m * found.thickness
    return replace(body, coefficient=found.coefficient, half_m=half)


def _fitted(case: Case, name: str, readings: Sequence[Reading]) -> Fit:
    legs = course(case.exposure, _step(case), case.until_s)
    kept = believed(readings)
    odd = odd_readings(readings, case.body.start_c)
    question = Question(case.body, legs, kept, _DOUBT if odd else 1.0)
    found = estimate(question)
    before = _surprised(question, found) if kept else None
    if before is not None:
        hotter = _reach(case, legs, found) < _reach(case, legs, before)
        odd = (*odd, outside(kept[-1], hotter=hotter))
        question = replace(question, doubt=_DOUBT)
        found = estimate(question, found.best)
    return Fit(name, question, found, odd, _reach(case, legs, found))


def _reach(case: Case, legs: tuple[Leg, ...], found: Estimate) -> float:
    """When an estimate reaches the target, in seconds; infinite: never."""
    return _or_never(follow(body_at(case.body, found.best), legs, (), case.target_c).reach_s)


def _looked_at(case: Case, fit: Fit) -> Question:
    """The question with the door of the next look in it: it will be opened before the target."""
    question = fit.question
    last = question.readings[-1].at_s if question.readings else math.inf
    if fit.reach_s <= last or math.isinf(fit.reach_s):
        return question
    door = last + _NEXT_LOOK * (fit.reach_s - last)
    doors = tuple(sorted((*case.exposure.doors_s, door)))
    legs = course(replace(case.exposure, doors_s=doors), _step(case), case.until_s)
    return replace(question, legs=legs)


def _step(case: Case) -> float:
    return max(coarse_step(case.body), case.until_s / _MOST_STEPS)


def _surprised(question: Question, found: Estimate) -> Estimate | None:
    """The forecast before the last reading, where that lies outside its 95 % band; else None.

    The square of its distance from that forecast, in standard deviations, is twice what it adds
    to the cost of the best fit.
    """
    before = estimate(replace(question, readings=question.readings[:-1]), found.best)
    return before if 2 * (found.cost - before.cost) > _CHI_95 else None


def _answer(case: Case, fit: Fit, now: float, odd: tuple[Odd, ...]) -> Forecast | NoForecast:
    """The forecast of the piece that governs."""
    question = fit.question
    made = draws(_looked_at(case, fit), fit.found, case.target_c, DRAWS)
    reached = [(_or_never(d.shown.reach_s), d.weight) for d in made]
    tail = _TAILS[min(len(question.readings), 2)]
    low, middle, high = (weighted_quantile(reached, s) for s in (tail, _MIDDLE, 1 - tail))
    if not question.readings:
        middle = min(max(fit.reach_s, low), high)
    if math.isinf(middle):
        return NoForecast(
            "beyond_reach",
            "It may stall below the temperature waited for: turn the oven up, or probe by hand.",
        )
    best = body_at(case.body, fit.found.best)
    rise = rise_after(best, case.exposure, max(middle, now))
    eta, early, late = (max(0.0, t - now) for t in (middle, low, high))
    return Forecast(
        target_c=case.target_c,
        from_s=now,
        eta_s=round(eta),
        eta_low_s=round(early),
        eta_high_s=None if math.isinf(late) else round(late),
        look_again_s=round(look_again(eta, early, late, read=bool(question.readings))),
        rise_c=rise.kelvin,
        rise_peak_s=round(rise.peak_s),
        piece=fit.piece,
        uncertain=late - early > _UNCERTAIN * eta,
        odd=odd,
    )


def _or_never(reach_s: float | None) -> float:
    return math.inf if reach_s is None else reach_s
