"""What an appliance's own clock should read."""

from passbell.cook.state import CookState
from passbell.cook.timing import stage_time

DOOR_TIME = 30
"""How long one opening of a door lasts, in seconds: the half minute of common practice."""


def display_at(state: CookState, machine: int, at: int) -> int | None:
    """What its own display should read at an instant, in seconds; None: it has none to show.

    At an instant to come it is what the plan will have dialled in by then; at one that has come,
    what the cook has.
    """
    current, stage = state.appliances[machine].stage, _stage_at(state, machine, at)
    if at <= state.at or (current is not None and (stage is None or stage <= current)):
        return display_now(state, machine, at)
    return _planned_left(state, machine, stage, at)


def display_now(state: CookState, machine: int, now: int) -> int | None:
    """What its own display should read at the present instant, in seconds; None: nothing.

    What was dialled in or typed in counts down from then, while the heat is on (and the door shut,
    where the door stops it): also past the end of its stage, until the cook says that it was
    switched. Before the first it is what the plan will have dialled in.
    """
    if state.appliances[machine].stage is None:
        return _planned_left(state, machine, _stage_at(state, machine, now), now)
    zero = dial_zero(state, machine, now)
    return None if zero is None else max(0, zero - now)


def _planned_left(state: CookState, machine: int, stage: int | None, at: int) -> int | None:
    stages, bounds = state.appliance(machine).stages, state.schedule.bounds[machine]
    if stage is None or stages[stage].time is None:
        return None
    return max(0, bounds[stage + 1] - at + stages[stage].spare)


def _stage_at(state: CookState, machine: int, at: int) -> int | None:
    """The stage it is in at an instant by the schedule."""
    bounds, stages = state.schedule.bounds[machine], len(state.appliance(machine).stages)
    if not stages or len(bounds) < 2 or at < bounds[0]:
        return None
    return max(k for k in range(min(stages, len(bounds) - 1)) if bounds[k] <= at)


def dial_zero(state: CookState, machine: int, now: int) -> int | None:
    """The instant at which its display reaches 0:00; None: it has none to show."""
    real = state.appliances[machine]
    if real.dial is None:
        return None
    off = real.dial_off
    if real.stopped is not None:
        off += max(0, now - max(real.stopped, real.dial[0]))
    return real.dial[0] + real.dial[1] + off + _door_time(state, machine, real.dial[0])


def _door_time(state: CookState, machine: int, since: int) -> int:
    """How long its clock stood still because its door was open, since an instant."""
    if state.appliance(machine).door == "runs":
        return 0
    openings = sorted({t // 60 for t in door_openings(state, machine) if t > since})
    return DOOR_TIME * len(openings)


def door_openings(state: CookState, machine: int) -> tuple[int, ...]:
    """The instants at which something was put in, taken out or looked at there."""
    found: list[int] = []
    for row, machines in zip(state.steps, state.tables.machines, strict=True):
        for real, on in zip(row, machines, strict=True):
            if on == machine:
                ends = (t for t in (real.began, real.ended) if t is not None)
                found.extend((*ends, *real.looks))
    return tuple(sorted(found))


def stage_words(state: CookState, machine: int, stage: int) -> str:
    """A stage's mode and temperature: "air fry 375 °F"."""
    plan = state.appliance(machine).stages[stage]
    words = [plan.mode or plan.name, str(plan.temp) if plan.temp else ""]
    return " ".join(w for w in words if w)


def last_heat(state: CookState, machine: int) -> str:
    """The mode and temperature of the last stage that began; empty: it has no stages."""
    begun = len(state.appliances[machine].stages)
    return stage_words(state, machine, begun - 1) if begun else ""


def planned_dial(state: CookState, machine: int, stage: int) -> int | None:
    """What the cook is to dial in when a stage begins, in seconds; None: nothing."""
    time = stage_time(state, machine, stage, state.at)
    return None if time is None else time + state.appliance(machine).stages[stage].spare
