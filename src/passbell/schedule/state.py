"""One place in the search: what is decided, and what it will cost at least."""

from typing import Literal, NamedTuple

from passbell.schedule.bounds import Crowds, makespan
from passbell.schedule.net import ORIGIN
from passbell.schedule.reach import Reach
from passbell.schedule.tables import Job, Tables

Vector = tuple[int, int, int, int]
Ties = frozenset[tuple[int, int]]
Kind = Literal["over", "table", "wait", "start"]
ORDER: tuple[Kind, ...] = ("over", "table", "wait", "start")


class State(NamedTuple):
    """A place in the search.

    Attributes:
        figures: the goals in their order, at least.
        reach: the orders decided so far.
        left: the bits of the open jobs and choices.
        leans: per pool, the bits that its decided jobs depend on.
        ties: what was decided between open jobs (bit before, bit after), and the runs chosen
            (minus the bit of the choice, the run).
        tracks: per pool of several places, the job decided last on each place (None: none yet).
    """

    figures: Vector
    reach: Reach
    left: int
    leans: tuple[int, ...]
    ties: Ties
    tracks: tuple[tuple[Job | None, ...], ...]

    @property
    def firm(self) -> bool:
        """Whether nothing that is decided depends on what is open."""
        return not any(mask & self.left for mask in self.leans)

    @property
    def tied(self) -> int:
        """The bits of open jobs that must come before another open one."""
        total = 0
        for before, after in self.ties:
            if before > 0 and after & self.left:
                total |= before
        return total


class Gauge:
    """Measures places of one search.

    Args:
        tables: the net.
        serve: the wanted dish-up, or None.
        table_first: whether the dish-up is the first goal.

    Attributes:
        goals: how many of the goals matter.
        deep: whether small crowds are solved exactly: it pays where a proof is within reach.
        kinds: which figures the goals are, in their order.
        best: the best figures so far; a place that cannot reach them is not measured further.
    """

    def __init__(self, tables: Tables, serve: int | None, table_first: bool) -> None:
        self.tables = tables
        self.serve = serve
        self.table_first = table_first
        self.goals = 4
        self.deep = True
        self.best: Vector | None = None
        net = tables.net
        self.dishes, self.leads = net.dishes, net.leads
        self.crowds = Crowds(tables.lines)
        self.kinds = ORDER if not table_first else (ORDER[1], ORDER[0], *ORDER[2:])
        self.begun = min((plus for node, plus in net.leads if node == ORIGIN), default=None)

    def plain(self, reach: Reach) -> Vector:
        """The figures of the latest schedule that these orders allow."""
        table = reach.soonest(self.serve)
        far = reach.tail if reach.cap is None else reach.before(table)
        over = wait = 0
        for node, base, hold in self.dishes:
            waits = far[node] - base
            wait += waits
            if waits > hold:
                over += waits - hold
        return self._vector(table, over, wait, self._start(table, far))

    def at_least(self, tail: list[int]) -> tuple[int, int, int]:
        """The first three goals, at least, of an order whose ways are at least so long."""
        table = tail[ORIGIN]
        if self.serve is not None and table < self.serve:
            table = self.serve
        over = wait = 0
        for node, base, hold in self.dishes:
            waits = tail[node] - base
            if waits > 0:
                wait += waits
                if waits > hold:
                    over += waits - hold
        return (table, over, wait) if self.table_first else (over, table, wait)

    def _start(self, table: int, far: list[int]) -> int:
        """The first beginning of anything; what has begun cannot begin later."""
        if self.begun is not None:
            return self.begun
        return table - max([far[node] - plus for node, plus in self.leads], default=0)

    def figures(self, reach: Reach, left: int, floor: Vector | None = None) -> Vector:
        """The goals, smallest first: no schedule with these orders has less.

        The start is bounded for a dish-up at its own bound; that is enough to compare the goals
        in their order.

        Args:
            reach: the orders.
            left: the bits of the open jobs and choices.
            floor: what the place before cannot be better than; None: nothing is known.
        """
        table, best = reach.soonest(self.serve), self.best
        least_over = least_wait = 0
        if floor is not None:
            table, least_over = max(table, floor[1 - self.table_first]), floor[self.table_first]
            least_wait = floor[2]
        if self.table_first:
            table = self._span(reach, left, table, self.tables.heads)
            if self.goals == 1 or (best is not None and table > best[0]):
                return table, least_over, least_wait, -table
        far = reach.tail if reach.cap is None else reach.before(table)
        waits = [far[node] - base for node, base, _ in self.dishes]
        overs = [max(0, wait - dish.hold) for wait, dish in zip(waits, self.dishes, strict=True)]
        crowds = self.crowds.open(left)
        over, wait = self.crowds.quick(crowds, far, overs, waits)
        over, wait = max(over, least_over), max(wait, least_wait)
        if self.deep and crowds and (best is None or over <= best[self.table_first]):
            over = max(over, self.crowds.exact(crowds, far, overs, held=True))
        if not self.table_first:
            if best is not None and over > best[0]:
                return over, table, wait, -table
            table = self._span(reach, left, table, self.tables.heads)
        found = self._vector(table, over, wait, self._start(table, far))
        if best is not None and found[:2] != best[:2]:
            return found
        if self.deep and crowds and (best is None or wait <= best[2]):
            wait = max(wait, self.crowds.exact(crowds, far, waits, held=False))
            found = (*found[:2], wait, found[3])
        if self.begun is not None or (best is not None and found[2] != best[2]):
            return found
        span = self._span(reach, left, table + found[3], self.tables.leads)
        return (*found[:3], span - table)

    def _span(self, reach: Reach, left: int, least: int, heads: tuple[int, ...]) -> int:
        """The least time from where the heads count to the dish-up, by every pool."""
        for line in self.tables.lines:
            found = makespan(line, left, reach.tail, least, heads)
            least = max(least, found)
        return least

    def _vector(self, table: int, over: int, wait: int, start: int) -> Vector:
        if self.table_first:
            return table, over, wait, -start
        return over, table, wait, -start

    def instants(self, reach: Reach) -> list[int]:
        """The latest instants of the best dish-up these orders allow."""
        return reach.latest(reach.soonest(self.serve))
