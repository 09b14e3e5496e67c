"""The cues of one appliance: switch on, ready, the stages of its program, set, off."""

from collections.abc import Iterator

from passbell.cook.cue import Cue, CueKey
from passbell.cook.display import dial_zero, planned_dial, stage_words
from passbell.cook.due import Due
from passbell.cook.expect import first_look_at
from passbell.cook.state import CookState
from passbell.cook.verdicts import may_leave
from passbell.cook.wording import minutes, spoken

NOT_YET = 15
"""A mode change that waits for food to leave comes no sooner than this, in seconds."""

SET_AHEAD = 60
"""How long before its display reaches 0:00 more time is to be dialled in, in seconds."""


def appliance_cues(state: CookState, machine: int) -> Iterator[Due]:
    """Every cue of an appliance that is still to come or due."""
    real = state.appliances[machine]
    if real.switched_off is not None or not _used(state, machine):
        return
    yield from _heating_cues(state, machine)
    if real.stopped is None:
        yield from _stage_cues(state, machine)
        yield from _set_cues(state, machine)
    yield from _off_cue(state, machine)


def _off_cue(state: CookState, machine: int) -> Iterator[Due]:
    """Off after the last food is out; never while food is in, however long that takes."""
    bounds = state.schedule.bounds[machine]
    at = bounds[-1] if bounds else state.at
    if at > state.at or not in_use(state, machine):
        yield Due(CueKey("off", machine), at, _off)


def _off(state: CookState, key: CueKey, at: int) -> Cue:
    return _cue(state, key, at, ("SWITCH OFF", ""))


def in_use(state: CookState, machine: int) -> bool:
    """Whether food is on it, or is still to come."""
    return any(
        on == machine and state.steps[c][i].ended is None and c not in state.skipped
        for c, row in enumerate(state.tables.machines)
        for i, on in enumerate(row)
    )


def _used(state: CookState, machine: int) -> bool:
    return state.appliances[machine].on is not None or state.schedule.on[machine] is not None


def _cue(
    state: CookState, key: CueKey, at: int, words: tuple[str, str], display: int | None = None
) -> Cue:
    name = state.appliance(key.owner).name
    return Cue(key, at, words[0], name, words[1], name, None, display)


def _heating_cues(state: CookState, machine: int) -> Iterator[Due]:
    plan, real = state.appliance(machine), state.appliances[machine]
    if not plan.preheat or real.ready is not None:
        return
    on = real.on
    if on is None:
        on = state.schedule.on[machine]
        if on is None:
            return
        yield Due(CueKey("preheat", machine), on, _preheat)
    if real.stopped is not None:
        return
    at = max(on + plan.preheat, real.ready_from)
    yield Due(CueKey("ready", machine), at, _ready)


def _preheat(state: CookState, key: CueKey, at: int) -> Cue:
    how = stage_words(state, key.owner, 0) if state.appliance(key.owner).stages else ""
    return _cue(state, key, at, ("SWITCH ON", how))


def _ready(state: CookState, key: CueKey, at: int) -> Cue:
    return _cue(state, key, at, ("READY?", "is it up to heat?"))


def _stage_cues(state: CookState, machine: int) -> Iterator[Due]:
    plan, real = state.appliance(machine), state.appliances[machine]
    bounds = state.schedule.bounds[machine]
    for stage in range(len(plan.stages)):
        if stage < len(real.stages) and not _undialled(state, machine, stage):
            continue
        if stage == 0 and plan.preheat and plan.stages[0].time is None:
            continue
        at = real.stages[stage] if stage < len(real.stages) else _bound(bounds, stage)
        if at is not None:
            if stage >= len(real.stages) and _tied_food_in(state, machine, stage):
                at = max(at, state.at + NOT_YET)
            yield Due(CueKey("mode", machine, stage), at, _mode)


def _tied_food_in(state: CookState, machine: int, stage: int) -> bool:
    """Whether food that is to leave before this stage is still in: the oven waits for it."""
    for row in state.problem.works:
        for work in row:
            real = state.steps[work.component][work.index]
            tied = work.machine == machine and all(last < stage for _, last in work.runs)
            if tied and work.runs and real.running:
                return True
    return False


def _undialled(state: CookState, machine: int, stage: int) -> bool:
    """Whether the first stage began with its food and its time has not been dialled in yet."""
    real = state.appliances[machine]
    first_only = stage == 0 and len(real.stages) == 1 and real.dial is None
    return first_only and state.appliance(machine).stages[0].time is not None


def _bound(bounds: tuple[int, ...], stage: int) -> int | None:
    return bounds[stage] if stage < len(bounds) - 1 else None


def _mode(state: CookState, key: CueKey, at: int) -> Cue:
    machine, stage = key.owner, key.item
    dial = planned_dial(state, machine, stage)
    how = stage_words(state, machine, stage)
    how += f", set {_dialled(dial)}" if dial is not None else ""
    first = stage == 0 and state.appliances[machine].on is None
    verb = "SWITCH ON" if first and not state.appliance(machine).preheat else "SWITCH"
    if stage == 0 and verb == "SWITCH":
        verb = "START"
    return _cue(state, key, at, (verb, how), dial)


def _dialled(seconds: int) -> str:
    """A time to dial in, which nobody takes for a time of day: "22 min", "9:30"."""
    return minutes(seconds) if seconds % 60 else spoken(seconds)


def _set_cues(state: CookState, machine: int) -> Iterator[Due]:
    """More time to dial in where the food needs longer than the display has left."""
    real = state.appliances[machine]
    zero = dial_zero(state, machine, state.at)
    if zero is None or real.stage is None:
        return
    if _needed(state, machine) > zero or _may_run_out(state, machine, zero):
        yield Due(CueKey("set", machine, real.stage), zero - SET_AHEAD, _set)


def _may_run_out(state: CookState, machine: int, zero: int) -> bool:
    """Whether food that no reading lets leave may still be in when the display reaches 0:00.

    It was to be looked at already, and is expected to end now, or in the last minute before.
    """
    return any(
        on == machine
        and state.steps[c][i].running
        and (first_look_at(state, c, i) or 0) <= state.at
        and not may_leave(state, c, i)
        and not state.at < state.schedule.ends[c][i] < zero - SET_AHEAD
        for c, row in enumerate(state.tables.machines)
        for i, on in enumerate(row)
    )


def _needed(state: CookState, machine: int) -> int:
    """Until when its running stage is needed; 0: no longer."""
    bounds, stage = state.schedule.bounds[machine], state.appliances[machine].stage
    return bounds[stage + 1] if stage is not None and stage + 1 < len(bounds) else 0


def _set(state: CookState, key: CueKey, at: int) -> Cue:
    stages = state.appliance(key.owner).stages
    spare = stages[key.item].spare
    at, needed = max(at, state.at), _needed(state, key.owner)
    seconds = max(needed, at + 2 * SET_AHEAD) - at + spare
    seconds = -(-seconds // 30) * 30
    switching = needed <= at and key.item + 1 < len(stages)
    # To switch dials in new time as well: then there is nothing to set.
    why = "if you do not switch yet" if switching else "or it switches itself off"
    return _cue(state, key, at, (f"SET {minutes(seconds)} ON", why), seconds)
