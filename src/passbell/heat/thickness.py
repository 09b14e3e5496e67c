"""How a tested time changes with the size of the piece: a range, never one minute.

Conduction alone says an exponent of 1.35 to 1.6 from 1 to 1.5 inch; published bake tables say 0.9
to 1.2 (USDA FSIS, Fresh Pork from Farm to Table, and an industry board's chart); the fish rule of
10 minutes an inch and common practice say 1. The band is our choice. Doubling the servings on one
layer changes no time.
"""

from dataclasses import dataclass
from typing import Final

LEAST: Final = 1.0
EXPECTED: Final = 1.2
MOST: Final = 1.5


@dataclass(frozen=True, slots=True)
class TimeRange:
    """The time of a changed size.

    Attributes:
        first_look_s: when to look first: the linear time, or the earliest there is, s.
        expected_s: what a stagger counts on, s.
        earliest_s, latest_s: the band, s.
        logged: whether it is the cook's own logged time, which wins over the rule.
    """

    first_look_s: int
    expected_s: int
    earliest_s: int
    latest_s: int
    logged: bool = False


def thickness_range(
    time_s: float, from_mm: float, to_mm: float, logged_s: int | None = None
) -> TimeRange:
    """The time for another thickness at the same mode and temperature.

    Args:
        time_s: the tested time, s.
        from_mm: the size it was tested with, mm.
        to_mm: the size now, mm.
        logged_s: what this cook needed for the new size, s, where she has cooked it.
    """
    if logged_s is not None:
        return TimeRange(logged_s, logged_s, logged_s, logged_s, logged=True)
    ratio = to_mm / from_mm
    linear, expected, steep = (round(time_s * ratio**n) for n in (LEAST, EXPECTED, MOST))
    early, late = min(linear, steep), max(linear, steep)
    return TimeRange(early, expected, early, late)
