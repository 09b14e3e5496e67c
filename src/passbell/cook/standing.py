"""When the standing schedule is still the best answer, so that nothing has to be planned anew.

A best schedule stays best as long as what happens is what it said: each act at its instant only
takes alternatives away. The same holds while work before the heat takes longer than expected and
what comes after it has room. Everything else (an act early or late, a change of the plan, heat that
stopped, an answer that was not proven or that stretches a limit) is planned anew.
"""

from collections.abc import Iterable
from dataclasses import replace

from passbell.cook import events as ev
from passbell.cook.cue import CueKey
from passbell.cook.expect import expected_end, safety_rest_end
from passbell.cook.put_back import waits_outside
from passbell.cook.replan import ready_at, stage_left
from passbell.cook.state import CookState, StepState
from passbell.cook.timing import expected_time
from passbell.schedule.model import Schedule

Where = tuple[int, int]
"""Component and step."""


def as_asked(events: Iterable[ev.Event]) -> bool:
    """Whether a command said no more than that what was asked for was done the moment it was due.

    A reading on the heat is no more than that either: what it changes is seen in the step itself.
    An appliance that is ready is more: it is not counted on before it is said to be.
    """
    return all(_as_asked(event) for event in events)


def _as_asked(event: ev.Event) -> bool:
    if event.type == "acted":
        on_time = event.happened == event.due == event.at
        return on_time and CueKey.read(event.cue).kind != "ready"
    return event.type == "look_again" or (event.type == "was_read" and not event.off_heat)


def standing(state: CookState, now: int) -> Schedule | None:
    """The schedule that still holds at an instant; None: it has to be planned anew."""
    schedule = state.schedule
    if not schedule.proven or schedule.earlier is not None or schedule.dish_up < now:
        return None
    if any(stretch.kind not in ("keep", "stage") for stretch in schedule.stretched):
        return None
    if state.away is not None or state.skipped:
        return None
    if any(known.until is not None for _, known in state.cues):
        return None
    over = _not_as_planned(state, now)
    if over is None or waits_outside(state):
        return None
    if not all(_machine_holds(state, m, now) for m in range(len(state.appliances))):
        return None
    return _longer(schedule, over, now) if over else schedule


def _not_as_planned(state: CookState, now: int) -> list[Where] | None:
    """Work that takes longer than the schedule says and has room for it; None: some has not.

    What is under way is looked at first: nearly always it is that which has not.
    """
    over: list[Where] = []
    for under_way in (True, False):
        for component, row in enumerate(state.steps):
            for index, real in enumerate(row):
                if (real.began is not None and real.ended is None) is not under_way:
                    continue
                if _as_planned(state, (component, index), real, now):
                    continue
                if not _has_room(state, (component, index), now):
                    return None
                over.append((component, index))
    return over


def _as_planned(state: CookState, where: Where, real: StepState, now: int) -> bool:
    """Whether a step went, goes or can still go exactly as the schedule says."""
    component, index = where
    start = state.schedule.starts[component][index]
    end = state.schedule.ends[component][index]
    if real.ended is not None:
        return real.began == start and real.ended == end
    if real.began is not None:
        return real.began == start and expected_end(state, component, index, now) == end
    if start < now or start < real.release:
        return False
    if expected_time(state, component, index, now) != end - start:
        return False
    if state.component(component).steps[index].kind not in ("prep", "finish"):
        return True
    return start >= (safety_rest_end(state, component) or 0)


def _has_room(state: CookState, where: Where, now: int) -> bool:
    """Whether work before the heat that takes longer than planned delays nothing yet.

    It is expected to end now, so all that has not begun comes after it; only what follows in its
    own component can be too near.
    """
    component, index = where
    work, real = state.problem.works[component][index], state.steps[component][index]
    last = state.tables.last_cook[component]
    if work.kind != "prep" or last is None or index > last or work.gap_max is not None:
        return False
    if real.began != state.schedule.starts[component][index] or real.ended is not None:
        return False
    if state.schedule.ends[component][index] > now or work.hands < work.time:
        return False
    ends = expected_end(state, component, index, now)
    return ends == now and now + work.gap_min <= state.schedule.starts[component][index + 1]


def _machine_holds(state: CookState, machine: int, now: int) -> bool:
    real, planned = state.appliances[machine], state.problem.machines[machine]
    on, bounds = state.schedule.on[machine], state.schedule.bounds[machine]
    if real.stopped is not None or (on is not None and real.on is not None and real.on != on):
        return False
    if real.on is None and on is not None and on < now:
        return False
    if real.on is not None and real.ready is None and bounds and not real.stages:
        ready = max(real.on + planned.preheat, real.ready_from)
        if ready_at(ready, now) > bounds[0] and not _in_use(state, machine):
            return False
    return not (planned.stages and bounds) or _stages_hold(state, machine, now)


def _in_use(state: CookState, machine: int) -> bool:
    return any(
        on == machine and state.steps[c][i].began is not None
        for c, row in enumerate(state.tables.machines)
        for i, on in enumerate(row)
    )


def _stages_hold(state: CookState, machine: int, now: int) -> bool:
    real, bounds = state.appliances[machine], state.schedule.bounds[machine]
    begun = len(real.stages)
    if real.stages != bounds[:begun] or any(bound < now for bound in bounds[begun:-1]):
        return False
    stretched = state.schedule.stretched
    longer = {(s.first, s.second): s.by for s in stretched if s.kind == "stage"}
    for stage in range(max(0, begun - 1), len(bounds) - 1):
        time = stage_left(state, machine, stage, now)
        more = longer.get((machine, stage), 0)
        if time is not None and time + more != bounds[stage + 1] - bounds[stage]:
            return False
    return True


def _longer(schedule: Schedule, over: list[Where], now: int) -> Schedule:
    """The schedule with some work ending now."""
    ends = [list(row) for row in schedule.ends]
    for component, index in over:
        ends[component][index] = now
    return replace(schedule, ends=tuple(tuple(row) for row in ends))
