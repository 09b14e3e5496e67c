"""What a pause that has just begun would do if it lasted a while: a supposition, never a fact."""

from dataclasses import replace

from passbell.cook.replan import replan
from passbell.cook.state import ApplianceState, CookState, StepState
from passbell.cook.timing import machine_of


def as_if_paused(before: CookState, after: CookState, lasting: int, now: int) -> CookState:
    """The cook as it would be planned if the pause were over after `lasting` seconds.

    What runs takes so much longer, and what is to begin begins no earlier than that: food on an
    appliance whose heat is off, or hands-on work while the cook is away.

    Args:
        before: the cook without the pause.
        after: the cook with the pause begun.
        lasting: how long it is taken to last, in seconds.
        now: the instant at which it begins.
    """
    stopped = {
        i
        for i, (old, new) in enumerate(zip(before.appliances, after.appliances, strict=True))
        if old.stopped is None and new.stopped is not None
    }
    away = before.away is None and after.away is not None
    steps = tuple(
        tuple(
            _paused(real, lasting, now + lasting)
            if _concerned(before, (component, index), stopped, away)
            else real
            for index, real in enumerate(row)
        )
        for component, row in enumerate(before.steps)
    )
    appliances = tuple(
        _longer(before, index, lasting) if index in stopped else real
        for index, real in enumerate(before.appliances)
    )
    supposed = before.but(steps=steps, appliances=appliances)
    return supposed.but(schedule=replan(supposed, now))


def _concerned(state: CookState, where: tuple[int, int], stopped: set[int], away: bool) -> bool:
    kind = state.component(where[0]).steps[where[1]].kind
    if kind == "cook":
        return machine_of(state, *where) in stopped
    return away and kind in ("prep", "finish")


def _paused(real: StepState, lasting: int, until: int) -> StepState:
    if real.began is None:
        return replace(real, release=max(real.release, until))
    return real if real.ended is not None else replace(real, extra=real.extra + lasting)


def _longer(state: CookState, index: int, lasting: int) -> ApplianceState:
    """An appliance whose running stage, or heating up, takes so much longer."""
    real, stage = state.appliances[index], state.appliances[index].stage
    if stage is not None:
        extra = list(real.stage_extra)
        if stage < len(extra):
            extra[stage] += lasting
        return replace(real, stage_extra=tuple(extra))
    if real.on is not None and real.ready is None:
        due = max(real.on + state.appliance(index).preheat, real.ready_from)
        return replace(real, ready_from=due + lasting)
    return real
