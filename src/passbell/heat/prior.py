"""The prior is the plan: its own tested time sets the surface coefficient.

Physics alone is poor at absolute minutes (a hot tray, contact, a dry surface). So the factor on
the surface coefficient is chosen so that the core reaches the target at the plan's time. A time
that no coefficient explains (a trade time is often that of a first look) bends the pace, through
the thickness, after the coefficient has gone as far as it may.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from passbell.heat.course import Body, course, step_for
from passbell.heat.journey import follow
from passbell.heat.model import Exposure

LOWEST, HIGHEST = 0.2, 4.0
"""How far a surface coefficient may lie from the literature's middle."""

DRYING_MOISTURE: Final = 4.0
"""κ of the forecast's body. A real surface is wet at first and dries; with the coefficient set by
the plan's time a surface a little drier than the middle (3.4) follows it best: with 3.4 the time
after one reading came out 4 % late against a drying non-linear surface, with 4.0 without bias."""

_THINNEST, _THICKEST = 0.5, 2.0
_ROUNDS = 40


@dataclass(frozen=True, slots=True)
class Calibration:
    """What makes the model reach the target at the plan's time.

    Attributes:
        coefficient: factor on the surface coefficients of the literature.
        thickness: factor on the half thickness; 1 where the coefficient alone does it.
    """

    coefficient: float
    thickness: float = 1.0


def calibrate(body: Body, exposure: Exposure, target_c: float, time_s: float) -> Calibration | None:
    """Fit the surface to a tested time.

    Args:
        body: the piece as written, coefficient 1.
        exposure: what it met in the plan's test.
        target_c: the core temperature at the end, °C.
        time_s: the tested time, s.

    Returns:
        the calibration, or None when size, oven and time do not belong together at all.
    """
    legs = course(exposure, step_for(body), 1.5 * time_s)

    def late(coefficient: float, thickness: float) -> float:
        tried = replace(body, coefficient=coefficient, half_m=body.half_m * thickness)
        reached = follow(tried, legs, (), target_c).reach_s
        return math.log((1.5 * time_s if reached is None else max(reached, 1.0)) / time_s)

    if late(HIGHEST, 1.0) > 0:
        thinner = _root(lambda x: late(HIGHEST, x), _THINNEST, 1.0)
        return None if thinner is None else Calibration(HIGHEST, thinner)
    if late(LOWEST, 1.0) < 0:
        thicker = _root(lambda x: late(LOWEST, x), 1.0, _THICKEST)
        return None if thicker is None else Calibration(LOWEST, thicker)
    coefficient = _root(lambda x: late(x, 1.0), LOWEST, HIGHEST)
    return None if coefficient is None else Calibration(coefficient)


def _root(error: Callable[[float], float], low: float, high: float) -> float | None:
    """Where a monotonic error changes sign, in the logarithm, by the Illinois rule."""
    a, b = math.log(low), math.log(high)
    fa, fb = error(low), error(high)
    if fa * fb > 0:
        return None
    for _ in range(_ROUNDS):
        c = (a * fb - b * fa) / (fb - fa) if fb != fa else (a + b) / 2
        fc = error(math.exp(c))
        if abs(fc) < 1e-4:
            return math.exp(c)
        if fc * fb < 0:
            a, fa = b, fb
        else:
            fa /= 2
        b, fb = c, fc
    return math.exp(b)
