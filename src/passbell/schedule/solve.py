"""Solve a stagger: the whole of it before cooking, or what is left of it."""

from dataclasses import replace

from passbell.schedule.explain import contradiction, sentence
from passbell.schedule.facts import settled
from passbell.schedule.finish import instants_in, schedule_of
from passbell.schedule.model import Problem, Schedule
from passbell.schedule.net import Limit, Net, net_of
from passbell.schedule.relax import Care, enough, named, open_rings, stretches
from passbell.schedule.search import Aim, Found, search

EFFORT = 2000
"""Nodes that one search may open before cooking."""
LIVE_EFFORT = 30
"""Nodes that one search may open during a cook, when the last order of work is near the best."""
TRIES = 4
"""How often a stretch is taken back during a cook: to a sixteenth of what is too much."""
WORTH_SAYING = 300
"""Seconds of dish-up that keeping within the holds may cost unsaid (five minutes)."""


def solve(problem: Problem, *, effort: int = EFFORT) -> Schedule:
    """The best schedule of a meal, or of what is left of it.

    Args:
        problem: the meal, with facts or without.
        effort: how many nodes the search may open; the answer says whether it is proven.

    Raises:
        Contradiction: when no schedule satisfies every limit.
    """
    clean, forced = settled(problem)
    found = _best(clean, {}, effort) if not forced else None
    if found is None:
        raise contradiction(clean, [*forced, *stretches(clean, Care(effort))])
    return found


def solve_live(
    problem: Problem, *, like: Schedule | None = None, effort: int = LIVE_EFFORT
) -> Schedule:
    """The best schedule of what is left, whatever has happened.

    Limits that what has happened makes impossible are stretched, keep gaps first, then stages;
    each is named in `relaxed` and given in `stretched`. Never raises Contradiction.

    Args:
        problem: the meal, with facts or without.
        like: the schedule in force; its order of work is where the search begins, so that a
            small change costs little and equal orders do not change places.
        effort: how many nodes the search may open.
    """
    clean, forced = settled(problem)
    # What had to be stretched mostly has to be still: rings are proof that nothing fits without.
    amounts = open_rings(clean) if like is not None and like.stretched else {}
    found = _best(clean, amounts, effort, like)
    if found is None and not amounts:
        amounts = open_rings(clean)
        found = _best(clean, amounts, effort, like) if amounts else None
    if found is None:
        amounts = enough(clean, amounts, Care(effort // 2, TRIES, like))
        found = _best(clean, amounts, effort, like)
    assert found is not None, "a stretched problem has a schedule"
    forced = (*forced, *named(amounts))
    told = tuple(sentence(clean, stretch) for stretch in forced)
    return replace(found, relaxed=told, stretched=forced)


def _best(
    problem: Problem, amounts: dict[Limit, int], effort: int, like: Schedule | None = None
) -> Schedule | None:
    net = net_of(problem, amounts)
    order = None if like is None else instants_in(net, like)
    found = search(net, problem.serve, effort, like=order)
    if found is None:
        return None
    schedule = schedule_of(problem, net, found.reach)
    schedule = replace(schedule, proven=not found.short, bound=found.short)
    if problem.serve is not None:
        return schedule
    return replace(schedule, earlier=_earlier(net, schedule, found, effort))


def _earlier(net: Net, schedule: Schedule, found: Found, effort: int) -> int | None:
    """The earliest dish-up at all, where the holds cost more than five minutes of it."""
    order = found.reach.latest(schedule.dish_up)
    soonest = search(net, None, effort // 4, aim=Aim(1, table_first=True), like=order)
    if soonest is None or schedule.dish_up - soonest.figures[0] <= WORTH_SAYING:
        return None
    return soonest.figures[0]
