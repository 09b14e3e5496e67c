"""Perishable food that waits: since when, and how long it had when the meal was over."""

from dataclasses import dataclass

from passbell.cook.state import CookState
from passbell.cook.timing import expected_time
from passbell.plan.model import Step
from passbell.safety.cold_words import keeps_cold
from passbell.safety.foods import is_perishable
from passbell.safety.waiting import Waiting, stood_words, waiting, waits_since


@dataclass(frozen=True, slots=True)
class _Way:
    """When a component left the fridge, went on the heat and left it, last; None: it has not.

    What it spent in the fridge again before the heat is added to when it left the fridge.
    """

    left_fridge: int | None
    went_on: int | None
    left_heat: int | None


def chilled_after(step: Step) -> int | None:
    """Seconds from its start after which a step's food is in the fridge; None: it is not.

    By the step's own words; while hands are at it, it is outside.
    """
    if step.kind not in ("prep", "rest") or not keeps_cold(step.text):
        return None
    return step.hands_time


def _way(state: CookState, index: int, now: int) -> _Way | None:
    """The way of food that does not keep at room temperature; None: this keeps."""
    plan, steps = state.component(index), state.steps[index]
    cooking = [s for s, p in zip(steps, plan.steps, strict=True) if p.kind == "cook"]
    went_on = max((s.began for s in cooking if s.began is not None), default=None)
    if not is_perishable(plan.food, cooked=went_on is not None):
        return None
    left_heat = max((s.ended for s in cooking if s.ended is not None), default=None)
    return _Way(_left_fridge(state, index, now), went_on, left_heat)


def _left_fridge(state: CookState, index: int, now: int) -> int | None:
    """When it left the fridge for a prep or a rest before the heat; None: it has not.

    Later by what it has spent in the fridge since: what it was outside is added up. Nobody says
    when it is put there but the words of a step, so no other time counts as spent there.
    """
    plan, left = state.component(index), None
    for i, (step, real) in enumerate(zip(plan.steps, state.steps[index], strict=True)):
        heated = plan.first_cook is not None and i > plan.first_cook
        counts = step.kind == "prep" or (step.kind == "rest" and not heated)
        if not counts or real.began is None:
            continue
        chilled = None if heated else chilled_after(step)
        if left is None and chilled == 0:
            continue
        left = real.began if left is None else left
        if chilled is not None:
            expected = real.began + expected_time(state, index, i, now)
            until = min(expected, now if real.ended is None else real.ended)
            left += max(0, until - real.began - chilled)
    return left


def waits_now(state: CookState, index: int, now: int) -> Waiting | None:
    """Perishable food that has been out of the fridge and off the heat for long; None: it is not.

    Args:
        state: the cook.
        index: the component.
        now: the engine instant.
    """
    way = _way(state, index, now)
    if way is None or state.served is not None:
        return None
    since = waits_since(way.left_fridge, way.went_on, way.left_heat)
    return waiting(since, now) if since is not None else None


def stood_too_long(state: CookState, index: int) -> str:
    """That a component waited too long before dish-up, for the record; empty: it did not.

    Args:
        state: the cook; while it goes on, what stands now is said by `waits_now`.
        index: the component.
    """
    if state.served is None or index in state.skipped:
        return ""
    way = _way(state, index, state.served)
    if way is None:
        return ""
    since = waits_since(way.left_fridge, way.went_on, way.left_heat)
    return stood_words(state.served - since) if since is not None else ""
