"""What the readings of a component say, and whether it may leave the heat."""

from passbell.cook.state import CookState
from passbell.safety.chart import chart_rows
from passbell.safety.places import tracks, wanted_places
from passbell.safety.thermometer import correction
from passbell.safety.verdict import Reading, Setup, Verdict, judge
from passbell.units import Temperature


def verdict(state: CookState, component: int) -> Verdict:
    """The verdict on a component by the chart of this cook and every reading that holds."""
    known = state.memo.get(("verdict", component))
    if not isinstance(known, Verdict):
        known = state.memo["verdict", component] = _judged(state, component, state.chart)
    return known


def rest_until(state: CookState, component: int) -> int | None:
    """When its safety rest is over; None: none is asked for, or none has begun.

    One that a chart asked for goes on to its end where another chart judges meanwhile.
    """
    ends = [verdict(state, component).rest_until]
    for until, chart in state.charts_before if removed_at(state, component) is not None else ():
        judged = _judged(state, component, chart)
        if judged.rest_from is not None and judged.rest_from <= until:
            ends.append(judged.rest_until)
    return max((end for end in ends if end is not None), default=None)


def _judged(state: CookState, component: int, chart: str) -> Verdict:
    plan = state.component(component)
    setup = Setup(
        pieces=plan.pieces,
        ice=state.ice,
        removed_at=removed_at(state, component),
        cut_at=cut_at(state, component),
        reheated=reheated(state, component),
    )
    return judge(plan.food, readings_of(state, component), chart=chart, setup=setup)


def readings_of(state: CookState, component: int) -> tuple[Reading, ...]:
    """The readings of a component that count, in the order they were taken.

    What was typed for food that had not yet been on the heat is kept and counts for nothing. It
    is told by when the food was noted to go in, so that back-dating makes no reading count.
    """
    if not state.readings:
        return ()
    known = state.memo.get(("readings", component))
    if not isinstance(known, tuple):
        known = state.memo["readings", component] = _readings_of(state, component)
    return known


def _readings_of(state: CookState, component: int) -> tuple[Reading, ...]:
    since = _first_in(state, component)
    return tuple(
        Reading(r.place, r.shown, r.scale, r.at, r.off_heat)
        for r in state.readings
        if r.component == component and since is not None and (r.at > since or not r.off_heat)
    )


def _first_in(state: CookState, component: int) -> int | None:
    """When it was first noted to be on the heat; −1 for food that never is; None: not yet."""
    first = state.component(component).first_cook
    return -1 if first is None else state.steps[component][first].began_noted


def was_read(state: CookState, component: int) -> bool:
    """Whether any reading of it counts; without one nothing is met and nothing reached."""
    return bool(state.readings) and bool(readings_of(state, component))


def read_too_soon(state: CookState, component: int) -> bool:
    """Whether all that was typed for it came before it was on the heat."""
    typed = any(r.component == component for r in state.readings)
    return typed and not was_read(state, component)


def removed_at(state: CookState, component: int) -> int | None:
    """When it left the heat for good, as recorded: back-dating gains a safety rest no time."""
    last = state.tables.last_cook[component]
    return state.steps[component][last].ended_noted if last is not None else None


def cut_at(state: CookState, component: int) -> int | None:
    """When it was cut or plated: the first work by hand after its last cook step began."""
    plan, last = state.component(component), state.tables.last_cook[component]
    if last is None:
        return None
    for index in range(last + 1, len(plan.steps)):
        began = state.steps[component][index].began
        if plan.steps[index].kind in ("prep", "finish") and began is not None:
            return began
    return None


def reheated(state: CookState, component: int) -> tuple[int, ...]:
    """When it came back to heat: put back, on another appliance, or its heat on again.

    As recorded, where that is later than it was said to be: back-dating holds nothing longer.
    """
    found: list[int] = []
    earlier = False
    for index, step in enumerate(state.steps[component]):
        machine = state.tables.machines[component][index]
        if machine is None or step.began is None or step.began_noted is None:
            continue
        found += [step.began_noted] if earlier else []
        found += [back for _, back in step.apart]
        until = step.ended if step.ended is not None else state.at
        found += [on for _, on in state.appliances[machine].still if step.began < on <= until]
        earlier = True
    return tuple(sorted(found))


def has_minimum(state: CookState, component: int) -> bool:
    """Whether the chart prints a minimum for it (a figure, or pairs to hold)."""
    return state.tables.minimum[component]


def is_gated(state: CookState, component: int, step: int) -> bool:
    """Whether this step ends by the probe.

    That is the last time on the heat of food with a minimum, or a step with a temperature to reach.
    """
    return state.tables.gated[component][step]


def may_leave(state: CookState, component: int, step: int) -> bool:
    """Whether the program may offer to take it out.

    Food with a minimum in the chart: only when every place reads `met`. Where the plan has a
    temperature to reach: when every place's latest reading has reached that too.
    """
    if not is_gated(state, component, step):
        return True
    last = step == state.tables.last_cook[component]
    if last and has_minimum(state, component) and not proven(state, component):
        return False
    wanted = state.component(component).steps[step].until is not None
    return not wanted or reached_until(state, component, step)


def proven(state: CookState, component: int, by: int | None = None) -> bool:
    """Whether readings taken on the heat alone reach the minimum: the chart asks for it there.

    Args:
        state: the cook.
        component: whose readings.
        by: only those taken up to this instant; None: all, and what was read off the heat must
            not speak against them.
    """
    if by is None:
        known = state.memo.get(("proven", component))
        if not isinstance(known, bool):
            known = verdict(state, component).verdict == "met" and _met_on_heat(state, component)
            state.memo["proven", component] = known
        return known
    return _met_on_heat(state, component, by)


def _met_on_heat(state: CookState, component: int, by: int | None = None) -> bool:
    """Whether readings taken on the heat alone reach the minimum; arguments as for `proven`."""
    readings = tuple(
        r for r in readings_of(state, component) if not r.off_heat and (by is None or r.at <= by)
    )
    if not readings:
        return False
    plan = state.component(component)
    setup = Setup(pieces=plan.pieces, ice=state.ice, reheated=reheated(state, component))
    return judge(plan.food, readings, chart=state.chart, setup=setup).verdict == "met"


def reached_until(state: CookState, component: int, step: int) -> bool:
    """Whether every place was read and its latest reading has reached the step's `until`."""
    plan = state.component(component)
    until = plan.steps[step].until
    if until is None or not was_read(state, component):
        return False
    rows = [row for row in chart_rows(plan.food, state.chart) if not row.no_figure]
    setup = Setup(pieces=plan.pieces)
    found = tracks(wanted_places(rows, setup), readings_of(state, component))
    if not all(track.series for track in found):
        return False
    return all(_reaches(track.series[-1], until, state.ice) for track in found)


def _reaches(reading: Reading, until: Temperature, ice: Temperature | None) -> bool:
    """Whether a reading, corrected by what the thermometer shows in ice water, reaches it."""
    wanted = until.celsius if reading.scale == "C" else until.fahrenheit
    return reading.shown - float(correction(ice, reading.scale)) >= wanted
