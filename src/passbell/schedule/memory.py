"""What the search remembers, so that it never opens a place that another one beats.

Two places with the same open jobs have the same future, if what is decided does not depend on what
is open. Then the one in which every open instant may be at least as late, and which has cost no
more so far, is as good whatever follows; the other need not be opened.
"""

from operator import le

from passbell.schedule.net import ORIGIN
from passbell.schedule.state import State, Ties
from passbell.schedule.tables import Job, Tables

LONGEST = 60
"""How many places with the same open jobs are compared."""

Cost = tuple[int, ...]


class Memory:
    """The places opened so far, by their open jobs."""

    def __init__(self, tables: Tables) -> None:
        self.tables = tables
        self.seen: dict[tuple[int, Ties], list[Cost]] = {}
        self.splits: dict[int, tuple[list[int], list[int]]] = {}
        self.blind = any(line.held for line in tables.lines)

    def is_new(self, state: State) -> bool:
        """Whether no place seen before is as good; remembers it then."""
        if self.blind or not state.firm:
            return True
        cost = self._cost(state)
        known = self.seen.setdefault((state.left, state.ties), [])
        for other in known:
            if all(map(le, other, cost)):
                return False
        if len(known) < LONGEST:
            known.append(cost)
        return True

    def _cost(self, state: State) -> Cost:
        """What a place has cost, and how early it makes every open instant."""
        nodes, done = self._split(state.left)
        tail, cap, net = state.reach.tail, state.reach.cap, self.tables.net
        lead = max([tail[node] - plus for node, plus in net.leads], default=0)
        places = [far for tracks in state.tracks for far in _free(tracks, tail)]
        if cap is not None:
            nodes = nodes + [net.dishes[d].node for d in done]
            start = min([cap[node] + plus for node, plus in net.leads], default=0)
            late = [-cap[node] for node in nodes]
            return (tail[ORIGIN], lead, -start, *places, *[tail[node] for node in nodes], *late)
        over = wait = 0
        for d in done:
            node, base, hold = net.dishes[d]
            waits = tail[node] - base
            wait += waits
            if waits > hold:
                over += waits - hold
        return (over, wait, tail[ORIGIN], lead, *places, *[tail[node] for node in nodes])

    def _split(self, left: int) -> tuple[list[int], list[int]]:
        """Nodes that depend on open jobs, and dishes that do not any more."""
        if left not in self.splits:
            needs, net = self.tables.needs, self.tables.net
            nodes = [v for v in range(2, net.size) if needs[v] & left]
            done = [d for d, dish in enumerate(net.dishes) if not needs[dish.node] & left]
            self.splits[left] = (nodes, done)
        return self.splits[left]


def _free(tracks: tuple[Job | None, ...], tail: list[int]) -> list[int]:
    """From when, looking back, each place of a pool is free, soonest first."""
    return sorted(0 if job is None else tail[job.node] - job.plus for job in tracks)
