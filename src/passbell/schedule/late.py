"""Why a meal cannot be on the table sooner: the chain that decides it."""

from dataclasses import replace

from passbell.schedule.facts import settled
from passbell.schedule.finish import instants_in, orders_of
from passbell.schedule.model import Problem, Schedule, Work
from passbell.schedule.net import ORIGIN, TABLE, Arc, Limit, Net, net_of
from passbell.schedule.reach import reach_of
from passbell.schedule.wording import listed, say_work, spell


def why_late(problem: Problem, schedule: Schedule) -> str:
    """A sentence that names what decides the dish-up; empty when nothing is late.

    Args:
        problem: the meal, with its wanted time.
        schedule: an answer to it.
    """
    if not schedule.late:
        return ""
    clean, net, nodes = _longest_way(problem, schedule)
    links = _links(clean, net, nodes)
    late = f"Dish-up is {spell(schedule.late)} later than wanted"
    if not links:
        return f"{late}: what has begun ends no sooner."
    tail = ", one after the other" if len(links) > 1 else ""
    return f"{late}: nothing shortens {listed(links)}{tail}."


def chain(problem: Problem, schedule: Schedule) -> tuple[Work, ...]:
    """The steps that, one after the other, decide the earliest dish-up of this order of work.

    A preheat, a stage or a wait for what has begun may lie between them.
    """
    clean, net, nodes = _longest_way(problem, schedule)
    at = _works_at(clean, net)
    return tuple(at[node] for node in nodes if node in at)


def _longest_way(problem: Problem, schedule: Schedule) -> tuple[Problem, Net, list[int]]:
    clean, _ = settled(problem)
    amounts = {Limit(s.kind, s.first, s.second): s.by for s in schedule.stretched}
    net = net_of(clean, amounts, rigid=False)
    net = replace(net, arcs=(*net.arcs, *_orders(net, schedule)))
    reach = reach_of(net)
    assert reach is not None, "the orders of a schedule do not contradict each other"
    return clean, net, _walk(net, reach.tail)


def _works_at(problem: Problem, net: Net) -> dict[int, Work]:
    works = [w for row in problem.works for w in row if w.began is None]
    return {net.starts[w.component][w.index].node: w for w in works}


def _links(problem: Problem, net: Net, nodes: list[int]) -> list[str]:
    """What lies on the chain, in words: preheats, stages and steps, each with its time."""
    works = _works_at(problem, net)
    bounds = {
        point.node: (machine, stage)
        for machine, points in enumerate(net.bounds)
        for stage, point in enumerate(points)
    }
    found = []
    for before, node in zip([ORIGIN, *nodes], nodes, strict=False):
        if node in works:
            found += _preheat(problem, works[node].machine, before)
            found.append(f"{say_work(problem, works[node])} {spell(works[node].time)}")
        elif node in bounds and node != ORIGIN:
            machine, stage = bounds[node]
            found += _preheat(problem, machine, before)
            if before in bounds and bounds[before] == (machine, stage - 1):
                found += _stage(problem, machine, stage - 1)
    return found


def _preheat(problem: Problem, machine: int | None, before: int) -> list[str]:
    if machine is None or before != ORIGIN or not problem.machines[machine].preheat:
        return []
    it = problem.machines[machine]
    return [f"heating {it.name} {spell(it.preheat)}"] if it.on is None else []


def _stage(problem: Problem, machine: int, stage: int) -> list[str]:
    it = problem.machines[machine]
    name = it.stage_names[stage] if it.stage_names else f"{stage + 1}"
    time = it.stages[stage]
    return [f"the stage {name} of {it.name} {spell(time)}"] if time else []


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
    return [Arc(*order) for order in orders_of(net, instants_in(net, schedule))]
