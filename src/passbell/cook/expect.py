"""When a step that is under way is expected to end, by what is known now."""

from passbell.cook.neighbours import held_by, raw_left
from passbell.cook.state import CookState
from passbell.cook.timing import expected_time, look_interval
from passbell.cook.verdicts import (
    is_gated,
    may_leave,
    reached_until,
    readings_of,
    rest_until,
    was_read,
)


def expected_end(state: CookState, component: int, step: int, now: int) -> int:
    """The instant at which a running step is expected to end, never before `now`.

    A rest also lasts its safety rest; food that must be probed stays until its reading allows it;
    food on one tray with raw meat stays with the meat, and a while if that leaves raw.
    """
    plan, real = state.step(component, step)
    assert real.began is not None
    end = real.began + expected_time(state, component, step, now)
    if plan.kind == "cook":
        end = _cook_end(state, (component, step), end)
    elif plan.kind == "rest":
        end = max(end, safety_rest_end(state, component) or 0)
    return max(end, now)


def _cook_end(state: CookState, where: tuple[int, int], end: int) -> int:
    component, step = where
    real = state.steps[component][step]
    if is_gated(state, component, step):
        if not may_leave(state, component, step):
            end = max(end, next_look(state, component, step) or 0)
        elif reached_until(state, component, step):
            end = min(end, last_reading(state, component))
    for other, index in held_by(state, component, step):
        meat = state.steps[other][index]
        assert meat.began is not None
        base = meat.began + expected_time(state, other, index, state.at)
        end = max(end, base, next_look(state, other, index) or 0)
    touched = raw_left(state, component, step)
    if touched is not None:
        end = max(end, touched[1])
    return max(end, real.began or 0)


def last_reading(state: CookState, component: int) -> int:
    """The instant of the last reading of a component that counts; 0: none."""
    return max((r.at for r in readings_of(state, component)), default=0)


def safety_rest_end(state: CookState, component: int) -> int | None:
    """When the safety rest that the chart asks for is over; None: none is running.

    Meat that is left out of the meal is waited for by nothing; its verdict keeps its rest.
    """
    if not was_read(state, component) or component in state.skipped:
        return None
    return rest_until(state, component)


def first_look_at(state: CookState, component: int, step: int) -> int | None:
    """The planned instant of the first look at a running cook step; None: none is planned."""
    plan, real = state.step(component, step)
    if real.began is None:
        return None
    first = plan.first_look
    if first is None:
        return real.began + plan.time if is_gated(state, component, step) else None
    return real.began + first


def next_look(state: CookState, component: int, step: int) -> int | None:
    """When to look at a running cook step next; None: there is nothing to look for any more.

    Heat that was off puts no look off: meanwhile the food cooled, or went on cooking.
    """
    plan, real = state.step(component, step)
    first = first_look_at(state, component, step)
    if first is None or not real.running:
        return None
    gated = is_gated(state, component, step)
    if not real.looks:
        return real.look_at if real.look_at is not None else first
    if not gated or may_leave(state, component, step):
        return None
    if real.look_at is not None:
        return real.look_at
    assert real.began is not None
    end = real.began + plan.time + real.extra
    return max(end, real.looks[-1] + look_interval(plan.time))
