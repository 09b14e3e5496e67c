"""From a component of a plan, and what its appliance did, to a piece and what it met."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from passbell.heat.model import Exposure, NoForecast, Piece, Segment
from passbell.heat.properties import vegetable_named
from passbell.heat.scope import mode_of, no_forecast, reason_in
from passbell.plan.model import Component, Plan, Stage, Step
from passbell.units import Temperature

ROOM_C = 22.0
"""The room, °C (our figure)."""

_FRIDGE_C, _COUNTER_C = 4.0, 20.0
_SHAPES = {"slab": 0.0, "cylinder": 1.0, "sphere": 2.0}


@dataclass(frozen=True, slots=True)
class Turn:
    """The cook turned an appliance's knob besides what the plan says.

    Attributes:
        at: when, s.
        temp: the new set temperature; None: as before.
        mode: the new mode; None: as before.
    """

    at: int
    temp: Temperature | None = None
    mode: str | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """How one appliance really runs, or is planned to.

    Attributes:
        bounds: its stage boundaries B0, B1, …, as far as known.
        turns: what was turned besides the plan, in order of time; each holds until the next stage.
        still: from when to when its heat was off; None: it still is.
    """

    bounds: Sequence[int] = ()
    turns: tuple[Turn, ...] = ()
    still: tuple[tuple[int, int | None], ...] = ()


@dataclass(frozen=True, slots=True)
class Times:
    """When the steps of one component begin and how the appliances run, planned or real.

    Attributes:
        starts, ends: per step of the component, whole seconds.
        runs: per appliance in file order.
        apart: from when to when the food was out of the heat and went back.
    """

    starts: Sequence[int]
    ends: Sequence[int]
    runs: Sequence[Run]
    apart: Sequence[tuple[int, int]] = ()


@dataclass(frozen=True, slots=True)
class Span:
    """One setting of an appliance.

    Attributes:
        at: when it begins, s.
        temp: the set temperature; None where neither stage nor step names one.
        mode: the mode as written.
        off: whether its heat is off: its air cools towards the room.
        out: whether the food lies in the room.
    """

    at: int
    temp: Temperature | None
    mode: str | None
    off: bool = False
    out: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """What a component asks the forecast for.

    Attributes:
        piece: the food as written.
        until: the temperature waited for.
        step: index of the step that waits for it.
        first: index of the first cook step, whose start is 0 of the forecast.
    """

    piece: Piece
    until: Temperature
    step: int
    first: int


def asked(dish: Component) -> Asked | NoForecast:
    """What a component asks for, or why there can be no forecast for it."""
    waits = [i for i, step in enumerate(dish.steps) if step.until is not None]
    until = dish.steps[waits[-1]].until if waits else None
    first = dish.first_cook
    if until is None or first is None:
        return no_forecast("no_until")
    if dish.size is None:
        return no_forecast("no_size")
    reason = reason_in(dish.food, _texts(dish, waits[-1]))
    if reason is not None:
        return no_forecast(reason)
    return Asked(piece_of(dish, dish.size.mm), until, waits[-1], first)


def piece_of(dish: Component, size_mm: float) -> Piece:
    """The piece of a component; food of the chart comes from the fridge, the rest from the counter.

    Args:
        dish: the component.
        size_mm: its thickness or diameter, as written or as the cook has it today.
    """
    meat = [key for key in dish.food if key != "plant"]
    key = meat[0] if meat else vegetable_named(" ".join((dish.name, *dish.ingredients)))
    start = _FRIDGE_C if meat else _COUNTER_C
    return Piece(_SHAPES[dish.shape], size_mm / 2, key, start)


def _texts(dish: Component, last: int) -> Iterator[str]:
    yield dish.name
    yield from dish.ingredients
    for step in dish.steps[: last + 1]:
        yield step.text
        yield from (during.do for during in step.during)


def met(plan: Plan, dish: Component, last: int, times: Times) -> Exposure | NoForecast:
    """What a component meets from its first cook step to the end of step `last`.

    Between two cook steps it lies in the room. The last setting is taken to go on.

    Args:
        plan: the plan, for its appliances.
        dish: the component; it has a cook step.
        last: index of the last cook step that counts.
        times: planned or real.
    """
    first = dish.first_cook or 0
    zero = times.starts[first]
    segments: list[Segment] = []
    out_s: int | None = None
    for i in range(first, last + 1):
        if dish.steps[i].kind != "cook":
            continue
        inside = (times.starts[i], times.ends[i])
        if out_s is not None and inside[0] > out_s:
            segments.append(Segment(out_s - zero, ROOM_C, "rest"))
        for span in _spans(plan, dish.steps[i], times, inside):
            segment = _segment(span, zero)
            if isinstance(segment, NoForecast):
                return segment
            segments.append(segment)
        out_s = inside[1]
    return Exposure(tuple(segments), room_c=ROOM_C)


def _segment(span: Span, zero: int) -> Segment | NoForecast:
    mode = mode_of(span.mode)
    if isinstance(mode, NoForecast):
        return mode
    if span.out:
        return Segment(span.at - zero, ROOM_C, "rest")
    if span.off:
        return Segment(span.at - zero, ROOM_C, mode)
    if span.temp is None:
        return no_forecast("no_air")
    return Segment(span.at - zero, span.temp.celsius, mode)


def _spans(plan: Plan, step: Step, times: Times, inside: tuple[int, int]) -> Iterator[Span]:
    """What the step's appliance is set to, from going in to coming out."""
    place = plan.appliance_index(step.on or "")
    run, begins = times.runs[place], inside[0]
    marks = {
        *run.bounds[: len(plan.appliances[place].stages)],
        *(turn.at for turn in run.turns),
        *(at for pair in (*run.still, *times.apart) for at in pair if at is not None),
    }
    for at in sorted({begins, *(m for m in marks if begins < m < inside[1])}):
        found = _set(plan.appliances[place].stages, step, run, at)
        yield replace(found, out=any(a <= at < b for a, b in times.apart))


def _set(stages: Sequence[Stage], step: Step, run: Run, at: int) -> Span:
    """The setting in force at an instant: the stage's, or what was turned since."""
    begun = [i for i, b in enumerate(run.bounds[: len(stages)]) if b <= at]
    stage = stages[begun[-1]] if begun else stages[0] if stages and run.bounds else None
    temp = (stage.temp if stage is not None else None) or step.temp
    mode = (stage.mode if stage is not None else None) or step.mode
    since = run.bounds[begun[-1]] if begun else 0
    for turn in run.turns:
        if since <= turn.at <= at:
            temp, mode = turn.temp or temp, turn.mode or mode
    off = any(a <= at and (b is None or at < b) for a, b in run.still)
    return Span(at, temp, mode, off)
