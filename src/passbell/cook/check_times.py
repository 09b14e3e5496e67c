"""What the best schedule of a plan still leaves to be desired."""

from collections.abc import Iterator

from passbell.cook.state import CookState
from passbell.cook.waits import chilled_after
from passbell.cook.wording import spoken
from passbell.plan.findings import Finding, Severity
from passbell.plan.layer import Spans, layers
from passbell.plan.model import Component, Plan
from passbell.safety.foods import is_perishable
from passbell.safety.shipped import table
from passbell.safety.waiting import fridge_until, waiting_limit, warn_at
from passbell.schedule.late import why_late
from passbell.schedule.model import Schedule
from passbell.units import Temperature, quoted

HOT_ROOM = Temperature(table().handling.one_hour_above_f + 1, "F")
"""A room in which food may wait for an hour only: over 90 °F, 32 °C (FSIS, FoodSafety.gov)."""

TOO_LONG_IF_HOT = "too long in a room over 90 °F (32 °C), where one hour is the most"
"""Nobody tells the program how warm the kitchen is, so the plan's waits are named."""


def time_findings(plan: Plan, state: CookState) -> Iterator[Finding]:
    """Layers, lateness, and the waits of every component in the schedule of a fresh cook.

    Args:
        plan: as read from its file.
        state: a cook of it that has just begun.
    """
    yield from layers(plan, spans_of(state.plan, state.schedule))
    if state.schedule.late:
        text = why_late(state.problem, state.schedule).rstrip(".")
        yield Finding("error", None, text, "serve later, or take less on")
    for index, component in enumerate(state.plan.components):
        yield from _over_hold(state, index, component)
        yield from _to_the_fridge(state, index, component)
        yield from _out_before(state, index, component)
        yield from _long_wait(state, index, component)


def spans_of(plan: Plan, schedule: Schedule) -> Spans:
    """From when to when each step that is on an appliance lasts."""
    return {
        (c, i): (schedule.starts[c][i], schedule.ends[c][i])
        for c, component in enumerate(plan.components)
        for i, step in enumerate(component.steps)
        if step.kind == "cook"
    }


def _over_hold(state: CookState, index: int, component: Component) -> Iterator[Finding]:
    """More asked of the hands or the appliances at once than they can do."""
    last = component.last_cook
    if last is None:
        return
    after = sum(step.time for step in component.steps[last + 1 :])
    wait = state.schedule.dish_up - state.schedule.ends[index][last] - after
    if wait > component.hold:
        over = spoken(wait - component.hold)
        text = f"even the best schedule lets it wait {spoken(wait)}, {over} beyond its hold"
        mend = "raise its `hold`, prepare more ahead, or give the plan two `hands`"
        yield Finding("warning", component.name, text, mend)


def _to_the_fridge(state: CookState, index: int, component: Component) -> Iterator[Finding]:
    """Raw meat, or other food that needs the fridge, prepared long before it goes on the heat."""
    first = component.first_cook
    if first is None or not is_perishable(component.food):
        return
    preps = [i for i in range(first) if component.steps[i].kind == "prep"]
    starts, ends = state.schedule.starts[index][first], state.schedule.ends[index]
    if preps and fridge_until(ends[preps[-1]], starts) is not None:
        gap = spoken(starts - ends[preps[-1]])
        text = f"prepared {gap} before it goes on the heat: into the fridge meanwhile"
        yield Finding("note", component.name, text, "")


def _out_before(state: CookState, index: int, component: Component) -> Iterator[Finding]:
    """Food out of the fridge for two hours, or nearly, before its heat, or the plate without."""
    if not is_perishable(component.food):
        return
    first, mend = component.first_cook, "put it back into the fridge meanwhile"
    before = "it is on the plate" if first is None else "it goes on the heat"
    outside = [step for step in component.steps[:first] if chilled_after(step) is None]
    longest = max(outside, key=lambda step: step.time, default=None)
    if longest is not None and longest.kind == "rest":
        mend = f"do that in the fridge, and add “in the fridge” to {quoted(longest.text)}"
    text = "it is out of the fridge for {} before " + before
    yield from _of_a_wait(component.name, text, mend, _seconds_out(state, index, component))


def _seconds_out(state: CookState, index: int, component: Component) -> int:
    """How long food is outside the fridge before its first heat, or the plate without any.

    A long gap before the heat is not counted: there the cook is told to put it into the fridge.
    """
    first, starts = component.first_cook, state.schedule.starts[index]
    following = (*starts[1:], state.schedule.dish_up)
    out = 0
    for i, step in enumerate(component.steps[:first]):
        end = state.schedule.ends[index][i]
        chilled = chilled_after(step)
        if chilled is not None and chilled < end - starts[i]:
            out += chilled
            continue
        told = first is not None and fridge_until(end, following[i]) is not None
        out += (end if told else following[i]) - starts[i]
    return out


def _long_wait(state: CookState, index: int, component: Component) -> Iterator[Finding]:
    """Cooked food that is off the heat for two hours, or nearly, before it is on the plate."""
    last = component.last_cook
    if last is None or not is_perishable(component.food, cooked=True):
        return
    waited = state.schedule.dish_up - state.schedule.ends[index][last]
    text = "it is off the heat for {} before it is on the plate"
    yield from _of_a_wait(component.name, text, "", waited)


def _of_a_wait(name: str, text: str, mend: str, waited: int) -> Iterator[Finding]:
    """What there is to say of perishable food that waits so long; nothing of a short wait."""
    said = text.format(spoken(waited))
    if waited >= warn_at(0):
        severity: Severity = "error" if waited >= waiting_limit() else "warning"
        most = f"{spoken(waiting_limit())} are the most for perishable food outside the fridge"
        yield Finding(severity, name, said, f"{mend}: {most}" if mend else most)
    elif waited >= waiting_limit(HOT_ROOM):
        yield Finding("note", name, f"{said}: {TOO_LONG_IF_HOT}", "")
