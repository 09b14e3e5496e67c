"""What carrying out a cue changes in the state: one small function a kind of cue.

Each can be applied again with another instant, so that *earlier* is the same act at its true time.
"""

from collections.abc import Callable
from dataclasses import replace

from passbell.cook.cue import CueKey
from passbell.cook.state import ApplianceState, CookState, StepState
from passbell.cook.timing import expected_time, idle_time, look_interval, machine_of, off_time

Place = Callable[[CookState, CueKey, int, int], CookState]
"""(state, key, happened, noted) → state."""


def place_act(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    """The state with the act of a cue done at `happened`, recorded at `noted`."""
    return _PLACES[key.kind](state, key, happened, noted)


def begin_step(state: CookState, where: tuple[int, int], happened: int, noted: int) -> CookState:
    """The state with a step begun."""
    step = state.steps[where[0]][where[1]]
    return state.with_step(*where, replace(step, began=happened, began_noted=noted))


def end_step(state: CookState, where: tuple[int, int], happened: int, noted: int) -> CookState:
    """The state with a step ended, what stood still settled, and a rest after it begun."""
    component, index = where
    step = state.steps[component][index]
    step = replace(
        step,
        off=_off_by(state, where, happened),
        idle=idle_time(state, step, happened),
        ended=happened,
        ended_noted=noted,
    )
    state = state.with_step(component, index, step)
    following = index + 1
    steps = state.component(component).steps
    if following < len(steps) and steps[following].kind == "rest":
        return begin_step(state, (component, following), happened, noted)
    return state


def _off_by(state: CookState, where: tuple[int, int], happened: int) -> int:
    """Seconds the heat was off until a step ended; told again, what lay after that is not."""
    real, machine = state.steps[where[0]][where[1]], machine_of(state, *where)
    if real.ended is None or machine is None:
        return off_time(state, *where, happened)
    heater = state.appliances[machine]
    stopped = heater.stopped if heater.stopped is not None else real.ended
    spans = (*heater.still, (stopped, real.ended))
    return real.off - sum(max(0, min(b, real.ended) - max(a, happened)) for a, b in spans)


def go_back(state: CookState, where: tuple[int, int], now: int) -> CookState:
    """The state with a cook step going on after its food was out: that time was without heat.

    It stays at least as long as one waits between looks, is looked at no earlier than was said
    before it came out, and what came after it begins anew.
    """
    component, index = where
    real = state.steps[component][index]
    assert real.began is not None
    assert real.ended is not None
    machine = machine_of(state, component, index)
    assert machine is not None
    heater = replace(state.appliances[machine], switched_off=None)
    off = real.off + now - real.ended
    if heater.stopped is not None:
        off -= now - max(heater.stopped, real.began)
    apart = (*real.apart, (real.ended, now))
    stay = now + look_interval(state.component(component).steps[index].time)
    wash = len(state.component(component).steps[index].during)
    real = replace(
        real,
        ended=None,
        ended_noted=None,
        off=off,
        apart=apart,
        look_at=max(stay, real.look_at or 0),
        acted=real.acted - {wash},
    )
    state = state.with_appliance(machine, heater).with_step(component, index, real)
    assert real.began is not None
    short = stay - real.began - expected_time(state, component, index, now)
    if short > 0:
        state = state.with_step(component, index, replace(real, extra=real.extra + short))
    return _after_anew(state, component, index + 1)


def _after_anew(state: CookState, component: int, first: int) -> CookState:
    """The state with what follows a step not begun; what the cook added to it stays."""
    for index in range(first, len(state.steps[component])):
        old = state.steps[component][index]
        state = state.with_step(component, index, StepState(extra=old.extra, release=old.release))
        over = CueKey("rest_over", component, index).id
        state = state.but(closed=state.closed - {over}).with_cue(over, None)
    return state


def _prep(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    act = begin_step if key.part == "begin" else end_step
    return act(state, (key.owner, key.item), happened, noted)


def _add(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    """Food in: by that its appliance is on and hot, and the first stage has begun.

    What the act itself set before (told earlier, set again) moves with it.
    """
    before = state.steps[key.owner][key.item].began
    state = begin_step(state, (key.owner, key.item), happened, noted)
    on = state.component(key.owner).steps[key.item].on
    assert on is not None
    machine = state.plan.appliance_index(on)
    real = state.appliances[machine]
    real = replace(
        real,
        on=happened if real.on in (None, before) else real.on,
        ready=happened if real.ready in (None, before) else real.ready,
        switched_off=None,
    )
    if state.appliance(machine).stages and real.stages in ((), (before,)):
        real = replace(real, stages=(happened,))
    return state.with_appliance(machine, real)


def _mode(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    """A stage begins: what the cook dials in is what the display shows.

    The first stage begins with the first food or with its own cue; the cue has the last word.
    """
    real = state.appliances[key.owner]
    planned = state.appliance(key.owner).stages[key.item]
    stages = real.stages
    if key.item > 0 or len(stages) <= 1:
        missing = (happened,) * (key.item - len(stages))
        stages = (*stages[: key.item], *missing, happened)
    before = stages_before(real, key.item)
    dial = None
    if planned.time is not None:
        dial = (happened, planned.time + real.stage_extra[key.item] + planned.spare)
    real = replace(
        real,
        on=happened if real.on in (None, before) else real.on,
        ready=happened if real.ready in (None, before) else real.ready,
        stages=stages,
        dial=dial,
        dial_off=0,
    )
    return state.with_appliance(key.owner, real)


def stages_before(real: ApplianceState, stage: int) -> int | None:
    """When a stage was said to begin before it is said again; None: it was not yet."""
    return real.stages[stage] if stage < len(real.stages) else None


def _preheat(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    return state.with_appliance(key.owner, replace(state.appliances[key.owner], on=happened))


def _ready(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    return state.with_appliance(key.owner, replace(state.appliances[key.owner], ready=happened))


def _off(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    real = replace(state.appliances[key.owner], switched_off=happened, dial=None, stopped=None)
    return state.with_appliance(key.owner, real)


def _during(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    step = state.steps[key.owner][key.item]
    others = tuple(pair for pair in step.acted_at if pair[0] != key.n)
    new = replace(step, acted=step.acted | {key.n}, acted_at=(*others, (key.n, happened)))
    return state.with_step(key.owner, key.item, new)


def _look(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    step = state.steps[key.owner][key.item]
    looks = (*step.looks[: key.n], happened)
    return state.with_step(key.owner, key.item, replace(step, looks=looks, look_at=None))


def _take_out(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    return end_step(state, (key.owner, key.item), happened, noted)


def _set(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    """Nothing by itself: the engine records what the display reads as a fact of its own."""
    return state


def _close(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    return state.but(closed=state.closed | {key.id})


def _dish_up(state: CookState, key: CueKey, happened: int, noted: int) -> CookState:
    return state.but(served=happened)


def running_idle(state: CookState, now: int) -> tuple[tuple[StepState, ...], ...]:
    """All steps with the time that hands stood still until now settled."""
    return tuple(
        tuple(
            replace(s, idle=idle_time(state, s, now))
            if s.running and state.component(c).steps[i].kind in ("prep", "finish")
            else s
            for i, s in enumerate(row)
        )
        for c, row in enumerate(state.steps)
    )


_PLACES: dict[str, Place] = {
    "preheat": _preheat,
    "ready": _ready,
    "prep": _prep,
    "finish": _prep,
    "add": _add,
    "mode": _mode,
    "during": _during,
    "check": _look,
    "probe": _look,
    "set": _set,
    "take_out": _take_out,
    "rest_over": _close,
    "call": _close,
    "off": _off,
    "dish_up": _dish_up,
}
