"""The search over orders: branch and bound to the goals, in their order.

For a fixed order of everything that competes, the latest schedule is the best one and longest
paths find it, so only orders are searched. Without the undecided orders the same longest paths
give a bound on every figure. Effort is counted in nodes, never in time, so that the same plan
gets the same answer on every machine.
"""

from dataclasses import dataclass

from passbell.schedule.net import Net, Pool, Task
from passbell.schedule.reach import Reach, reach_of

Arrow = tuple[int, int, int]
Vector = tuple[int, int, int, int]
PATIENCE = 20
"""How many times the budget may go into finding a first schedule at all."""


@dataclass(frozen=True, slots=True)
class Found:
    """What the search has found.

    Attributes:
        figures: the goals in their order (dish-up first: dish-up, over-hold, wait, minus start;
            else over-hold, dish-up, wait, minus start).
        reach: the orders behind them.
        bound: figures no schedule can beat, in the same order.
    """

    figures: Vector
    reach: Reach
    bound: Vector


class Search:
    """One search on one net, with a budget of nodes."""

    def __init__(self, net: Net, serve: int | None, budget: int, table_first: bool = False) -> None:
        self.net = net
        self.serve = serve
        self.left = budget
        self.table_first = table_first or serve is not None
        self.diving = budget * PATIENCE
        self.best: tuple[Vector, Reach] | None = None

    def run(self, any_will_do: bool = False) -> Found | None:
        """Search to the end or to the budget; None when nothing was found.

        Until a first schedule is found the budget is many times as large, so that None means
        that there is none.

        Args:
            any_will_do: whether to stop at the first schedule.
        """
        root = reach_of(self.net)
        if root is None:
            return None
        stack = [(self.figures(root), root)]
        while stack and self._may_go_on(any_will_do):
            figures, reach = stack.pop()
            if self.best is not None and figures >= self.best[0]:
                continue
            arrows = self._conflict(reach)
            if not arrows:
                self.best = (figures, reach)
                continue
            children = [(self.figures(child), child) for child in self._branches(reach, arrows)]
            stack.extend(sorted(children, key=lambda pair: pair[0], reverse=True))
        if self.best is None:
            return None
        open_nodes = [figures for figures, _ in stack]
        return Found(*self.best, min([self.best[0], *open_nodes]))

    def _may_go_on(self, any_will_do: bool) -> bool:
        """Count a node; whether the budget still allows it."""
        if self.best is None:
            self.diving -= 1
            return self.diving >= 0
        self.left -= 1
        return self.left >= 0 and not any_will_do

    def figures(self, reach: Reach) -> Vector:
        """The goals, smallest first, of the latest schedule that these orders allow."""
        table = reach.soonest(self.serve)
        at = reach.latest(table)
        over = wait = 0
        for node, base, hold in self.net.dishes:
            waits = table - at[node] - base
            wait += waits
            over += max(0, waits - hold)
        start = min((at[node] + plus for node, plus in self.net.leads), default=table)
        if self.table_first:
            return table, over, wait, -start
        return over, table, wait, -start

    def _branches(self, reach: Reach, arrows: list[tuple[Arrow, ...]]) -> list[Reach]:
        found: list[Reach] = []
        for bundle in arrows:
            child: Reach | None = reach
            for before, after, least in bundle:
                child = child.after(before, after, least) if child is not None else None
            if child is not None:
                found.append(child)
        return found

    def _conflict(self, reach: Reach) -> list[tuple[Arrow, ...]]:
        """The ways to resolve the latest clash; empty when nothing clashes."""
        at = reach.latest(reach.soonest(self.serve))
        best: tuple[int, list[Task]] | None = None
        for pool in self.net.pools:
            clash = latest_clash(pool, at)
            if clash is not None and (best is None or clash[0] > best[0]):
                best = clash
        if best is None:
            return self._choice(at)
        return [(arrow(a, b),) for a in best[1] for b in best[1] if a is not b and b.node != 0]

    def _choice(self, at: list[int]) -> list[tuple[Arrow, ...]]:
        for choice in self.net.choices:
            bounds = self.net.bounds[choice.machine]
            start = at[choice.start.node] + choice.start.plus
            end = at[choice.end.node] + choice.end.plus
            spans = [(bounds[a], bounds[b + 1]) for a, b in choice.runs]
            if any(at[p.node] + p.plus <= start and end <= at[q.node] + q.plus for p, q in spans):
                continue
            return [
                (
                    (p.node, choice.start.node, p.plus - choice.start.plus),
                    (choice.end.node, q.node, choice.end.plus - q.plus),
                )
                for p, q in spans
            ]
        return []


def arrow(before: Task, after: Task) -> Arrow:
    """The arc that lets one task take its place after another has left it."""
    return before.node, after.node, before.plus + before.length - after.plus


def latest_clash(pool: Pool, at: list[int]) -> tuple[int, list[Task]] | None:
    """The latest moment at which more tasks want a place than there are, and which they are."""
    placed = sorted(((at[t.node] + t.plus, t) for t in pool.tasks), reverse=True)
    for start, task in placed:
        there = [(s, t) for s, t in placed if s <= start < s + t.length and t is not task]
        if len(there) >= pool.places:
            others = sorted(there, reverse=True)[: pool.places]
            return start, [task, *(t for _, t in others)]
    return None
