"""When a component is expected at its temperature, from what it really met. Never a verdict.

The question is put together from the state alone (real instants, doors, heat that was off, knobs
turned, readings), so that a replay asks what the live cook asked; the answer is kept per question.
"""

from dataclasses import dataclass
from functools import lru_cache

from passbell.cook.display import door_openings
from passbell.cook.neighbours import on_the_heat
from passbell.cook.state import CookState
from passbell.cook.timing import action_at, expected_time, machine_of
from passbell.cook.verdicts import may_leave, readings_of
from passbell.heat import (
    Exposure,
    Forecast,
    NoForecast,
    Piece,
    PlanTime,
    Reading,
    Run,
    Times,
    asked,
    forecast,
    met,
)
from passbell.safety.chart import chart_rows, governing
from passbell.safety.places import tracks, wanted_places
from passbell.safety.thermometer import correction
from passbell.safety.verdict import Setup
from passbell.units import Temperature
from passbell.units.temperature import Scale

ONE_OPENING = 60
"""What happens at one appliance within this time, in seconds, is one opening of its door."""

GRID = 30
"""What is still to come is taken to the half minute, in seconds: the answer is kept longer."""

WORTH_SAYING = 60
"""By how much an expected end must move, in seconds, for a change of the stagger to be offered."""


@dataclass(frozen=True, slots=True)
class Inquiry:
    """A question to the forecast; equal questions have one answer.

    Attributes:
        piece: the food as written.
        exposure: what it met and is to meet, from going in on.
        until: the temperature waited for: the plan's, or the chart's minimum where it is more.
        readings: those taken on the heat, corrected by what ice water showed.
        tested: the plan's own time and temperature, and what the plan meets.
        zero: when it went in, in engine seconds.
    """

    piece: Piece
    exposure: Exposure
    until: Temperature
    readings: tuple[Reading, ...]
    tested: PlanTime
    zero: int


@dataclass(frozen=True, slots=True)
class Outlook:
    """What is expected of a component on the heat, in engine seconds.

    Attributes:
        forecast: as the heat room gives it.
        until: the temperature waited for, in the thermometer's unit.
        at, low, high: when it is expected there, with the 80 % interval; `high` None: it may
            stall.
        look_at: when looking is worth an opening of the door.
        readings: how many it rests on.
        turned, stopped: whether the oven was set otherwise, and whether its heat was off.
        out: when it left the heat; None: it is on it.
    """

    forecast: Forecast
    until: Temperature
    at: int
    low: int
    high: int | None
    look_at: int
    readings: int = 0
    turned: bool = False
    stopped: bool = False
    out: int | None = None


def inquiry(state: CookState, component: int) -> Inquiry | NoForecast:
    """What to ask about a component that is on the heat, or has been in this cook."""
    dish = state.component(component)
    wants = asked(dish)
    if isinstance(wants, NoForecast):
        return wants
    planned = exposure_planned(state, component, wants.step)
    real = exposure_real(state, component, wants.step)
    if isinstance(planned, NoForecast):
        return planned
    if isinstance(real, NoForecast):
        return real
    starts, ends = state.first.starts[component], state.first.ends[component]
    zero, until = went_in(state, component), wants.until
    if wants.step == dish.last_cook:
        until = governing(until, dish.food, state.chart, state.scale)
    return Inquiry(
        piece=wants.piece,
        exposure=real,
        until=until,
        readings=_readings(state, component, zero),
        tested=PlanTime(ends[wants.step] - starts[wants.first], planned, wants.until.celsius),
        zero=zero,
    )


def outlook(state: CookState, component: int) -> Outlook | NoForecast | None:
    """The forecast of a component on the heat or just off it; None: there is nothing to forecast.

    It helps to decide when to look, and turns no verdict.
    """
    question = question_now(state, component)
    if question is None or isinstance(question, NoForecast):
        return question
    return told(state, component, question, answer(question))


def question_now(state: CookState, component: int) -> Inquiry | NoForecast | None:
    """What is to be asked about a component now; None: nothing."""
    dish, last = state.component(component), state.component(component).last_cook
    if last is None or not any(s.until for s in dish.steps) or component in state.skipped:
        return None
    on = on_the_heat(state, component) is not None
    served = state.served is not None or any(
        s.began is not None and dish.steps[i].kind == "finish"
        for i, s in enumerate(state.steps[component])
    )
    if not on and (state.steps[component][last].ended is None or served):
        return None
    return inquiry(state, component)


