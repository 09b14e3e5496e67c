"""Raw meat and what lies beside it on one tray."""

from passbell.cook.state import CookState
from passbell.cook.verdicts import may_leave, verdict
from passbell.safety.foods import is_raw_meat


def on_the_heat(state: CookState, component: int) -> int | None:
    """Index of the cook step a component is in now; None: it is not on the heat."""
    for index, step in enumerate(state.steps[component]):
        if step.running and state.component(component).steps[index].kind == "cook":
            return index
    return None


def is_raw(state: CookState, component: int) -> bool:
    """Whether it is meat, poultry or fish that has not reached its minimum."""
    food = state.component(component).food
    if not is_raw_meat(food):
        return False
    step = on_the_heat(state, component)
    last = step is not None and step == state.component(component).last_cook
    proven = may_leave(state, component, step) if last and step is not None else True
    return verdict(state, component).verdict != "met" or not proven


def held_by(state: CookState, component: int, step: int) -> tuple[tuple[int, int], ...]:
    """The raw meat, (component, step) each, that a component shares its tray with now."""
    plan = state.component(component)
    found = []
    for other, neighbour in enumerate(state.plan.components):
        index = on_the_heat(state, other)
        if other == component or index is None or neighbour.shares != plan.shares:
            continue
        if neighbour.steps[index].on == plan.steps[step].on and is_raw(state, other):
            found.append((other, index))
    return tuple(found)
