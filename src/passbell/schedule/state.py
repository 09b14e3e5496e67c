"""One place in the search: what is decided, and what it will cost at least."""

from typing import Literal, NamedTuple

from passbell.schedule.bounds import makespans, sums
from passbell.schedule.reach import Reach
from passbell.schedule.tables import Job, Tables

Vector = tuple[int, int, int, int]
Ties = frozenset[tuple[int, int]]
Kind = Literal["over", "table", "wait", "start"]


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
    """

    def __init__(self, tables: Tables, serve: int | None, table_first: bool) -> None:
        self.tables = tables
        self.serve = serve
        self.table_first = table_first
        self.goal = 0

    @property
    def kind(self) -> Kind:
        """Which figure the present goal is."""
        kinds: tuple[Kind, ...] = ("over", "table", "wait", "start")
        if self.table_first:
            kinds = ("table", "over", "wait", "start")
        return kinds[self.goal]

    def plain(self, reach: Reach) -> Vector:
        """The figures of the latest schedule that these orders allow."""
        table, net = reach.soonest(self.serve), self.tables.net
        at = reach.latest(table)
        over = wait = 0
        for node, base, hold in net.dishes:
            waits = table - at[node] - base
            wait += waits
            if waits > hold:
                over += waits - hold
        start = min([at[node] + plus for node, plus in net.leads], default=table)
        return self._vector(table, over, wait, start)

    def figures(self, reach: Reach, left: int) -> Vector:
        """The goals, smallest first: no schedule with these orders has less."""
        tables, net, table = self.tables, self.tables.net, reach.soonest(self.serve)
        span = 0
        if self.goal or self.table_first:
            heads = (tables.heads, tables.leads) if self.goal == 3 else (tables.heads,)
            for line in tables.lines:
                whole, *part = makespans(line, left, reach.tail, table, *heads)
                table, span = max(table, whole), max(span, *part, 0)
        at = reach.latest(table)
        waits, overs = [], []
        for node, base, hold in net.dishes:
            wait = table - at[node] - base
            waits.append(wait)
            overs.append(wait - hold if wait > hold else 0)
        far = reach.tail if reach.cap is None else [table - instant for instant in at]
        over, wait = sums(tables.lines, left, far, waits, overs)
        start = min([at[node] + plus for node, plus in net.leads], default=table)
        return self._vector(table, over, wait, min(start, table - span))

    def _vector(self, table: int, over: int, wait: int, start: int) -> Vector:
        if self.table_first:
            return table, over, wait, -start
        return over, table, wait, -start

    def instants(self, reach: Reach) -> list[int]:
        """The latest instants of the best dish-up these orders allow."""
        return reach.latest(reach.soonest(self.serve))
