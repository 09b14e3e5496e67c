"""The search over orders: one goal after the other, each to its best or to the end of the effort.

For a fixed order of everything that competes, the latest schedule is the best one and longest
paths find it, so only orders are searched: a first one by a rule, better ones by small steps and
by great ones, and the proof, or something better still, by branch and bound. Effort is counted in
places opened, never in time, so that the same plan gets the same answer on every machine.
"""

from dataclasses import dataclass

from passbell.schedule.anneal import Annealer, Dice
from passbell.schedule.branch import Brancher
from passbell.schedule.dive import first_schedule
from passbell.schedule.ground import nearest_first
from passbell.schedule.net import Net
from passbell.schedule.order import Weigher
from passbell.schedule.proof import Best, Proof
from passbell.schedule.reach import Reach, reach_of
from passbell.schedule.rework import Reworker
from passbell.schedule.state import Gauge, State, Vector
from passbell.schedule.tables import Tables, tables_of

PATIENCE = 4
"""How many times the effort may go into finding a first schedule at all."""
USUAL = 40
"""With more jobs than this the proof is beyond reach, and only better orders are looked for."""
DISHES = 8
"""A meal of more components gets fewer places: an answer soon, be it proven or not."""
MANY = 300
"""So many places such a meal of one job would get for each of the effort: less with more."""
LARGE = 3000
"""So many small steps a large meal of one job would get for each place of the effort."""
FEW = 26
"""With fewer jobs it gets as many as with so many of them."""
DEEP = 100
"""With less effort than this bounds are the quick ones."""
FIRST_TRY = 300
"""Places opened before it is worth while to take steps."""
PROVING, CLIMBING = 25, 30
"""Of the places of a meal of more components so many of a hundred go into the proof and into small
steps; the rest goes into great ones."""
STEP = 5
"""So many small steps cost about as much as one place."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What matters to a search.

    Attributes:
        goals: how many of the goals; 0: any schedule will do.
        table_first: whether the dish-up is the first goal though no time is wanted.
    """

    goals: int = 4
    table_first: bool = False


AIM = Aim()


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
    net: Net,
    serve: int | None,
    effort: int,
    *,
    aim: Aim = AIM,
    like: list[int] | None = None,
) -> Found | None:
    """Search to the end or to the end of the effort; None when there is no schedule.

    Args:
        net: the constraints.
        serve: the wanted dish-up, or None.
        effort: how many places may be opened in a meal of usual size.
        aim: what matters.
        like: the instant of every node in another schedule, to begin with its order of work.
    """
    reach = reach_of(net)
    if reach is None:
        return None
    tables = tables_of(net, reach)
    gauge = Gauge(tables, serve, aim.table_first or serve is not None)
    return _Search(tables, reach, gauge).run(effort, aim.goals, like)


class _Search:
    def __init__(self, tables: Tables, reach: Reach, gauge: Gauge) -> None:
        self.tables = tables
        self.reach = reach
        self.gauge = gauge
        self.brancher = Brancher(tables, gauge)
        self.dice = Dice()
        self.many = sum(1 for chain in tables.net.starts if chain) > DISHES
        self.jobs = sum(len(line.jobs) for line in tables.lines)

    def run(self, effort: int, goals: int, like: list[int] | None) -> Found | None:
        root = self.brancher.root(self.reach)
        self.gauge.deep = self.jobs <= USUAL and effort >= DEEP
        best = self._like(like, root) or self._first(effort, root)
        if best is None:
            return None
        if not goals:
            return Found(best.figures, best.reach, 0)
        self.gauge.goals = goals
        proof, left = Proof(self.brancher, root, goals), self._places(effort)
        for proving, stepping in self._plan(left):
            best, left = self._prove(best, proof, min(proving, left), left)
            best, left = self._anneal(best, proof, min(stepping, left), left)
        if self.many and self.jobs <= USUAL and proof.short(best):
            best, left = self._rework(best, proof, left)
            best, left = self._prove(best, proof, left, left)
        return Found(best.figures, best.reach, proof.short(best))

    def _plan(self, left: int) -> list[tuple[int, int]]:
        """What to do in turn: so many places for the proof, then so many for small steps."""
        if self.jobs <= USUAL and self.many:
            return [(left * PROVING // 100, left * CLIMBING // 100)]
        if self.jobs <= USUAL:
            return [(FIRST_TRY, left // 20), (left // 4, left // 10), (left, 0)]
        return [(0, left)]

    def _places(self, effort: int) -> int:
        """How many places a meal of this size gets: a large one gets small steps only."""
        if self.jobs <= USUAL:
            return max(1, MANY * effort // max(FEW, self.jobs) ** 2) if self.many else effort
        return LARGE * effort // (self.jobs**2 * STEP)

    def _rework(self, best: Best, proof: Proof, left: int) -> tuple[Best, int]:
        """Better the best order by great steps; facts that pin instants are for the proof."""
        if self.reach.cap is not None:
            return best, left
        deep, self.gauge.deep = self.gauge.deep, False
        reworker = Reworker(self.brancher, proof.root, proof.goals, self.dice)
        best, left = reworker.rework(best, left)
        self.gauge.deep = deep
        return best, left

    def _like(self, like: list[int] | None, root: State) -> Best | None:
        """The order of work of another schedule, where it fits here."""
        if like is None:
            return None
        weigher = Weigher(self.tables, self.reach, self.gauge, like)
        order = sorted(range(len(like)), key=lambda node: -like[node])
        whole = weigher.weigh(weigher.tracks(like), order)
        if whole is None or self.brancher.moves(root._replace(reach=whole.reach)):
            return None
        return Best(whole.figures, whole.reach)

    def _first(self, effort: int, root: State) -> Best | None:
        quick = first_schedule(self.brancher, root)
        if quick is not None:
            return Best(self.gauge.plain(quick.reach), quick.reach)
        return Proof(self.brancher, root, 1).go_on(None, effort * PATIENCE)[0]

    def _prove(self, best: Best, proof: Proof, share: int, left: int) -> tuple[Best, int]:
        budget = min(share, left)
        found, rest = proof.go_on(best, budget)
        return found or best, left - budget + rest

    def _anneal(self, best: Best, proof: Proof, share: int, left: int) -> tuple[Best, int]:
        """Better the best order by small steps."""
        if share <= 0 or not proof.short(best):
            return best, left
        at, steps = self.gauge.instants(best.reach), share * STEP
        weigher = Weigher(self.tables, self.reach, self.gauge, at)
        whole = weigher.weigh(weigher.tracks(at), nearest_first(best.reach))
        if whole is None:
            return best, left
        annealer = Annealer(self.tables, weigher, self.gauge, self.dice)
        better, rest = annealer.anneal(whole, steps, proof.root.figures, proof.goals)
        left -= (steps - rest) // STEP
        if better.figures < best.figures:
            best = Best(better.figures, better.reach)
        return best, left
