"""What this cook's own runs say of pieces of another size: times by size, from the record."""

from collections.abc import Iterable, Iterator, Mapping

from passbell.cook.kept import Kept
from passbell.cook.kitchen import Habit
from passbell.cook.lessons import needed_time, teaches
from passbell.heat import OwnTime
from passbell.heat.thickness import ALIKE
from passbell.plan.model import Component, Plan, Step

OwnTimes = Mapping[tuple[int, int], tuple[OwnTime, ...]]
"""By component and step: what pieces of another size than the plan's needed."""


def own_times(plan: Plan, runs: Iterable[Kept], habits: tuple[Habit, ...] = ()) -> OwnTimes:
    """The times that runs showed for pieces of another size than the plan was tested with.

    Only food that was just right, or whose readings tell the time, counts, and only where the
    appliance was set as the plan sets it. Pieces of the plan's own size are left to the kitchen's
    pace.

    Args:
        plan: as its file says now.
        runs: of this plan; rehearsals do not count.
        habits: of the kitchen, where plans are cooked with them: their share of a time is taken
            out, for it is put in again when the cook begins.
    """
    found: dict[tuple[int, int], tuple[OwnTime, ...]] = {}
    paces = {habit.appliance: habit.pace for habit in habits}
    for kept in runs:
        for index, dish in enumerate(plan.components):
            for place, seconds in _times(plan, dish, kept):
                pace = paces.get(dish.steps[place].on or "", 1.0)
                size = _cooked_as(kept, dish).size
                assert size is not None
                one = OwnTime(size.mm, seconds / pace, kept.source.run)
                found[index, place] = (*found.get((index, place), ()), one)
    return found


def other_size(plan: Plan, cooked: Plan) -> bool:
    """Whether a run was cooked with pieces of another size than the plan says."""
    there = {dish.name: dish.size for dish in cooked.components}
    return any(_otherwise(dish, there.get(dish.name)) for dish in plan.components)


def _otherwise(dish: Component, size: object) -> bool:
    mm = getattr(size, "mm", None)
    if dish.size is None or mm is None:
        return False
    return bool(abs(mm / dish.size.mm - 1) > ALIKE)


def _cooked_as(kept: Kept, dish: Component) -> Component:
    return next(c for c in kept.plan.components if c.name == dish.name)


def _times(plan: Plan, dish: Component, kept: Kept) -> Iterator[tuple[int, int]]:
    """The steps of a component whose time this run tells, with that time in seconds."""
    real = kept.component(dish.name)
    if real is None or not teaches(kept):
        return
    cooked = _cooked_as(kept, dish)
    alike = (dish.food, dish.shape, len(dish.steps)) == (
        cooked.food,
        cooked.shape,
        len(cooked.steps),
    )
    if not alike or not _otherwise(dish, cooked.size):
        return
    for place, (step, written) in enumerate(zip(dish.steps, cooked.steps, strict=True)):
        if step.kind != "cook" or _heat(plan, step) != _heat(kept.plan, written):
            continue
        seconds = needed_time(written, real, real.steps[place])
        if seconds is not None and seconds > 0:
            yield place, seconds


def _heat(plan: Plan, step: Step) -> tuple[object, ...]:
    """What a step is cooked by."""
    oven = next((a for a in plan.appliances if a.name == step.on), None)
    stages = [(s.name, s.mode, s.temp) for s in oven.stages] if oven is not None else []
    return (step.kind, step.on, step.stage, step.mode, step.temp, step.until, stages)
