"""Longest paths of an order that differs a little from one whose paths are known.

Looking back from the dish-up, what lies before the first difference stays as it is. So the paths
are kept as they stood at some cuts of the known order, and a new order is followed from the last
cut before its first difference.
"""

from collections.abc import Callable, Iterable

from passbell.schedule.net import TABLE
from passbell.schedule.reach import NEVER, Into, Reach
from passbell.schedule.state import Gauge

ROUNDS = 3
"""How often the longest paths are gone over before an order is taken to contradict itself."""
EVERY = 3
"""Every so many nodes a cut is kept, where there may be one."""

Vain = Callable[[tuple[int, int, int]], bool]


class Ground:
    """The longest paths of one order, cut at several places.

    Args:
        reach: the paths.
        dishes: the nodes of the dishes.

    Attributes:
        hint: the nodes, those nearest to the dish-up first.
    """

    def __init__(self, reach: Reach, dishes: Iterable[int]) -> None:
        tail = reach.tail
        self.hint = nearest_first(reach)
        self.place = [0] * len(tail)
        for index, node in enumerate(self.hint):
            self.place[node] = index
        ranked = sorted(self.place[node] for node in dishes)
        self.look = ranked[len(ranked) * 2 // 3] + 1 if ranked else 0
        self.cuts: list[int] = []
        self.tails: list[list[int]] = []
        self._cut(reach.into, tail, self._firm(reach.into, tail))

    def _firm(self, into: Into, tail: list[int]) -> list[bool]:
        """Per place, whether nothing before it rests on anything after it."""
        place, lowest, firm = self.place, len(tail), [False] * len(tail)
        for index in range(len(tail) - 1, -1, -1):
            node = self.hint[index]
            here = tail[node]
            for before, least in into[node]:
                if place[before] < lowest and tail[before] == here + least:
                    lowest = place[before]
            firm[index] = lowest >= index
        return firm

    def _cut(self, into: Into, tail: list[int], firm: list[bool]) -> None:
        known = _blank(len(tail))
        for index, node in enumerate(self.hint):
            if firm[index] and (not self.cuts or index >= self.cuts[-1] + EVERY):
                self.cuts.append(index)
                self.tails.append(known.copy())
            here = tail[node]
            for before, least in into[node]:
                known[before] = max(known[before], here + least)

    def tail(
        self, into: Into, changed: Iterable[int], gauge: Gauge, vain: Vain | None
    ) -> list[int] | None:
        """Longest ways to the dish-up in another order.

        Args:
            into: its arcs.
            changed: the nodes whose arcs differ from those of the known order.
            gauge: the goals.
            vain: whether the first three goals, at least so great, are of no interest; None: no.

        Returns:
            The ways; None where the order contradicts itself or is of no interest.
        """
        first = min(self.place[node] for node in changed)
        cut = len(self.cuts) - 1
        while cut >= 0 and self.cuts[cut] > first:
            cut -= 1
        start, tail = (self.cuts[cut], self.tails[cut].copy()) if cut >= 0 else (0, None)
        tail = tail or _blank(len(into))
        queue: list[int] = []
        look = max(start, self.look)
        self._follow(into, tail, (start, look), queue)
        if vain is not None and vain(gauge.at_least(tail)):
            return None
        self._follow(into, tail, (look, len(tail)), queue)
        if queue and vain is not None and vain(gauge.at_least(tail)):
            return None
        return tail if settle(into, tail, queue, 1) else None

    def _follow(self, into: Into, tail: list[int], span: tuple[int, int], queue: list[int]) -> None:
        """Go over the nodes between two places once; those to be gone over again are queued."""
        place, first = self.place, span[0]
        for index, node in enumerate(self.hint[first : span[1]], first):
            here = tail[node]
            for before, least in into[node]:
                if tail[before] < here + least:
                    tail[before] = here + least
                    if place[before] <= index:
                        queue.append(before)


def nearest_first(reach: Reach) -> list[int]:
    """The nodes, those nearest to the dish-up first."""
    return sorted(range(len(reach.tail)), key=reach.tail.__getitem__)


def all_tails(into: Into, hint: list[int]) -> list[int] | None:
    """Longest ways to the dish-up; a node is gone over again only where a way leads back to it."""
    tail = _blank(len(into))
    done = bytearray(len(into))
    queue: list[int] = []
    for node in hint:
        done[node] = 1
        here = tail[node]
        for before, least in into[node]:
            if tail[before] < here + least:
                tail[before] = here + least
                if done[before]:
                    queue.append(before)
    return tail if settle(into, tail, queue) else None


def settle(into: Into, tail: list[int], queue: list[int], rounds: int = ROUNDS) -> bool:
    """Follow the longest ways from some nodes on; False where an order contradicts itself."""
    most = rounds * len(into)
    for node in queue:
        here = tail[node]
        for before, least in into[node]:
            if tail[before] < here + least:
                tail[before] = here + least
                queue.append(before)
        if len(queue) > most:
            return False
    return True


def _blank(size: int) -> list[int]:
    tail = [NEVER] * size
    tail[TABLE] = 0
    return tail
