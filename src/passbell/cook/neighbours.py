"""Raw meat and what lies beside it on one tray."""

from passbell.cook.state import CookState
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


def _out_unproven(state: CookState, component: int) -> int | None:
    """The last cook step of food off the heat without its minimum read; None: it is not such."""
    last = state.tables.last_cook[component]
    if last is None or component in state.skipped or state.steps[component][last].ended is None:
        return None
    enough = verdict(state, component).verdict in ("met", "no_figure")
    return None if enough or not has_minimum(state, component) else last
