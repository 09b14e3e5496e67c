"""How a tested time changes with the size of the piece: a range, never one minute.

Conduction alone says an exponent of 1.35 to 1.6 from 1 to 1.5 inch; published bake tables say 0.9
to 1.2 (USDA FSIS, Fresh Pork from Farm to Table, and an industry board's chart); the fish rule of
10 minutes an inch and common practice say 1. The band is our choice. Doubling the servings on one
layer changes no time. What this cook needed herself for a size wins over the rule.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

LEAST: Final = 1.0
EXPECTED: Final = 1.2
MOST: Final = 1.5

ALIKE: Final = 0.05
"""Sizes within this share of each other are one size (our figure)."""

SCATTER: Final = 0.10
"""A time this cook needed herself may come out otherwise by this share (our figure)."""


@dataclass(frozen=True, slots=True)
class OwnTime:
    """What this cook needed for a size.

    Attributes:
        mm: the size, mm.
        time_s: the time, s.
        run: the number of the cook that showed it.
    """

    mm: float
    time_s: float
    run: int


@dataclass(frozen=True, slots=True)
class TimeRange:
    """The time of a changed size.

    Attributes:
        first_look_s: when to look first: the earliest time it may take, s.
        expected_s: what a stagger counts on, s.
        earliest_s, latest_s: the band, s.
        runs: the cooks of her own that it rests on; empty: the plan's time alone.
    """

    first_look_s: int
    expected_s: int
    earliest_s: int
    latest_s: int
    runs: tuple[int, ...] = ()


def thickness_range(
    time_s: float, from_mm: float, to_mm: float, own: Sequence[OwnTime] = ()
) -> TimeRange:
    """The time for another thickness at the same mode and temperature.

    Args:
        time_s: the tested time, s.
        from_mm: the size it was tested with, mm.
        to_mm: the size now, mm.
        own: what this cook needed for other sizes. Where one is as good as the size now, the range
            is that of her own times; where one is nearer to it than the tested size, the rule
            starts from there.
    """
    near = _nearest(own, to_mm)
    if near and _apart(near[0].mm, to_mm) <= math.log1p(ALIKE):
        return _her_own(near, to_mm)
    if near and _apart(near[0].mm, to_mm) < _apart(from_mm, to_mm):
        from_mm = near[0].mm
        time_s = median(one.time_s * (from_mm / one.mm) ** EXPECTED for one in near)
    else:
        near = ()
    ratio = to_mm / from_mm
    linear, expected, steep = (round(time_s * ratio**n) for n in (LEAST, EXPECTED, MOST))
    early, late = min(linear, steep), max(linear, steep)
    return TimeRange(early, expected, early, late, tuple(one.run for one in near))


def _apart(a_mm: float, b_mm: float) -> float:
    """How far two sizes are from each other, in the logarithm."""
    return abs(math.log(a_mm / b_mm))


def _nearest(own: Sequence[OwnTime], to_mm: float) -> tuple[OwnTime, ...]:
    """The times of the size nearest to this one."""
    if not own:
        return ()
    best = min(own, key=lambda one: _apart(one.mm, to_mm))
    return tuple(one for one in own if _apart(one.mm, best.mm) <= math.log1p(ALIKE))


def _her_own(own: Sequence[OwnTime], to_mm: float) -> TimeRange:
    times = [one.time_s * (to_mm / one.mm) ** EXPECTED for one in own]
    middle = median(times)
    early = round(min(*times, (1 - SCATTER) * middle))
    late = round(max(*times, (1 + SCATTER) * middle))
    return TimeRange(early, round(middle), early, late, tuple(one.run for one in own))
