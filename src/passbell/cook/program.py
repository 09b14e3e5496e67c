"""Whether a program lasts as long as a food needs, and which stage would have to be longer."""

from passbell.plan.model import Plan
from passbell.schedule.model import Contradiction
from passbell.schedule.offers import allowed_runs
from passbell.units import Duration


def longer_stage(plan: Plan, where: tuple[int, int], time: int) -> tuple[int, int, Duration] | None:
    """The stage that must be longer for a food to be in for a time.

    It is the first of those the food is in: what joins later still joins with as much left.

    Args:
        plan: the plan.
        where: component and step, a cook step.
        time: how long the food is to be in, in seconds.

    Returns:
        the places of appliance and stage, and the stage's new time; None: the program lasts.
    """
    place = plan.appliance_index(plan.components[where[0]].steps[where[1]].on or "")
    stages = plan.appliances[place].stages
    try:
        runs = allowed_runs(plan, *where)
    except Contradiction:
        return None
    lasting: list[tuple[int, int]] = []
    for first, last in runs:
        times = [stage.time for stage in stages[first : last + 1] if stage.time is not None]
        if len(times) <= last - first:
            return None
        lasting.append((sum(times), first))
    most, first = max(lasting, default=(time, 0))
    had = stages[first].time if lasting else None
    return (place, first, Duration(had + time - most)) if had is not None and most < time else None
