"""Runs as plain data: the list, and two or more of them side by side."""

from dataclasses import dataclass

from passbell.cook.compare import Comparison, zero_of
from passbell.cook.kept import Kept
from passbell.cook.ready import Ready
from passbell.tui.views.model import Segment, SegmentKind
from passbell.units import Temperature

_KINDS: dict[str, SegmentKind] = {
    "prep": "prep",
    "cook": "cook",
    "rest": "rest",
    "finish": "finish",
}


@dataclass(frozen=True, slots=True)
class RunLine:
    """A run in the list.

    Attributes:
        run: its number.
        title: the meal.
        date: when it was cooked.
        state: how it stands ("finished", "rehearsal").
        picked: its column when it stands beside others ("A"); empty: it is not picked.
    """

    run: int
    title: str
    date: str
    state: str
    picked: str = ""


@dataclass(frozen=True, slots=True)
class WentLine:
    """The time line of one component in one run, in seconds from the first food on the heat."""

    component: str
    run: int
    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class Curve:
    """The readings of one component in one run.

    Attributes:
        letter: the run's column.
        points: (seconds from the first food on the heat, °C), in the order of time.
    """

    letter: str
    points: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Curves:
    """The readings of one component in all runs.

    Attributes:
        component: its name.
        curves: a run each, those without readings left out.
        until: the probe temperature it is done at, in °C; None: none.
        scale: the unit to show.
    """

    component: str
    curves: tuple[Curve, ...]
    until: float | None
    scale: str


@dataclass(frozen=True, slots=True)
class RunsView:
    """The list of runs, and what is looked at.

    Attributes:
        runs: the newest first.
        beside: the runs looked at, side by side; None: none can be.
        lines: their time lines, component by component.
        curves: their readings.
        ready: whether the plan of the last of them is ready to be published.
        trouble: why a run cannot be looked at; may be empty.
        message: what came of the last key; may be empty.
    """

    runs: tuple[RunLine, ...]
    beside: Comparison | None = None
    lines: tuple[WentLine, ...] = ()
    curves: tuple[Curves, ...] = ()
    ready: Ready | None = None
    trouble: str = ""
    message: str = ""


def timelines(found: Comparison) -> tuple[WentLine, ...]:
    """A time line for each component of each run, those of one component together."""
    return tuple(
        WentLine(side.name, kept.source.run, _segments(kept, side.name))
        for side in found.sides
        for kept in found.runs
    )


def _segments(kept: Kept, name: str) -> tuple[Segment, ...]:
    component, zero = kept.component(name), zero_of(kept)
    if component is None or component.skipped:
        return ()
    return tuple(
        Segment(_KINDS[step.kind], step.start - zero, step.end - zero, real=True)
        for step in component.steps
        if step.start is not None and step.end is not None and step.end > step.start
    )


def curves(found: Comparison) -> tuple[Curves, ...]:
    """The readings of each component that was probed in any of the runs."""
    drawn = []
    for side in found.sides:
        rows = tuple(
            Curve(letter_of(place), _points(kept, side.name))
            for place, kept in enumerate(found.runs)
        )
        rows = tuple(row for row in rows if row.points)
        if rows:
            until, scale = _until(found, side.name)
            drawn.append(Curves(side.name, rows, until, scale))
    return tuple(drawn)


def letter_of(place: int) -> str:
    """The letter of a column, A for the first."""
    return chr(ord("A") + place)


def _points(kept: Kept, name: str) -> tuple[tuple[int, float], ...]:
    component, zero = kept.component(name), zero_of(kept)
    readings = component.readings if component is not None else ()
    return tuple((r.at - zero, Temperature(r.shown, r.scale).celsius) for r in readings)


def _until(found: Comparison, name: str) -> tuple[float | None, str]:
    """The probe temperature of the newest run that has one, and the unit readings were taken in."""
    scale = "C"
    for kept in found.runs:
        component = kept.component(name)
        if component is not None and component.readings:
            scale = component.readings[-1].scale
    for kept in reversed(found.runs):
        for plan in kept.plan.components:
            asked = [s.until.celsius for s in plan.steps if s.until is not None]
            if plan.name == name and asked:
                return asked[-1], scale
    return None, scale
