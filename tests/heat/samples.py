"""A chop in an air fryer and what a probe in it would show."""

from collections.abc import Sequence
from dataclasses import replace

from passbell.heat.course import Body, body_of, course
from passbell.heat.journey import Look, follow
from passbell.heat.model import Exposure, Piece, PlanTime, Reading, Segment
from passbell.heat.prior import DRYING_MOISTURE

CHOP = Piece(0.0, 12.7, "pork_whole", 4.0)
AIR_FRY = Exposure((Segment(0.0, 162.8, "air_fry"),))
TWO = Exposure((Segment(0.0, 204.4, "convection"), Segment(480.0, 162.8, "air_fry")))
TARGET = 63.0
TIME = PlanTime(20 * 60.0)


def probed(
    body: Body, exposure: Exposure, at: Sequence[float], off: Sequence[float] = ()
) -> list[Reading]:
    """Readings a little beside the core of a body, each off by some kelvin."""
    opened = Exposure(exposure.segments, tuple(at))
    shown = follow(body, course(opened, 4.0, max(at) + 60), [Look(t, 0.15) for t in at]).looks
    wrong = [*off, *([0.0] * (len(at) - len(off)))]
    return [Reading(t, c + w) for t, c, w in zip(at, shown, wrong, strict=True)]


def chop(coefficient: float = 0.65, half_mm: float = 12.7) -> Body:
    """A chop with a surface coefficient of its own, and as dry as the forecast takes it."""
    plain = body_of(Piece(0.0, half_mm, "pork_whole", 4.0), coefficient)
    return replace(plain, moisture=DRYING_MOISTURE)
