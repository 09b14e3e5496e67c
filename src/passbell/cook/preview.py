"""What a change does to everything else, before it is taken."""

from dataclasses import dataclass
from typing import Literal

from passbell.cook.state import CookState
from passbell.cook.wording import later

Thing = Literal["component", "mode", "rest", "dish_up"]


@dataclass(frozen=True, slots=True)
class Effect:
    """What a change does to one thing.

    Attributes:
        thing: what kind of thing.
        name: component, mode change or rest.
        change: seconds later (positive) or earlier (negative).
        words: the change in words.
    """

    thing: Thing
    name: str
    change: int
    words: str


def effects(before: CookState, after: CookState) -> tuple[Effect, ...]:
    """Every component, mode change, rest and dish-up, in that order, and by how much it moves.

    Args:
        before: the cook at this instant without the change.
        after: the cook at this instant with it.
    """
    found = [*_components(before, after), *_modes(before, after), *_rests(before, after)]
    change = after.schedule.dish_up - before.schedule.dish_up
    return (*found, Effect("dish_up", "dish-up", change, later(change)))


def _components(before: CookState, after: CookState) -> list[Effect]:
    found = []
    for index, component in enumerate(before.plan.components):
        last = component.last_cook
        old, new = before.schedule.ends[index], after.schedule.ends[index]
        place = last if last is not None else len(component.steps) - 1
        if index in after.skipped or place >= min(len(old), len(new)):
            continue
        if before.steps[index][place].ended is None:
            change = new[place] - old[place]
            found.append(Effect("component", component.name, change, later(change)))
    return found


def _modes(before: CookState, after: CookState) -> list[Effect]:
    found = []
    for index, appliance in enumerate(before.plan.appliances):
        old, new = before.schedule.bounds[index], after.schedule.bounds[index]
        for stage in range(len(before.appliances[index].stages), len(appliance.stages)):
            if 0 < stage < min(len(old), len(new)) - 1:
                change = new[stage] - old[stage]
                name = f"{appliance.name} to {appliance.stages[stage].name}"
                found.append(Effect("mode", name, change, later(change)))
    return found


def _rests(before: CookState, after: CookState) -> list[Effect]:
    found = []
    for index, component in enumerate(before.plan.components):
        for place, step in enumerate(component.steps):
            old, new = before.schedule.ends[index], after.schedule.ends[index]
            if step.kind != "rest" or place >= min(len(old), len(new)):
                continue
            if before.steps[index][place].ended is None and new[place] != old[place]:
                change = new[place] - old[place]
                found.append(Effect("rest", f"{component.name}, rest over", change, later(change)))
    return found


def warnings(before: CookState, after: CookState) -> tuple[str, ...]:
    """What the change stretches that the plan did not allow, in sentences."""
    known = set(before.schedule.relaxed)
    return tuple(text for text in after.schedule.relaxed if text not in known)
