"""Solve a stagger: the whole of it before cooking, or what is left of it."""

from dataclasses import replace

from passbell.schedule.explain import contradiction, sentence
from passbell.schedule.facts import settled
from passbell.schedule.finish import schedule_of
from passbell.schedule.model import Problem, Schedule
from passbell.schedule.net import Limit, Net, net_of
from passbell.schedule.relax import stretches
from passbell.schedule.search import search

EFFORT = 4000
"""Nodes that one search may open."""


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
        raise contradiction(clean, [*forced, *stretches(clean, effort)])
    return found


def solve_live(problem: Problem, *, effort: int = EFFORT) -> Schedule:
    """The best schedule of what is left, whatever has happened.

    Limits that what has happened makes impossible are stretched, keep gaps first, then stages;
    each is named in `relaxed` and given in `stretched`. Never raises Contradiction.
    """
    clean, forced = settled(problem)
    found = _best(clean, {}, effort)
    if found is None:
        more = stretches(clean, effort)
        forced = (*forced, *more)
        amounts = {Limit(s.kind, s.first, s.second): s.by for s in more}
        found = _best(clean, amounts, effort)
    assert found is not None, "a stretched problem has a schedule"
    told = tuple(sentence(clean, stretch) for stretch in forced)
    return replace(found, relaxed=told, stretched=forced)


def _best(problem: Problem, amounts: dict[Limit, int], effort: int) -> Schedule | None:
    net = net_of(problem, amounts)
    found = search(net, problem.serve, effort)
    if found is None:
        return None
    schedule = schedule_of(problem, net, found.reach)
    schedule = replace(schedule, proven=not found.short, bound=found.short)
    if problem.serve is not None:
        return schedule
    return replace(schedule, earlier=_earlier(net, schedule, effort))


def _earlier(net: Net, schedule: Schedule, effort: int) -> int | None:
    """The earliest dish-up at all, where the holds cost more than five minutes of it."""
    soonest = search(net, None, effort // 4, table_first=True, goals=1)
    if soonest is None or schedule.dish_up - soonest.figures[0] <= WORTH_SAYING:
        return None
    return soonest.figures[0]
