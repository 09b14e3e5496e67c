"""Orders in which a step is moved in time together with what it drags along.

A single job often cannot change places, since a short keep or the steps behind it hold it: then
the step is moved past another job and takes along as much of its own component as it must, and
every pool follows the new instants.
"""

from passbell.schedule.net import ORIGIN, TABLE
from passbell.schedule.order import Weigher, Whole
from passbell.schedule.reach import Into
from passbell.schedule.tables import Job, Tables

Out = dict[int, list[tuple[int, int]]]


class Pusher:
    """Moves the steps of an order.

    Args:
        tables: the net.
        weigher: what weighs an order.
    """

    def __init__(self, tables: Tables, weigher: Weigher) -> None:
        self.weigher = weigher
        self.chain = {
            point.node: chain
            for chain, points in enumerate(tables.net.starts)
            for point in points
            if point.node not in (ORIGIN, TABLE)
        }
        self.before, self.after = self._own(weigher.into)

    def _own(self, into: Into) -> tuple[Out, Out]:
        """The arcs between the steps of one component: per node those into it, and out of it."""
        before: Out = {node: [] for node in self.chain}
        after: Out = {node: [] for node in self.chain}
        for node, chain in self.chain.items():
            for other, least in into[node]:
                if self.chain.get(other) == chain:
                    before[node].append((other, least))
                    after[other].append((node, least))
        return before, after

    def past(self, whole: Whole, job: Job, other: Job, *, later: bool) -> Whole | None:
        """The order with one job just later or just earlier than another one.

        None when it cannot be moved, or when the order contradicts itself.
        """
        node, tail = job.node, whole.reach.tail
        if node not in self.chain or node == other.node:
            return None
        gap = (tail[node] - job.plus) - (tail[other.node] - other.plus)
        at = [-far for far in tail]
        at[node] += gap + 1 if later else gap - 1
        self._drag(at, node, later=later)
        hint = sorted(range(len(at)), key=at.__getitem__, reverse=True)
        hint.remove(TABLE)
        return self.weigher.weigh(self.weigher.tracks(at), [TABLE, *hint])

    def _drag(self, at: list[int], node: int, *, later: bool) -> None:
        """Let the rest of a component follow one of its steps, no further than it must."""
        queue = [node]
        for here in queue:
            if later:
                for after, least in self.after[here]:
                    if at[after] < at[here] + least:
                        at[after] = at[here] + least
                        queue.append(after)
            else:
                for before, least in self.before[here]:
                    if at[before] > at[here] - least:
                        at[before] = at[here] - least
                        queue.append(before)
