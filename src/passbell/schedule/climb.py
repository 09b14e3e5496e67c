"""Better orders by small steps: shift jobs on the chains that cost most.

Only an exchange on a chain that decides a figure can better it (the neighbourhood of job-shop
search, from memory). Where no step helps, the best order is shaken and climbed from again; the
shaking follows a fixed sequence, so that the same plan always gets the same answer.
"""

from passbell.schedule.net import ORIGIN
from passbell.schedule.order import Shift, Weigher, Whole, nearest_first
from passbell.schedule.state import Gauge
from passbell.schedule.tables import Job, Tables

SHAKES = 3


class Climber:
    """Climbs from a whole order to better ones.

    Args:
        tables: the net.
        weigher: what weighs an order.
        gauge: the goals, and which of them is to be bettered.
    """

    def __init__(self, tables: Tables, weigher: Weigher, gauge: Gauge) -> None:
        self.tables = tables
        self.weigher = weigher
        self.gauge = gauge
        self.dice = 1

    def climb(self, whole: Whole, steps: int, enough: int) -> tuple[Whole, int]:
        """The best order found within so many weighings, and how many were left.

        Args:
            whole: where to begin.
            steps: how many orders may be weighed.
            enough: stop when the goal is this good.
        """
        best = here = whole
        goal = self.gauge.goal
        while steps > 0 and best.figures[goal] > enough:
            shifts = self._shifts(here)
            turn = self._roll(len(shifts)) if shifts else 0
            better, steps = self._first_better(here, shifts[turn:] + shifts[:turn], steps)
            if better is not None:
                here = better
                best = min(best, here, key=lambda order: order.figures)
                continue
            if not shifts and here is best:
                break
            here, steps = self._shaken(best, steps)
        return best, steps

    def _first_better(
        self, here: Whole, shifts: list[Shift], steps: int
    ) -> tuple[Whole | None, int]:
        hint = nearest_first(here.reach)
        for shift in shifts:
            if steps <= 0:
                break
            steps -= 1
            other = self.weigher.shifted(here, shift, hint)
            if other is not None and other.figures < here.figures:
                return other, steps
        return None, steps

    def _shaken(self, best: Whole, steps: int) -> tuple[Whole, int]:
        here = best
        for _ in range(SHAKES):
            shifts = self._shifts(here)
            if not shifts:
                break
            shift = shifts[self._roll(len(shifts))]
            other = self.weigher.shifted(here, shift, nearest_first(here.reach))
            steps -= 1
            here = other or here
        return here, steps

    def _roll(self, sides: int) -> int:
        """The next number of a fixed sequence (a linear congruence), below `sides`."""
        self.dice = (self.dice * 1103515245 + 12345) % (1 << 31)
        return (self.dice >> 8) % sides

    def _shifts(self, whole: Whole) -> list[Shift]:
        """Shifts within the blocks of jobs that follow each other on a deciding chain."""
        found: list[Shift] = []
        for line, track, first, last in self._blocks(whole):
            found += [(line, track, place, place + 1) for place in range(first, last)]
            for place in range(first, last + 1):
                goals = sorted({first, last, place - 2, place + 2})
                found += [
                    (line, track, place, goal)
                    for goal in goals
                    if first <= goal <= last and abs(goal - place) > 1
                ]
        return found

    def _blocks(self, whole: Whole) -> list[tuple[int, int, int, int]]:
        chain = self._chain(whole)
        found: list[tuple[int, int, int, int]] = []
        for line, tracks in enumerate(whole.lines):
            for number, track in enumerate(tracks):
                first = 0
                for place in range(1, len(track) + 1):
                    pair = track[place - 1 : place + 1]
                    if len(pair) > 1 and self._follows(whole, chain, pair):
                        continue
                    if place - 1 > first:
                        found.append((line, number, first, place - 1))
                    first = place
        return found

    def _follows(self, whole: Whole, chain: set[int], pair: tuple[Job, ...]) -> bool:
        after, before = pair
        tail = whole.reach.tail
        far = tail[after.node] - after.plus
        return (
            before.node in chain
            and before.node != ORIGIN
            and after.node in chain
            and tail[before.node] - before.plus == far + before.length
        )

    def _chain(self, whole: Whole) -> set[int]:
        """The nodes on the longest ways that decide the goal."""
        tail = whole.reach.tail
        tight: list[list[int]] = [[] for _ in tail]
        for node, arcs in enumerate(whole.reach.into):
            here = tail[node]
            for before, least in arcs:
                if tail[before] == here + least:
                    tight[before].append(node)
        stack = self._deciding(whole)
        seen = set(stack)
        while stack:
            for node in tight[stack.pop()]:
                if node not in seen:
                    seen.add(node)
                    stack.append(node)
        return seen

    def _deciding(self, whole: Whole) -> list[int]:
        """The nodes whose distance from the dish-up is the figure to be bettered."""
        tail, net, kind = whole.reach.tail, self.tables.net, self.gauge.kind
        if kind == "table":
            return [ORIGIN]
        if kind == "start":
            most = max(tail[node] - plus for node, plus in net.leads)
            return [node for node, plus in net.leads if tail[node] - plus == most]
        if kind == "over":
            return [node for node, base, hold in net.dishes if tail[node] - base > hold]
        return [node for node, base, _ in net.dishes if tail[node] - base > 0]
