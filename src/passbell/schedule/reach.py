"""Longest paths: how long before dish-up, and how late at all, every instant must be.

Two figures a node: `tail`, the longest way from it to the dish-up, so that it is at dish-up − tail
at the latest; and `cap`, the latest instant that facts allow it (absent where there are none).
"""

from dataclasses import dataclass

from passbell.schedule.net import ORIGIN, TABLE, Net

NEVER = -(10**9)
FREE = 10**9

Into = list[tuple[tuple[int, int], ...]]
"""Per node, the arcs that end in it: (node before, at least so many seconds)."""


@dataclass(frozen=True, slots=True)
class Reach:
    """A net with some orders decided: its arcs and its longest paths.

    Attributes:
        into: the arcs into each node.
        tail: per node, the longest way to the dish-up, in seconds.
        cap: per node, the latest instant its facts allow; None when there are no such facts.
    """

    into: Into
    tail: list[int]
    cap: list[int] | None

    def soonest(self, serve: int | None) -> int:
        """The earliest dish-up with these orders, no earlier than the wanted one."""
        return self.tail[ORIGIN] if serve is None else max(serve, self.tail[ORIGIN])

    def latest(self, table: int) -> list[int]:
        """The latest instant of every node for a dish-up at `table`."""
        if self.cap is None:
            return [table - t for t in self.tail]
        return [min(table - t, c) for t, c in zip(self.tail, self.cap, strict=True)]

    def before(self, table: int) -> list[int]:
        """How long before a dish-up at `table` every node is, at the latest."""
        if self.cap is None:
            return self.tail
        return [max(t, table - c) for t, c in zip(self.tail, self.cap, strict=True)]

    def after(self, node: int, arcs: tuple[tuple[int, int], ...]) -> "Reach | None":
        """The same with more arcs into one node, or None when that cannot be."""
        into = self.into.copy()
        into[node] += arcs
        tail = self.tail.copy()
        if not _raise_tail(into, tail, node):
            return None
        cap = self.cap
        if cap is not None:
            cap = cap.copy()
            if not _lower_cap(into, cap, node):
                return None
        return Reach(into, tail, cap)


def reach_of(net: Net) -> Reach | None:
    """The longest paths of a net before any order is decided; None when it contradicts itself."""
    best: list[dict[int, int]] = [{} for _ in range(net.size)]
    for arc in net.arcs:
        known = best[arc.after].get(arc.before, NEVER)
        best[arc.after][arc.before] = max(known, arc.least)
    into: Into = [tuple(sorted(arcs.items())) for arcs in best]
    tail, cap = [NEVER] * net.size, [FREE] * net.size
    tail[TABLE], cap[ORIGIN] = 0, 0
    if not _settle_tail(into, tail):
        return None
    pinned = bool(into[ORIGIN]) or any(dish.node == ORIGIN for dish in net.dishes)
    if pinned and not _settle_cap(into, cap):
        return None
    return Reach(into, tail, cap if pinned else None)


def _settle_tail(into: Into, tail: list[int]) -> bool:
    """Longest ways to the dish-up; False when a ring of arcs drives itself on."""
    queue, rounds = [TABLE], len(tail) * len(tail)
    for done, node in enumerate(queue):
        for before, least in into[node]:
            if tail[before] < tail[node] + least:
                tail[before] = tail[node] + least
                queue.append(before)
        if done > rounds:
            return False
    return True


def _settle_cap(into: Into, cap: list[int]) -> bool:
    """Latest instants by the facts; False when one would have to be before the origin."""
    queue = [ORIGIN]
    for node in queue:
        for before, least in into[node]:
            if cap[before] > cap[node] - least:
                if before == ORIGIN:
                    return False
                cap[before] = cap[node] - least
                queue.append(before)
    return True


def _raise_tail(into: Into, tail: list[int], changed: int) -> bool:
    """Follow new arcs into a node; False when they close a ring that drives itself on."""
    queue = [changed]
    for node in queue:
        here = tail[node]
        for before, least in into[node]:
            if tail[before] < here + least:
                if before == changed:
                    return False
                tail[before] = here + least
                queue.append(before)
    return True


def _lower_cap(into: Into, cap: list[int], changed: int) -> bool:
    """The same for the latest instants; False also when one would be before the origin."""
    queue = [changed]
    for node in queue:
        here = cap[node]
        for before, least in into[node]:
            if cap[before] > here - least:
                if before in (ORIGIN, changed):
                    return False
                cap[before] = here - least
                queue.append(before)
    return True
