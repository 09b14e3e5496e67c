"""Raw meat and what lies beside it on one tray."""

from passbell.cook.state import CookState
from passbell.cook.timing import expected_time, look_interval
from passbell.cook.verdicts import has_minimum, proven, verdict


def on_the_heat(state: CookState, component: int) -> int | None:
    """Index of the cook step a component is in now; None: it is not on the heat."""
    for index, step in enumerate(state.steps[component]):
        if step.running and state.component(component).steps[index].kind == "cook":
            return index
    return None


def is_raw(state: CookState, component: int) -> bool:
    """Whether it is meat, poultry or fish that has not reached its minimum."""
    if not state.tables.raw[component]:
        return False
    step = on_the_heat(state, component)
    last = step is not None and step == state.tables.last_cook[component]
    return verdict(state, component).verdict != "met" or (last and not proven(state, component))


def held_by(state: CookState, component: int, step: int) -> tuple[tuple[int, int], ...]:
    """The raw meat, (component, step) each, whose tray a component shares.

    Meat that was taken out below its minimum counts until it is put back and done, or left out.
    """
    plan, machines = state.component(component), state.tables.machines
    found = []
    for other, neighbour in enumerate(state.plan.components):
        if other == component or not state.tables.raw[other] or neighbour.shares != plan.shares:
            continue
        index = on_the_heat(state, other)
        if index is None:
            index = _out_unproven(state, other)
        if index is None or machines[other][index] != machines[component][step]:
            continue
        if is_raw(state, other):
            found.append((other, index))
    return tuple(found)


def raw_left(state: CookState, component: int, step: int) -> tuple[int, int] | None:
    """The raw meat that left a tray for good while food lay on it: (whose, until when it stays).

    What raw meat has touched stays in as long as that meat was to stay, and no less than one waits
    between two looks after it left (ours). That passes nothing: no chart has a figure for it.
    None: nothing of the kind happened on this tray.
    """
    plan, real = state.component(component), state.steps[component][step]
    machines, began = state.tables.machines, real.began
    found = []
    for other, neighbour in enumerate(state.plan.components):
        if other == component or not state.tables.raw[other] or neighbour.shares != plan.shares:
            continue
        for index, meat in enumerate(state.steps[other]):
            left = meat.ended_noted
            if machines[other][index] != machines[component][step] or left is None:
                continue
            if began is not None and began < left and _left_raw(state, other, index):
                found.append((_touched_until(state, other, index), other))
    return (max(found)[1], max(found)[0]) if found else None


def _touched_until(state: CookState, other: int, index: int) -> int:
    plan, real = state.step(other, index)
    assert real.began is not None
    assert real.ended_noted is not None
    to_stay = real.began + expected_time(state, other, index, real.ended_noted)
    return max(to_stay, real.ended_noted + look_interval(plan.time))


def _left_raw(state: CookState, component: int, step: int) -> bool:
    """Whether it left the heat for good as raw meat: left out of the meal, or cooked on elsewhere.

    Meat that may yet go back on the tray is `held_by`'s.
    """
    if step != state.tables.last_cook[component]:
        left = state.steps[component][step].ended_noted
        return left is not None and not proven(state, component, by=left)
    return component in state.skipped and verdict(state, component).verdict != "met"


def _out_unproven(state: CookState, component: int) -> int | None:
    """The last cook step of food off the heat without its minimum read; None: it is not such."""
    last = state.tables.last_cook[component]
    if last is None or component in state.skipped or state.steps[component][last].ended is None:
        return None
    enough = verdict(state, component).verdict in ("met", "no_figure")
    return None if enough or not has_minimum(state, component) else last
