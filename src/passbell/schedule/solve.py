"""Solve a stagger: the whole of it before cooking, or what is left of it."""

from dataclasses import replace

from passbell.schedule.facts import settled
from passbell.schedule.finish import schedule_of
from passbell.schedule.model import Problem, Schedule
from passbell.schedule.net import Limit, Net, net_of
from passbell.schedule.relax import contradiction, sentence, stretches
from passbell.schedule.search import Search

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
    found = Search(net, problem.serve, effort).run()
    if found is None:
        return None
    schedule = schedule_of(problem, net, found.reach)
    gaps = [f - b for f, b in zip(found.figures, found.bound, strict=True)]
    bound = next((gap for gap in gaps if gap), 0)
    earlier = _earlier(net, schedule, effort) if problem.serve is None else None
    return replace(schedule, proven=not bound, bound=abs(bound), earlier=earlier)


def _earlier(net: Net, schedule: Schedule, effort: int) -> int | None:
    """The earliest dish-up at all, where the holds cost more than five minutes of it."""
    if not schedule.over_hold and not net.pools:
        return None
    soonest = Search(net, None, effort, table_first=True).run()
    if soonest is None or schedule.dish_up - soonest.figures[0] <= WORTH_SAYING:
        return None
    return soonest.figures[0]
