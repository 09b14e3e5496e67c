"""Why a meal cannot be on the table sooner: the chain that decides it."""

from dataclasses import replace
from heapq import heappop, heappush
from typing import NamedTuple

from passbell.schedule.facts import settled
from passbell.schedule.finish import instants_in, orders_of
from passbell.schedule.model import Problem, Schedule, Work
from passbell.schedule.net import ORIGIN, TABLE, Arc, Limit, Net, net_of
from passbell.schedule.reach import reach_of
from passbell.schedule.wording import listed, say_work, spell
from passbell.units.spoken import spoken

BEGUN = "waiting for what has begun"
"""What comes before the first piece that is still to come."""


class Piece(NamedTuple):
    """A part of the chain that decides the dish-up.

    Attributes:
        what: in words.
        whole: how long it lasts, in seconds.
        counts: after how many of them the next piece begins.
    """

    what: str
    whole: int
    counts: int

    @property
    def words(self) -> str:
        """What it is, and how much of it counts."""
        counts = spell(self.counts)
        return (
            f"{self.what} {counts}"
            if self.counts == self.whole
            else (f"the first {counts} of {self.what}")
        )


def why_late(problem: Problem, schedule: Schedule) -> str:
    """A sentence that names what decides the dish-up; empty when nothing is late.

    Args:
        problem: the meal, with its wanted time.
        schedule: an answer to it.
    """
    if not schedule.late:
        return ""
    found = pieces(problem, schedule)
    late = f"Dish-up is {spoken(schedule.late)} later than wanted"
    if all(piece.what == BEGUN for piece in found):
        return f"{late}: what has begun ends no sooner."
    tail = ", one after the other" if len(found) > 1 else ""
    return f"{late}: nothing shortens {listed(piece.words for piece in found)}{tail}."


def pieces(problem: Problem, schedule: Schedule) -> tuple[Piece, ...]:
    """What lies on the chain that decides the earliest dish-up, one after the other.

    Preheats, stages, slack and steps; together they last from now until that dish-up.
    """
    clean, net, way = _longest_way(problem, schedule)
    return tuple(_Teller(clean, net).told(way))


def chain(problem: Problem, schedule: Schedule) -> tuple[Work, ...]:
    """The steps that, one after the other, decide the earliest dish-up of this order of work.

    A preheat, a stage or a wait for what has begun may lie between them.
    """
    clean, net, way = _longest_way(problem, schedule)
    at = _works_at(clean, net)
    return tuple(at[arc.after] for arc in way if arc.after in at)


def _longest_way(problem: Problem, schedule: Schedule) -> tuple[Problem, Net, list[Arc]]:
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


class _Teller:
    """Puts the arcs of a way into words."""

    def __init__(self, problem: Problem, net: Net) -> None:
        self.problem = problem
        self.works = _works_at(problem, net)
        self.bounds = {
            point.node: (machine, stage)
            for machine, points in enumerate(net.bounds)
            for stage, point in enumerate(points)
            if point.node != ORIGIN
        }

    def told(self, way: list[Arc]) -> list[Piece]:
        """The pieces of a way, in order; what an arc leads back is taken off those before it."""
        found: list[Piece] = []
        for arc in way:
            if arc.least < 0:
                _shorten(found, -arc.least)
            else:
                found += [piece for piece in self._pieces(arc) if piece.counts]
        return found

    def _pieces(self, arc: Arc) -> list[Piece]:
        if arc.before == ORIGIN:
            return self._first(arc)
        if arc.before in self.works:
            return self._step(self.works[arc.before], arc.least)
        machine, stage = self.bounds[arc.before]
        it = self.problem.machines[machine]
        name = it.stage_names[stage] if it.stage_names else f"{stage + 1}"
        return [Piece(f"the stage {name} of {it.name}", arc.least, arc.least)]

    def _first(self, arc: Arc) -> list[Piece]:
        """What lies between now and the first thing that is still to come."""
        wait = arc.least - self.problem.now
        machine = self.bounds[arc.after][0] if arc.after in self.bounds else None
        if arc.after in self.works:
            machine = self.works[arc.after].machine
        it = None if machine is None else self.problem.machines[machine]
        if it is None or it.on is not None or wait < it.preheat:
            return [Piece(BEGUN, wait, wait)]
        rest = wait - it.preheat
        return [Piece(BEGUN, rest, rest), Piece(f"heating {it.name}", it.preheat, it.preheat)]

    def _step(self, work: Work, seconds: int) -> list[Piece]:
        who, slack = say_work(self.problem, work), seconds - work.time
        found = [Piece(who, work.time, min(seconds, work.time))]
        return [*found, Piece(f"the slack after {who}", slack, slack)] if slack > 0 else found


def _shorten(found: list[Piece], by: int) -> None:
    """Let what comes next begin so many seconds sooner, while the last pieces still go on."""
    while by and found:
        last = found.pop()
        if last.counts > by:
            found.append(last._replace(counts=last.counts - by))
        by -= min(by, last.counts)


def _walk(net: Net, tail: list[int]) -> list[Arc]:
    """A longest way from the origin to the dish-up, with as few arcs that lead back as can be."""
    tight: dict[int, list[Arc]] = {}
    for arc in net.arcs:
        if tail[arc.before] == arc.least + tail[arc.after]:
            tight.setdefault(arc.before, []).append(arc)
    came: dict[int, Arc] = {}
    queue = [(0, 0, ORIGIN, Arc(ORIGIN, ORIGIN, 0))]
    while TABLE not in came:
        back, length, node, by = heappop(queue)
        if node not in came:
            came[node] = by
            for arc in tight.get(node, ()):
                heappush(queue, (back + (arc.least < 0), length + 1, arc.after, arc))
    found = [came[TABLE]]
    while found[-1].before != ORIGIN:
        found.append(came[found[-1].before])
    return found[::-1]


def _orders(net: Net, schedule: Schedule) -> list[Arc]:
    return [Arc(*order) for order in orders_of(net, instants_in(net, schedule))]
