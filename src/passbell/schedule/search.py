"""The search over orders: one goal after the other, each to its best or to the end of the effort.

For a fixed order of everything that competes, the latest schedule is the best one and longest
paths find it, so only orders are searched: a first one by a rule, better ones by small steps, and
the proof, or something better still, by branch and bound. Effort is counted in places opened,
never in time, so that the same plan gets the same answer on every machine.
"""

from collections.abc import Callable
from dataclasses import dataclass

from passbell.schedule.branch import Brancher
from passbell.schedule.climb import Climber
from passbell.schedule.dive import first_schedule
from passbell.schedule.net import Net
from passbell.schedule.order import Weigher, nearest_first
from passbell.schedule.proof import Best, Proof
from passbell.schedule.reach import Reach, reach_of
from passbell.schedule.state import Gauge, Vector
from passbell.schedule.tables import Tables, tables_of

PATIENCE = 5
"""How many times the effort may go into finding a first schedule at all."""
USUAL = 36
"""So many jobs cost what the effort is meant for; more make every place dearer."""
FIRST_TRY = 100
"""Places opened before it is worth while to climb."""
STEP = 5
"""So many small steps cost about as much as one place."""

Step = Callable[[Best, Proof, int, int], tuple[Best, int]]


@dataclass(frozen=True, slots=True)
class Found:
    """What the search has found.

    Attributes:
        figures: the goals in their order (dish-up first: dish-up, over-hold, wait, minus start;
            else over-hold, dish-up, wait, minus start).
        reach: the orders behind them.
        short: by how much the first goal that is not proven may be better, in seconds.
    """

    figures: Vector
    reach: Reach
    short: int


def search(
    net: Net, serve: int | None, effort: int, *, table_first: bool = False, goals: int = 4
) -> Found | None:
    """Search to the end or to the end of the effort; None when there is no schedule.

    Args:
        net: the constraints.
        serve: the wanted dish-up, or None.
        effort: how many places may be opened in a meal of usual size.
        table_first: whether the dish-up is the first goal though no time is wanted.
        goals: how many of the goals matter; 0: any schedule will do.
    """
    reach = reach_of(net)
    if reach is None:
        return None
    tables = tables_of(net, reach)
    return _Search(tables, reach, Gauge(tables, serve, table_first or serve is not None)).run(
        effort, goals
    )


class _Search:
    def __init__(self, tables: Tables, reach: Reach, gauge: Gauge) -> None:
        self.tables = tables
        self.reach = reach
        self.gauge = gauge
        self.brancher = Brancher(tables, gauge)
        self.jobs = sum(len(line.jobs) for line in tables.lines)

    def run(self, effort: int, goals: int) -> Found | None:
        best = self._first(effort)
        if best is None:
            return None
        left, short = self._places(effort), 0
        for goal in range(goals):
            self.gauge.goal = goal
            proof = Proof(self.brancher, self.brancher.root(self.reach))
            best, left = self._better(best, proof, left)
            short = short or proof.short(best)
        return Found(best.figures, best.reach, short)

    def _places(self, effort: int) -> int:
        """How many places a meal of this size gets: a large one gets less time in all."""
        usual = min(1.0, USUAL / max(1, self.jobs))
        return int(effort * max(usual**3, usual / 4))

    def _first(self, effort: int) -> Best | None:
        root = self.brancher.root(self.reach)
        quick = first_schedule(self.brancher, root)
        if quick is not None:
            return Best(self.gauge.plain(quick.reach), quick.reach)
        return Proof(self.brancher, root).go_on(None, effort * PATIENCE)[0]

    def _better(self, best: Best, proof: Proof, left: int) -> tuple[Best, int]:
        """Bring one goal as far as its share of the effort goes; what is left of the effort."""
        for step, share in self._plan(left):
            if proof.short(best):
                best, left = step(best, proof, share, left)
        return best, left

    def _plan(self, left: int) -> list[tuple[Step, int]]:
        """What to do in turn, and with how much of the effort."""
        if self.jobs <= USUAL:
            return [
                (self._prove, FIRST_TRY),
                (self._climb, left // 8),
                (self._prove, left // 2),
            ]
        if self.jobs <= 2 * USUAL:
            return [(self._climb, left // 2), (self._prove, left // 6)]
        return [(self._climb, left * 2 // 3)]

    def _prove(self, best: Best, proof: Proof, share: int, left: int) -> tuple[Best, int]:
        budget = min(share, left)
        found, rest = proof.go_on(best, budget)
        return found or best, left - budget + rest

    def _climb(self, best: Best, proof: Proof, share: int, left: int) -> tuple[Best, int]:
        """Better the best order by small steps."""
        if any(line.facts for line in self.tables.lines):
            return best, left
        at, steps = self.gauge.instants(best.reach), share * STEP
        weigher = Weigher(self.tables, self.reach, self.gauge, at)
        whole = weigher.weigh(weigher.tracks(at), nearest_first(best.reach))
        if whole is None:
            return best, left
        enough = proof.root.figures[proof.goal]
        better, rest = Climber(self.tables, weigher, self.gauge).climb(whole, steps, enough)
        left -= (steps - rest) // STEP
        if better.figures < best.figures:
            best = Best(better.figures, better.reach)
        return best, left
