"""Orders in which a whole dish is earlier or later, all its steps together.

A single step often cannot move, since a short keep ties it to the next one: then the dish moves as
one, to just before or just after another dish.
"""

from passbell.schedule.net import ORIGIN, TABLE
from passbell.schedule.order import Weigher, Whole
from passbell.schedule.tables import Tables

Leap = tuple[int, int]
"""Which dish, and by how many seconds it is later."""


class Leaper:
    """Moves the dishes of an order.

    Args:
        tables: the net.
        weigher: what weighs an order.
    """

    def __init__(self, tables: Tables, weigher: Weigher) -> None:
        self.weigher = weigher
        net = tables.net
        chains = [{point.node for point in chain} - {ORIGIN} for chain in net.starts]
        found = [(d.node, c) for d in net.dishes for c in chains if d.node in c]
        self.dishes = tuple(found)

    def leaps(self, whole: Whole, chain: set[int]) -> list[Leap]:
        """To just before and just after every other dish, for each dish with a node of a chain."""
        tail = whole.reach.tail
        found: list[Leap] = []
        for index, (node, nodes) in enumerate(self.dishes):
            for other, _ in self.dishes if chain & nodes else ():
                if other != node:
                    gap = tail[node] - tail[other]
                    found += [(index, gap + 1), (index, gap - 1)]
        return found

    def leap(self, whole: Whole, leap: Leap) -> Whole | None:
        """The order after one leap; None when it contradicts itself."""
        index, later = leap
        at = [-far for far in whole.reach.tail]
        for node in self.dishes[index][1]:
            at[node] += later
        at[ORIGIN] = 0 if self.weigher.pinned else at[ORIGIN]
        hint = sorted(range(len(at)), key=lambda node: -at[node])
        hint.remove(TABLE)
        return self.weigher.weigh(self.weigher.tracks(at), [TABLE, *hint])
