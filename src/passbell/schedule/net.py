"""The stagger as differences between instants, and what competes for hands and slots.

Every instant is a node plus a constant; node 0 is the origin (instant 0), node 1 the dish-up.
An arc says that one instant comes at least so many seconds after another; a limit from above is
an arc backwards with a negative length.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from passbell.schedule.facts import lasting, span
from passbell.schedule.model import Problem, StretchKind, Work

ORIGIN, TABLE = 0, 1


class Point(NamedTuple):
    """An instant: that of a node, plus so many seconds."""

    node: int
    plus: int = 0

    def later(self, seconds: int) -> "Point":
        """The instant so many seconds after this one."""
        return Point(self.node, self.plus + seconds)


class Limit(NamedTuple):
    """A limit from above that a live answer may stretch: what kind, and of what."""

    kind: StretchKind
    first: int
    second: int


class Arc(NamedTuple):
    """The instant of `after` is at least `least` seconds after that of `before`."""

    before: int
    after: int
    least: int
    limit: Limit | None = None


class Task(NamedTuple):
    """Something that takes one place of a pool from an instant on, for so many seconds."""

    node: int
    plus: int
    length: int


class Pool(NamedTuple):
    """A number of equal places (hands, or slots of an appliance) and who competes for them."""

    places: int
    tasks: tuple[Task, ...]


class Dish(NamedTuple):
    """How a component waits: dish-up − (instant of node) − base, past `hold` it is over."""

    node: int
    base: int
    hold: int


class Choice(NamedTuple):
    """A cook step that may be in one of several runs of stages."""

    start: Point
    end: Point
    machine: int
    runs: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Net:
    """All constraints of a problem.

    Attributes:
        size: number of nodes.
        arcs: the differences.
        starts, ends: per component, per step.
        bounds: per machine with stages that matters, its boundaries; else empty.
        leads: the instants at which something may begin first (starts and switch-ons).
        dishes: the components that can wait.
        pools: what competes.
        choices: the steps with several runs of stages.
    """

    size: int
    arcs: tuple[Arc, ...]
    starts: tuple[tuple[Point, ...], ...]
    ends: tuple[tuple[Point, ...], ...]
    bounds: tuple[tuple[Point, ...], ...]
    leads: tuple[Point, ...]
    dishes: tuple[Dish, ...]
    pools: tuple[Pool, ...]
    choices: tuple[Choice, ...]


def net_of(
    problem: Problem, stretch: Mapping[Limit, int] | None = None, *, rigid: bool = True
) -> Net:
    """The constraints of a settled problem, with some limits stretched by so many seconds.

    Args:
        problem: a problem whose facts agree.
        stretch: by how much each limit may be passed.
        rigid: whether steps that follow each other without any gap share one node; where every
            limit is to be seen, they must not.
    """
    return _Weaver(problem, stretch or {}, rigid).net()


class _Weaver:
    """Builds one net: gives out nodes and gathers arcs."""

    def __init__(self, problem: Problem, stretch: Mapping[Limit, int], rigid: bool) -> None:
        self.problem = problem
        self.rigid = rigid
        self.stretch = stretch
        self.size = 2
        self.arcs: list[Arc] = [Arc(ORIGIN, TABLE, problem.now)]
        self.starts: list[list[Point]] = [[] for _ in problem.works]
        self.ends: list[list[Point]] = [[] for _ in problem.works]
        for chain in problem.works:
            for work in chain:
                start = self._start(work)
                self.starts[work.component].append(start)
                self.ends[work.component].append(start.later(lasting(work)))
        self.bounds = [self._bounds(m) for m in range(len(problem.machines))]
        self.leads = _first_leads(self.starts)
        self.choices: list[Choice] = []

    def net(self) -> Net:
        """Weave every constraint and give the whole."""
        for chain in self.problem.works:
            for work in chain:
                self._weave(work)
        for machine in range(len(self.problem.machines)):
            self._machine(machine)
        pools = tuple(pool for pool in self._pools() if len(pool.tasks) > 1)
        return Net(
            size=self.size,
            arcs=tuple(self.arcs),
            starts=tuple(tuple(chain) for chain in self.starts),
            ends=tuple(tuple(chain) for chain in self.ends),
            bounds=tuple(tuple(points) for points in self.bounds),
            leads=tuple(self.leads),
            dishes=tuple(self._dish(chain) for chain in self.problem.works if _cooks(chain)),
            pools=pools,
            choices=tuple(self.choices),
        )

    def _node(self) -> Point:
        self.size += 1
        return Point(self.size - 1)

    def _start(self, work: Work) -> Point:
        fact = span(work)
        if fact is not None:
            return Point(ORIGIN, fact[0])
        ends = self.ends[work.component]
        if self.rigid and ends and ends[-1].node != ORIGIN and self._glued(work):
            return ends[-1]
        return self._node()

    def _glued(self, work: Work) -> bool:
        """Whether a step follows the one before it without any gap."""
        before = self.problem.works[work.component][work.index - 1]
        limit = Limit("keep", before.component, before.index)
        return before.gap_min == before.gap_max == 0 and not self.stretch.get(limit)

    def _order(self, before: Point, after: Point, limit: Limit | None = None) -> None:
        """Let one instant come no earlier than another; what lies between facts is dropped.

        An instant that is still to come cannot be asked to precede one that is past, unless that
        is a keep or the time of a stage, which may be stretched.
        """
        firm = limit is None or limit.kind == "window"
        if before.node == after.node or (after.node == ORIGIN and firm):
            return
        plus = 0 if limit is None else self.stretch.get(limit, 0)
        least = before.plus - after.plus - plus
        self.arcs.append(Arc(before.node, after.node, least, limit))

    def _weave(self, work: Work) -> None:
        start, end = self._points(work)
        self._order(Point(ORIGIN, work.release), start)
        if work.index + 1 < len(self.problem.works[work.component]):
            after = self.starts[work.component][work.index + 1]
            self._order(end.later(work.gap_min), after)
            if work.gap_max is not None:
                limit = Limit("keep", work.component, work.index)
                self._order(after, end.later(work.gap_max), limit)
        else:
            self._order(end, Point(TABLE))
        if work.machine is not None and work.ended is None:
            self._cook(work, work.machine)

    def _points(self, work: Work) -> tuple[Point, Point]:
        return self.starts[work.component][work.index], self.ends[work.component][work.index]

    def _cook(self, work: Work, machine: int) -> None:
        """Place a cook step within the stages it may be in."""
        start, end = self._points(work)
        bounds, runs = self.bounds[machine], work.runs
        limit = Limit("window", work.component, work.index)
        if not bounds or not runs or limit in self.stretch:
            return
        if work.began is not None:
            runs = (self._running_run(work, machine),)
        self._order(bounds[min(a for a, _ in runs)], start, limit)
        self._order(end, bounds[max(b for _, b in runs) + 1], limit)
        if len(runs) > 1:
            self.choices.append(Choice(start, end, machine, runs))

    def _running_run(self, work: Work, machine: int) -> tuple[int, int]:
        """The run of stages that a step already in is taken to be in: the soonest it fits."""
        known = self.problem.machines[machine].bounds
        stage = max((k for k, at in enumerate(known) if at <= (work.began or 0)), default=0)
        return next((run for run in work.runs if run[1] >= stage), work.runs[-1])

    def _bounds(self, machine: int) -> list[Point]:
        it = self.problem.machines[machine]
        if not it.stages or not (self._food(machine) or it.bounds or it.on is not None):
            return []
        points = [Point(ORIGIN, at) for at in it.bounds[: len(it.stages) + 1]] or [self._node()]
        for k in range(len(points) - 1, len(it.stages)):
            points.append(self._next_bound(machine, k, points[k]))
        return points

    def _next_bound(self, machine: int, stage: int, begins: Point) -> Point:
        """The end of a stage: on the node of its beginning where its time is firm."""
        time = self.problem.machines[machine].stages[stage]
        stretched = self.stretch.get(Limit("stage", machine, stage))
        if self.rigid and time is not None and begins.node != ORIGIN and not stretched:
            return begins.later(time)
        return self._node()

    def _food(self, machine: int) -> list[Work]:
        return [w for chain in self.problem.works for w in chain if w.machine == machine]

    def _machine(self, machine: int) -> None:
        it, now = self.problem.machines[machine], self.problem.now
        ready = Point(ORIGIN, max(_hot(it.on, now) + it.preheat, it.release, now))
        if not it.stages:
            self._stageless(machine, ready)
            return
        bounds = self.bounds[machine]
        for k, bound in enumerate(bounds):
            self._order(ready if k == 0 else Point(ORIGIN, now), bound)
        if bounds and it.on is None:
            self.leads.append(bounds[0].later(-it.preheat))
        for k, (one, other) in enumerate(pairwise(bounds)):
            time = it.stages[k]
            self._order(one.later(time or 0), other)
            if time is not None:
                self._order(other, one.later(time), Limit("stage", machine, k))

    def _stageless(self, machine: int, ready: Point) -> None:
        it, food = self.problem.machines[machine], self._food(machine)
        if any(w.began is not None for w in food):
            return
        for work in food:
            self._order(ready, self.starts[work.component][work.index])
            if it.on is None:
                self.leads.append(self.starts[work.component][work.index].later(-it.preheat))

    def _dish(self, chain: tuple[Work, ...]) -> Dish:
        last = max(w.index for w in chain if w.kind == "cook")
        end = self.ends[chain[0].component][last]
        tail = sum(lasting(w) for w in chain[last + 1 :])
        return Dish(end.node, end.plus + tail, self.problem.holds[chain[0].component])

    def _pools(self) -> list[Pool]:
        every = [w for chain in self.problem.works for w in chain]
        found = [self._pool(self.problem.hands, [(w, busy_hands(w)) for w in every])]
        for m, machine in enumerate(self.problem.machines):
            food = self._food(m)
            if machine.holds is not None and len({w.component for w in food}) > machine.holds:
                found.append(self._pool(machine.holds, [(w, lasting(w)) for w in food]))
        return found

    def _pool(self, places: int, users: list[tuple[Work, int]]) -> Pool:
        """The competition for some places; facts that fill them all only push the rest later."""
        free = [(w, n) for w, n in users if w.began is None and n > 0]
        busy = sorted((w.began + n, w.began, n) for w, n in users if w.began is not None)
        busy = [fact for fact in busy if fact[0] > self.problem.now and fact[2] > 0]
        if len(busy) >= places:
            opens = Point(ORIGIN, busy[len(busy) - places][0])
            for work, _ in free:
                self._order(opens, self.starts[work.component][work.index])
        held = busy[len(busy) - places + 1 :] if len(busy) >= places else busy
        tasks = _joined([Task(*self.starts[w.component][w.index], n) for w, n in free])
        return Pool(places, (*tasks, *(Task(ORIGIN, at, n) for _, at, n in held)))


def _first_leads(starts: list[list[Point]]) -> list[Point]:
    """The first start of every component, and all that have begun."""
    found = [chain[0] for chain in starts if chain and chain[0].node != ORIGIN]
    return found + [point for chain in starts for point in chain if point.node == ORIGIN]


def _joined(tasks: list[Task]) -> list[Task]:
    """Tasks of which those that follow each other without any gap are one."""
    found: list[Task] = []
    for task in tasks:
        last = found[-1] if found else None
        if last and last.node == task.node and last.plus + last.length == task.plus:
            found[-1] = Task(last.node, last.plus, last.length + task.length)
        else:
            found.append(task)
    return found


def busy_hands(work: Work) -> int:
    """How long a step takes a pair of hands, in seconds; no longer than it really lasted."""
    return work.hands if work.ended is None else min(work.hands, lasting(work))


def _hot(on: int | None, now: int) -> int:
    return now if on is None else on


def _cooks(chain: tuple[Work, ...]) -> bool:
    return any(w.kind == "cook" for w in chain)