def told(
    state: CookState, component: int, question: Inquiry, found: Forecast | NoForecast
) -> Outlook | NoForecast:
    """An answer in engine seconds, with what is known of the oven beside it."""
    if isinstance(found, NoForecast):
        return found
    last = state.component(component).last_cook
    assert last is not None
    begin = question.zero + round(found.from_s)
    machine = machine_of(state, component, last)
    real = state.appliances[machine] if machine is not None else None
    return Outlook(
        forecast=found,
        until=question.until.at_least_in(state.scale),
        at=begin + found.eta_s,
        low=begin + found.eta_low_s,
        high=None if found.eta_high_s is None else begin + found.eta_high_s,
        look_at=begin + found.look_again_s,
        readings=len(question.readings),
        turned=real is not None and any(t.at >= question.zero for t in real.turns),
        stopped=real is not None
        and (real.stopped is not None or any(b > question.zero for _, b in real.still)),
        out=state.steps[component][last].ended,
    )


@lru_cache(maxsize=256)
def answer(question: Inquiry) -> Forecast | NoForecast:
    """The forecast for a question; each is worked out once."""
    return forecast(
        question.piece,
        question.exposure,
        question.until.celsius,
        question.readings,
        question.tested,
    )


def moved_end(state: CookState, component: int, found: Outlook | NoForecast | None) -> int | None:
    """By how much the stagger's end of a step differs from the forecast, in seconds.

    Whole minutes. None: nothing worth saying: no reading yet, it is there, less than a minute, or
    the stagger's end lies within an interval too wide to tell.
    """
    step = on_the_heat(state, component)
    if step is None or not isinstance(found, Outlook) or not found.readings:
        return None
    if state.component(component).steps[step].until is None or may_leave(state, component, step):
        return None
    began = state.steps[component][step].began
    assert began is not None
    end = began + expected_time(state, component, step, state.at)
    by = round((found.at - end) / 60) * 60
    doubtful = found.forecast.uncertain and found.low <= end <= (found.high or end)
    return None if abs(by) < WORTH_SAYING or doubtful else by


def went_in(state: CookState, component: int) -> int:
    """When a component went on the heat first, or is to."""
    first = state.component(component).first_cook or 0
    began = state.steps[component][first].began
    return began if began is not None else state.schedule.starts[component][first]


def _readings(state: CookState, component: int, zero: int) -> tuple[Reading, ...]:
    dish = state.component(component)
    rows = [row for row in chart_rows(dish.food, state.chart) if not row.no_figure]
    places = wanted_places(rows, Setup(pieces=dish.pieces))
    taken = [r for r in readings_of(state, component) if not r.off_heat and r.at > zero]
    found = [
        Reading(
            r.at - zero,
            Temperature(r.shown - float(correction(state.ice, r.scale)), r.scale).celsius,
            track.label,
        )
        for track in tracks(places, taken)
        for r in track.series
    ]
    return tuple(sorted(found, key=lambda r: (r.at_s, r.piece)))


def exposure_planned(state: CookState, component: int, last: int) -> Exposure | NoForecast:
    """What the plan as written has a component meet, the doors of the plan included."""
    schedule = state.first
    times = Times(
        schedule.starts[component],
        schedule.ends[component],
        tuple(Run(bounds) for bounds in schedule.bounds),
    )
    found = met(state.plan, state.component(component), last, times)
    if isinstance(found, NoForecast):
        return found
    doors = _planned_doors(state, component, last, since=None)
    zero = schedule.starts[component][state.component(component).first_cook or 0]
    return _opened(found, doors, zero)


def exposure_real(state: CookState, component: int, last: int) -> Exposure | NoForecast:
    """What a component really met up to now, and is to meet as things stand."""
    schedule, steps = state.schedule, state.steps[component]
    reach = min(len(schedule.starts[component]), len(steps))
    if last >= reach:
        return exposure_planned(state, component, last)
    starts = [_known(s.began, schedule.starts[component][i], state.at)
              for i, s in enumerate(steps[:reach])]  # fmt: skip
    ends = [_known(s.ended, schedule.ends[component][i], state.at)
            for i, s in enumerate(steps[:reach])]  # fmt: skip
    apart = tuple(pair for step in steps for pair in step.apart)
    found = met(
        state.plan, state.component(component), last, Times(starts, ends, _runs(state), apart)
    )
    if isinstance(found, NoForecast):
        return found
    doors = [*_real_doors(state, component, last),
             *_planned_doors(state, component, last, since=state.at)]  # fmt: skip
    return _opened(found, doors, went_in(state, component))


