"""Where limits contradict each other: which to stretch, and by how much.

Rings of arcs that drive themselves on are opened first, by stretching a keep gap on the ring, else
a stage, by exactly what is missing. Where the limits alone agree but hands or slots cannot honour
them, a schedule that ignores keeps and stage ends shows how much is enough, and each stretch is
taken back as far as it can be.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from passbell.schedule.finish import instants, instants_in
from passbell.schedule.model import Problem, Schedule, Stretch, StretchKind
from passbell.schedule.net import Arc, Limit, Net, net_of
from passbell.schedule.search import Aim, search

Amounts = dict[Limit, int]
KINDS: tuple[StretchKind, ...] = ("keep", "stage", "window")
WIDE = 10**6


@dataclass(frozen=True, slots=True)
class Care:
    """How much care a search for stretches takes.

    Attributes:
        effort: how many places each question may open.
        tries: how often each stretch is taken back at most, by halves.
        like: a schedule whose order of work is tried first; None: none.
    """

    effort: int
    tries: int = 40
    like: Schedule | None = None


def stretches(problem: Problem, care: Care) -> tuple[Stretch, ...]:
    """The stretches of keeps and stages that leave a settled problem with a schedule."""
    amounts = open_rings(problem)
    if not possible(problem, amounts, care):
        amounts = enough(problem, amounts, care)
    return named(amounts)


def named(amounts: Amounts) -> tuple[Stretch, ...]:
    """The stretches of these amounts, keeps first."""
    ordered = sorted(amounts, key=lambda limit: (KINDS.index(limit.kind), *limit[1:]))
    return tuple(Stretch(at.kind, at.first, at.second, amounts[at]) for at in ordered)


def open_rings(problem: Problem) -> Amounts:
    """By how much each limit has to be stretched at least, hands and slots left aside."""
    amounts: Amounts = {}
    net = net_of(problem, rigid=False)
    while (ring := _ring(net)) is not None:
        soft = [arc for arc in ring if arc.limit is not None]
        choice = min(soft, key=lambda arc: _reluctance(problem, arc))
        assert choice.limit is not None, "only soft arcs were chosen from"
        excess = sum(arc.least for arc in ring)
        amounts[choice.limit] = amounts.get(choice.limit, 0) + excess
        net = replace(net, arcs=tuple(_opened(net.arcs, choice.limit, excess)))
    return amounts


def _opened(arcs: Iterable[Arc], limit: Limit, by: int) -> Iterator[Arc]:
    """The arcs with one limit stretched by so many seconds more; a window is given up."""
    for arc in arcs:
        if arc.limit != limit:
            yield arc
        elif limit.kind != "window":
            yield arc._replace(least=arc.least - by)


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


def enough(problem: Problem, amounts: Amounts, care: Care) -> Amounts:
    """Stretches that hands and slots can live with, each taken back as far as it goes."""
    arcs = net_of(problem, rigid=False).arcs
    limits = [arc.limit for arc in arcs if arc.limit is not None and arc.limit.kind != "window"]
    lost = {limit: by for limit, by in amounts.items() if limit.kind == "window"}
    wide = _used(problem, dict.fromkeys(limits, WIDE) | lost, care)
    order = sorted(wide, key=lambda limit: (KINDS[::-1].index(limit.kind), *limit[1:]))
    for limit in [limit for limit in order if limit.kind != "window"]:
        wide[limit] = _least(problem, wide, limit, care, amounts.get(limit, 0))
    return {limit: by for limit, by in wide.items() if by}


def _used(problem: Problem, wide: Amounts, care: Care) -> Amounts:
    """By how much a schedule that ignores the limits passes each of them."""
    net = net_of(problem, wide)
    found, effort = None, care.effort
    while found is None:
        found = search(net, problem.serve, effort, like=_order(net, care))
        effort *= 4
    at = instants(net, found.reach, problem.serve)
    return {
        arc.limit: at[arc.before] + arc.least + wide[arc.limit] - at[arc.after]
        for arc in net.arcs
        if arc.limit is not None
        and arc.limit.kind != "window"
        and at[arc.before] + arc.least + WIDE > at[arc.after]
    } | {limit: by for limit, by in wide.items() if limit.kind == "window"}


def _least(problem: Problem, wide: Amounts, limit: Limit, care: Care, known: int) -> int:
    """The smallest stretch of one limit, the others as they stand, found by halving."""
    low, high = known, wide[limit]
    if possible(problem, wide | {limit: low}, care):
        return low
    tries = care.tries
    while high - low > 1 and tries > 0:
        tries -= 1
        middle = (low + high) // 2
        if possible(problem, wide | {limit: middle}, care):
            high = middle
        else:
            low = middle
    return high


def possible(problem: Problem, amounts: Amounts, care: Care) -> bool:
    """Whether there is any schedule with some limits stretched."""
    net = net_of(problem, amounts)
    found = search(net, problem.serve, care.effort, aim=Aim(0), like=_order(net, care))
    return found is not None


def _order(net: Net, care: Care) -> list[int] | None:
    return None if care.like is None else instants_in(net, care.like)
