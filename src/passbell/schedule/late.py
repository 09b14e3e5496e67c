"""Why a meal cannot be on the table sooner: the chain that decides it."""

from dataclasses import replace

from passbell.schedule.facts import settled
from passbell.schedule.finish import orders_of
from passbell.schedule.model import Problem, Schedule, Work
from passbell.schedule.net import ORIGIN, TABLE, Arc, Limit, Net, net_of
from passbell.schedule.reach import reach_of
from passbell.schedule.wording import listed, say_work, spell


def why_late(problem: Problem, schedule: Schedule) -> str:
    """One or two sentences that name what decides the dish-up; empty when nothing is late.

    Args:
        problem: the meal, with its wanted time.
        schedule: an answer to it.
    """
    if not schedule.late:
        return ""
    steps = [say_work(problem, work) + f" {spell(work.time)}" for work in chain(problem, schedule)]
    return (
        f"Dish-up is {spell(schedule.late)} later than wanted: nothing shortens "
        f"{listed(steps)}, one after the other."
    )


def chain(problem: Problem, schedule: Schedule) -> tuple[Work, ...]:
    """The steps that, one after the other, decide the earliest dish-up of this order of work.

    A preheat, a stage or a wait for what has begun may lie between them.
    """
    clean, _ = settled(problem)
    amounts = {Limit(s.kind, s.first, s.second): s.by for s in schedule.stretched}
    net = net_of(clean, amounts, rigid=False)
    net = replace(net, arcs=(*net.arcs, *_orders(net, schedule)))
    reach = reach_of(net)
    assert reach is not None, "the orders of a schedule do not contradict each other"
    nodes = _walk(net, reach.tail)
    works = [w for row in clean.works for w in row if w.began is None]
    node_of = {net.starts[w.component][w.index].node: w for w in works}
    return tuple(node_of[node] for node in nodes if node in node_of)


def _walk(net: Net, tail: list[int]) -> list[int]:
    """The nodes on a longest way from the origin to the dish-up.

    Arcs of a fixed stage run both ways, so a step that leads nowhere new is taken back.
    """
    tight: dict[int, list[int]] = {}
    for arc in net.arcs:
        if tail[arc.before] == arc.least + tail[arc.after]:
            tight.setdefault(arc.before, []).append(arc.after)
    came = {ORIGIN: ORIGIN}
    stack = [ORIGIN]
    while TABLE not in came:
        node = stack.pop()
        for after in tight.get(node, ()):
            if after not in came:
                came[after] = node
                stack.append(after)
    found = [TABLE]
    while found[-1] != ORIGIN:
        found.append(came[found[-1]])
    return found[::-1]


def _orders(net: Net, schedule: Schedule) -> list[Arc]:
    at = [0] * net.size
    for points, instants in zip(net.starts, schedule.starts, strict=True):
        for point, instant in zip(points, instants, strict=True):
            at[point.node] = instant - point.plus
    for points, instants in zip(net.bounds, schedule.bounds, strict=True):
        for point, instant in zip(points, instants, strict=False):
            at[point.node] = instant - point.plus
    at[ORIGIN] = 0
    return [Arc(*order) for order in orders_of(net, at)]