def _known(real: int | None, expected: int, now: int) -> int:
    return real if real is not None else _grid(expected, now)


def _grid(at: int, now: int) -> int:
    """An instant to come, to the half minute; never before now."""
    return at if at <= now else max(now, round(at / GRID) * GRID)


def _runs(state: CookState) -> tuple[Run, ...]:
    found = []
    for index, real in enumerate(state.appliances):
        rest = state.schedule.bounds[index][len(real.stages) :]
        bounds = (*real.stages, *(_grid(b, state.at) for b in rest))
        now_off = ((real.stopped, None),) if real.stopped is not None else ()
        found.append(Run(bounds, real.turns, (*real.still, *now_off)))
    return tuple(found)


def _opened(exposure: Exposure, doors: list[int], zero: int) -> Exposure:
    """With its doors, what falls into one opening counted once; going in is an opening itself."""
    kept: list[float] = []
    last = 0
    for door in sorted(doors):
        if door - zero - last >= ONE_OPENING:
            last = door - zero
            kept.append(float(last))
    return Exposure(exposure.segments, tuple(kept), exposure.start_air_c, exposure.room_c)


def _machines(state: CookState, component: int, last: int) -> set[int]:
    steps = range((state.component(component).first_cook or 0), last + 1)
    found = {machine_of(state, component, i) for i in steps}
    return {m for m in found if m is not None}


def _real_doors(state: CookState, component: int, last: int) -> list[int]:
    """When the appliances it was on were opened while it was on the heat, whoever for."""
    zero, ended = went_in(state, component), state.steps[component][last].ended
    machines = _machines(state, component, last)
    found = [t for m in machines for t in door_openings(state, m)]
    for other, row in enumerate(state.steps):
        for index, step in enumerate(row):
            if machine_of(state, other, index) in machines:
                found += [at for _, at in step.acted_at]
    for reading in state.readings:
        if not reading.off_heat and _machines_now(state, reading.component) & machines:
            found.append(reading.at)
    return [t for t in found if zero < t and (ended is None or t < ended)]


def _machines_now(state: CookState, component: int) -> set[int]:
    last = state.component(component).last_cook
    return _machines(state, component, last) if last is not None else set()


def _planned_doors(state: CookState, component: int, last: int, *, since: int | None) -> list[int]:
    """What goes in, comes out or is turned by plan; looks are left to the forecast.

    Args:
        state: the cook.
        component: whose heat it is.
        last: its last cook step that counts.
        since: only what is still to come after this instant; None: the plan as it was at the start.
    """
    schedule = state.first if since is None else state.schedule
    dish = state.component(component)
    span = (schedule.starts[component][dish.first_cook or 0], schedule.ends[component][last])
    machines = _machines(state, component, last)
    found: list[int] = []
    for other, row in enumerate(schedule.starts):
        for index in range(len(row)):
            if machine_of(state, other, index) not in machines:
                continue
            step, real = state.step(other, index)
            start, end = schedule.starts[other][index], schedule.ends[other][index]
            acts = [start + action_at(step, n) for n in range(len(step.during))
                    if since is None or n not in real.acted]  # fmt: skip
            found += [start, end, *acts]
    lowest = span[0] if since is None else since
    now = state.at if since is not None else 0
    return [_grid(t, now) if since is not None else t for t in found if lowest < t < span[1]]


def usual_temps(state: CookState, appliance: int) -> tuple[Temperature, ...]:
    """The oven temperatures that the plan names for an appliance; empty: none (a burner)."""
    plan = state.appliance(appliance)
    steps = [step for dish in state.plan.components for step in dish.steps if step.on == plan.name]
    found = [*(stage.temp for stage in plan.stages), *(step.temp for step in steps)]
    return tuple(temp for temp in found if temp is not None)


def usual_scale(state: CookState, appliance: int) -> Scale:
    """The unit in which an oven's knob is marked, by the plan; else the thermometer's."""
    found = usual_temps(state, appliance)
    return found[0].scale if found else state.scale
