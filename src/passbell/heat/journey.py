"""What a body shows on its way: probe readings, the moment of the target, the peak after it."""

from collections.abc import Sequence
from dataclasses import dataclass

from passbell.heat.cells import Cells, cells
from passbell.heat.course import Body, Leg, Stretch, walk


@dataclass(frozen=True, slots=True)
class Look:
    """A place and a moment.

    Attributes:
        at_s: seconds from going in.
        place: distance from the coldest point as a share of the half thickness.
    """

    at_s: float
    place: float = 0.0


@dataclass(frozen=True, slots=True)
class Shown:
    """What was seen on the way.

    Attributes:
        looks: the temperature at each look, °C, as far as the legs went.
        reach_s: when the core reached the target; None: not within the legs.
    """

    looks: tuple[float, ...]
    reach_s: float | None


def follow(
    body: Body, legs: tuple[Leg, ...], looks: Sequence[Look], target_c: float | None = None
) -> Shown:
    """Walk until every look is answered and, when one is given, the core is at the target.

    Args:
        body: the piece.
        legs: from `passbell.heat.course.course`.
        looks: in order of time.
        target_c: the core temperature waited for, °C.
    """
    geometry = cells(body.shape)
    seen: list[float] = []
    reach: float | None = None
    for stretch in walk(body, legs):
        while len(seen) < len(looks) and looks[len(seen)].at_s <= stretch.end_s:
            seen.append(_at(geometry, stretch, looks[len(seen)]))
        if target_c is not None and reach is None:
            reach = _crossing(geometry, stretch, target_c)
        if len(seen) == len(looks) and (target_c is None or reach is not None):
            break
    return Shown(tuple(seen), reach)


def _at(geometry: Cells, stretch: Stretch, look: Look) -> float:
    steps = max(0.0, look.at_s - stretch.start_s) / stretch.step_s
    i = min(int(steps), len(stretch.rows) - 2)
    before = geometry.at(stretch.rows[i], look.place)
    after = geometry.at(stretch.rows[i + 1], look.place)
    return before + (after - before) * (steps - i)


def _crossing(geometry: Cells, stretch: Stretch, target: float) -> float | None:
    """When the core first is at the target; the core never falls while the food is heated."""
    w0, w1 = geometry.core
    rows = stretch.rows
    if w0 * rows[-1][0] + w1 * rows[-1][1] < target:
        return None
    last = w0 * rows[0][0] + w1 * rows[0][1]
    for i, row in enumerate(rows):
        core = w0 * row[0] + w1 * row[1]
        if core >= target:
            back = (core - target) / (core - last) if core > last else 0.0
            return max(0.0, stretch.start_s + (i - back) * stretch.step_s)
        last = core
    return None


def core_track(body: Body, legs: tuple[Leg, ...]) -> list[tuple[float, float]]:
    """The core temperature in time, (s, °C), at every step of all legs."""
    w0, w1 = cells(body.shape).core
    return [
        (stretch.start_s + i * stretch.step_s, w0 * row[0] + w1 * row[1])
        for stretch in walk(body, legs)
        for i, row in enumerate(stretch.rows)
    ]
