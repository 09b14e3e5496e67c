"""How late a step may start without costing anybody anything."""

from passbell.schedule.facts import lasting, settled
from passbell.schedule.model import Problem, Schedule, Work
from passbell.schedule.net import busy_hands

Busy = list[tuple[int, int]]


def slacks(problem: Problem, schedule: Schedule) -> tuple[tuple[int, ...], ...]:
    """Per component and step, how many seconds later than planned it may start.

    For every later start within that time there is a schedule with the same dish-up and the same
    stage boundaries in which every other component stays as it is: only the later steps of this
    one move with it, where they must. A step that has begun has none.
    """
    clean, _ = settled(problem)
    return tuple(_chain_slacks(clean, schedule, c) for c in range(len(clean.works)))


def _chain_slacks(problem: Problem, schedule: Schedule, component: int) -> tuple[int, ...]:
    chain, starts = problem.works[component], schedule.starts[component]
    found: list[int] = []
    limit = schedule.dish_up
    for place in range(len(chain) - 1, -1, -1):
        work, start = chain[place], starts[place]
        if work.began is not None:
            found.append(0)
            continue
        latest = min(limit - work.gap_min - work.time, _room(problem, schedule, work, start))
        limit = latest
        found.append(max(0, min(latest, _kept(chain, schedule, place)) - start))
    return tuple(reversed(found))


def _kept(chain: tuple[Work, ...], schedule: Schedule, place: int) -> int:
    """The latest start that the keep of the step before allows."""
    gap = chain[place - 1].gap_max if place else None
    if gap is None:
        return schedule.dish_up
    component = chain[place].component
    end = schedule.ends[component][place - 1]
    return max(schedule.starts[component][place], end + gap)


def _room(problem: Problem, schedule: Schedule, work: Work, start: int) -> int:
    """The latest start that hands, slots and stages leave it, the others as planned."""
    latest = schedule.dish_up - work.time
    if work.hands:
        busy = _others(problem, schedule, work, None)
        latest = min(latest, _full_from(busy, problem.hands, start) - work.hands)
    if work.machine is None:
        return latest
    machine = problem.machines[work.machine]
    if machine.holds is not None and work.time:
        busy = _others(problem, schedule, work, work.machine)
        latest = min(latest, _full_from(busy, machine.holds, start) - work.time)
    bounds = schedule.bounds[work.machine]
    if work.runs and machine.stages:
        ends = [bounds[b + 1] for a, b in work.runs if bounds[a] <= start]
        fitting = [end for end in ends if start + work.time <= end]
        latest = min(latest, min(fitting, default=start + work.time) - work.time)
    return latest


def _others(problem: Problem, schedule: Schedule, work: Work, machine: int | None) -> Busy:
    """When the other components take a pair of hands, or a slot of a machine."""
    found: Busy = []
    for chain in problem.works:
        for place, other in enumerate(chain):
            if other.component == work.component:
                continue
            begins = schedule.starts[other.component][place]
            if machine is None:
                found.append((begins, begins + busy_hands(other)))
            elif other.machine == machine:
                found.append((begins, begins + lasting(other)))
    return found


def _full_from(busy: Busy, places: int, start: int) -> int:
    """The first moment, from a start on, at which the others take every place."""
    moments = sorted(begins for begins, ends in busy if ends > begins >= start)
    for moment in moments:
        if sum(begins <= moment < ends for begins, ends in busy) >= places:
            return moment
    return 10**9
