"""Where limits contradict each other: which to stretch, and by how much.

Rings of arcs that drive themselves on are opened first, by stretching a keep gap on the ring, else
a stage, by exactly what is missing. Where the limits alone agree but hands or slots cannot honour
them, a schedule that ignores keeps and stage ends shows how much is enough, and each stretch is
taken back as far as it can be.
"""

from passbell.schedule.finish import instants
from passbell.schedule.model import Problem, Stretch, StretchKind
from passbell.schedule.net import Arc, Limit, Net, net_of
from passbell.schedule.search import search

Amounts = dict[Limit, int]
KINDS: tuple[StretchKind, ...] = ("keep", "stage", "window")
WIDE = 10**6


def stretches(problem: Problem, effort: int) -> tuple[Stretch, ...]:
    """The stretches of keeps and stages that leave a settled problem with a schedule."""
    amounts = _open_rings(problem)
    if not possible(problem, amounts, effort):
        amounts = _enough(problem, amounts, effort)
    ordered = sorted(amounts, key=lambda limit: (KINDS.index(limit.kind), *limit[1:]))
    return tuple(Stretch(at.kind, at.first, at.second, amounts[at]) for at in ordered)


def _open_rings(problem: Problem) -> Amounts:
    amounts: Amounts = {}
    while (ring := _ring(net_of(problem, amounts, rigid=False))) is not None:
        soft = [arc for arc in ring if arc.limit is not None]
        choice = min(soft, key=lambda arc: _reluctance(problem, arc))
        assert choice.limit is not None, "only soft arcs were chosen from"
        excess = sum(arc.least for arc in ring)
        amounts[choice.limit] = amounts.get(choice.limit, 0) + excess
    return amounts


def _reluctance(problem: Problem, arc: Arc) -> tuple[int, int, int, int]:
    """What to stretch first: keeps before stages, and the keep that allows most already."""
    limit = arc.limit
    assert limit is not None, "only soft arcs are stretched"
    if limit.kind != "keep":
        return KINDS.index(limit.kind), -limit.second, limit.first, 0
    allowed = problem.works[limit.first][limit.second].gap_max or 0
    return 0, -allowed, limit.first, limit.second


def _ring(net: Net) -> list[Arc] | None:
    """Arcs in a ring whose lengths sum to more than nothing; None when there is no such ring."""
    best = [0] * net.size
    came: list[Arc | None] = [None] * net.size
    changed = -1
    for _ in range(net.size + 1):
        changed = -1
        for arc in net.arcs:
            if best[arc.before] + arc.least > best[arc.after]:
                best[arc.after] = best[arc.before] + arc.least
                came[arc.after] = arc
                changed = arc.after
        if changed < 0:
            return None
    return _walk_back(came, changed)


def _walk_back(came: list[Arc | None], node: int) -> list[Arc]:
    for _ in came:
        step = came[node]
        assert step is not None, "a node that still rises has a way back"
        node = step.before
    ring: list[Arc] = []
    here = node
    while not ring or here != node:
        step = came[here]
        assert step is not None, "a ring has no end"
        ring.append(step)
        here = step.before
    return ring


def _enough(problem: Problem, amounts: Amounts, effort: int) -> Amounts:
    """Stretches that hands and slots can live with, each taken back as far as it goes."""
    arcs = net_of(problem, rigid=False).arcs
    limits = [arc.limit for arc in arcs if arc.limit is not None and arc.limit.kind != "window"]
    lost = {limit: by for limit, by in amounts.items() if limit.kind == "window"}
    wide = _used(problem, dict.fromkeys(limits, WIDE) | lost, effort)
    order = sorted(wide, key=lambda limit: (KINDS[::-1].index(limit.kind), *limit[1:]))
    for limit in [limit for limit in order if limit.kind != "window"]:
        wide[limit] = _least(problem, wide, limit, effort, amounts.get(limit, 0))
    return {limit: by for limit, by in wide.items() if by}


def _used(problem: Problem, wide: Amounts, effort: int) -> Amounts:
    """By how much a schedule that ignores the limits passes each of them."""
    net = net_of(problem, wide)
    found = search(net, problem.serve, effort)
    assert found is not None, "without limits from above there is always a schedule"
    at = instants(net, found.reach, problem.serve)
    return {
        arc.limit: at[arc.before] + arc.least + wide[arc.limit] - at[arc.after]
        for arc in net.arcs
        if arc.limit is not None
        and arc.limit.kind != "window"
        and at[arc.before] + arc.least + WIDE > at[arc.after]
    } | {limit: by for limit, by in wide.items() if limit.kind == "window"}


def _least(problem: Problem, wide: Amounts, limit: Limit, effort: int, known: int) -> int:
    """The smallest stretch of one limit, the others as they stand, found by halving."""
    low, high = known, wide[limit]
    if possible(problem, wide | {limit: low}, effort):
        return low
    while high - low > 1:
        middle = (low + high) // 2
        if possible(problem, wide | {limit: middle}, effort):
            high = middle
        else:
            low = middle
    return high


def possible(problem: Problem, amounts: Amounts, effort: int) -> bool:
    """Whether there is any schedule with some limits stretched."""
    return search(net_of(problem, amounts), problem.serve, effort, goals=0) is not None
