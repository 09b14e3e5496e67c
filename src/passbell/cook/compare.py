"""Runs side by side, a component at a time, and where they differ.

Instants are counted from when the first food went on the heat, so that a cook begun late or served
late does not look different all through. Two figures agree within `tolerance`: a minute, or a
twentieth of the time the food was to be on the heat, whichever is more (our judgement, no source).
"""

from dataclasses import dataclass
from typing import Literal

from passbell.cook.account import ComponentAccount
from passbell.cook.kept import Kept
from passbell.cook.scores import Score
from passbell.cook.state import TakenReading

LEAST = 60
"""Instants this near, in seconds, agree."""

SHARE = 20
"""Instants within the time on the heat over this agree."""

Point = Literal["in", "out", "time", "score", "verdict"]
"""What of a component can differ between runs."""


@dataclass(frozen=True, slots=True)
class Went:
    """One component in one run; instants in seconds from the first food on the heat.

    Attributes:
        present: whether the run had it and did not leave it out.
        planned_in, planned_out: as planned at the start of that run; None: no heat.
        went_in, came_out: as cooked; None: never.
        time, planned_time: seconds from in to out.
        readings: those that hold.
        verdict: the verdict word; may be empty.
        score: how it turned out; None: not said.
        openings: how often its appliance was opened while it was in.
        notes: what was noted about it.
    """

    present: bool
    planned_in: int | None = None
    planned_out: int | None = None
    went_in: int | None = None
    came_out: int | None = None
    time: int | None = None
    planned_time: int | None = None
    readings: tuple[TakenReading, ...] = ()
    verdict: str = ""
    score: Score | None = None
    openings: int = 0
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Side:
    """One component across the runs.

    Attributes:
        name: as in the plan.
        went: a column for each run, in their order.
        tolerance: seconds within which instants agree.
        differs: what differs beyond it, between any two of the runs.
    """

    name: str
    went: tuple[Went, ...]
    tolerance: int
    differs: frozenset[Point]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two or more runs side by side.

    Attributes:
        runs: in the order they were asked for.
        sides: components in the order of the last run's plan, then those only others have.
        dish_up: seconds from the first food on the heat to dish-up, a run each; None: never.
        dish_up_differs: whether those are more than a minute, or a twentieth, apart.
        same_text: whether all were cooked from the same text.
    """

    runs: tuple[Kept, ...]
    sides: tuple[Side, ...]
    dish_up: tuple[int | None, ...]
    dish_up_differs: bool
    same_text: bool


def compared(runs: tuple[Kept, ...]) -> Comparison:
    """The runs side by side.

    Args:
        runs: one or more, in the order of their columns.
    """
    names = list(dict.fromkeys(c.name for kept in reversed(runs) for c in kept.account.components))
    sides = tuple(_side(name, runs) for name in names)
    served = tuple(_served(kept) for kept in runs)
    return Comparison(
        runs=runs,
        sides=sides,
        dish_up=served,
        dish_up_differs=not agree(served, tolerance(max(filter(None, served), default=0))),
        same_text=len({kept.source.plan_text for kept in runs}) == 1,
    )


def tolerance(time: int | None) -> int:
    """How far apart two instants of food with this time on the heat may be, in seconds."""
    return max(LEAST, (time or 0) // SHARE)


def agree(values: tuple[int | None, ...], within: int) -> bool:
    """Whether all values are there, or none is, and they are within so many seconds."""
    found = [value for value in values if value is not None]
    if len(found) != len(values):
        return not found
    return max(found, default=0) - min(found, default=0) <= within


def zero_of(kept: Kept) -> int:
    """When the first food went on the heat; when the first step began where none did."""
    ins = [c.went_in for c in kept.account.components if c.went_in is not None]
    begun = [s.start for c in kept.account.components for s in c.steps if s.start is not None]
    return min(ins) if ins else min(begun, default=0)


def planned_zero_of(kept: Kept) -> int:
    """When the first food was to go on the heat."""
    ins = [c.planned_in for c in kept.account.components if c.planned_in is not None]
    return min(ins, default=0)


def _served(kept: Kept) -> int | None:
    served = kept.account.served
    return None if served is None else served - zero_of(kept)


def _side(name: str, runs: tuple[Kept, ...]) -> Side:
    went = tuple(_went(kept, kept.component(name)) for kept in runs)
    within = tolerance(max((w.planned_time or 0 for w in went), default=0))
    return Side(name, went, within, _differences(went, within))


def _went(kept: Kept, component: ComponentAccount | None) -> Went:
    if component is None or component.skipped:
        return Went(present=False)
    zero, planned_zero = zero_of(kept), planned_zero_of(kept)
    return Went(
        present=True,
        planned_in=_from(planned_zero, component.planned_in),
        planned_out=_from(planned_zero, component.planned_out),
        went_in=_from(zero, component.went_in),
        came_out=_from(zero, component.came_out),
        time=component.heat_time,
        planned_time=component.planned_heat_time,
        readings=component.readings,
        verdict=component.verdict,
        score=component.score,
        openings=len(component.opened),
        notes=component.notes,
    )


def _from(zero: int, at: int | None) -> int | None:
    return None if at is None else at - zero


def _differences(went: tuple[Went, ...], within: int) -> frozenset[Point]:
    found: set[Point] = set()
    if not agree(tuple(w.went_in for w in went), within):
        found.add("in")
    if not agree(tuple(w.came_out for w in went), within):
        found.add("out")
    if not agree(tuple(w.time for w in went), within):
        found.add("time")
    there = [w for w in went if w.present]
    if len({w.score for w in there}) > 1:
        found.add("score")
    if len({w.verdict for w in there}) > 1:
        found.add("verdict")
    return frozenset(found)
