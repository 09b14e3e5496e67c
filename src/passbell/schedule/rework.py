"""Better orders by great steps: a few components are ordered anew among all others.

Large neighbourhood search (Shaw 1998, from memory): the others keep their order in every pool, so
that what is left to decide is small enough for branch and bound.
"""

import itertools

from passbell.schedule.anneal import Dice
from passbell.schedule.branch import Brancher
from passbell.schedule.ground import all_tails, nearest_first
from passbell.schedule.net import ORIGIN, TABLE
from passbell.schedule.proof import Best, Proof
from passbell.schedule.reach import Reach
from passbell.schedule.state import State
from passbell.schedule.tables import Job, Line

FREE = 4
"""So many components are ordered anew."""
SHARE = 80
"""So many places that may take."""
LEAST = 3
"""So many places it is taken to cost at least: to fix the others costs as much."""
NEAR = 1500
"""Seconds by which a component may be farther than another and be taken for nearer."""
TRIES = 50
"""So many choices in turn that were made before end it."""


class Reworker:
    """Orders a few components of an order anew.

    Args:
        brancher: opens places.
        root: the place where nothing is decided.
        goals: how many of the goals matter.
        dice: numbers that choose the components.
    """

    def __init__(self, brancher: Brancher, root: State, goals: int, dice: Dice) -> None:
        self.brancher = brancher
        self.root = root
        self.goals = goals
        self.dice = dice
        self.jobs = self._by_chain()

    def _by_chain(self) -> dict[int, list[Job]]:
        """The jobs of every component that has any."""
        tables = self.brancher.tables
        chain_of = {
            point.node: chain
            for chain, points in enumerate(tables.net.starts)
            for point in points
            if point.node not in (ORIGIN, TABLE)
        }
        found: dict[int, list[Job]] = {}
        for line in tables.lines:
            for job in line.jobs:
                if job.node in chain_of:
                    found.setdefault(chain_of[job.node], []).append(job)
        return found

    def rework(self, best: Best, budget: int) -> tuple[Best, int]:
        """The best order after so many places, and how many were left.

        Args:
            best: where to begin.
            budget: how many places may be opened.
        """
        known: set[frozenset[int]] = set()
        idle = 0
        while (
            self.jobs and budget > 0 and idle < TRIES and best.figures[: self.goals] > self._least()
        ):
            chains = self._some(best)
            if chains in known:
                idle += 1
                continue
            known.add(chains)
            idle, share = 0, min(SHARE, budget)
            found, rest = self._anew(best, chains, share)
            budget -= max(LEAST, share - rest)
            if found.figures < best.figures:
                best = found
                known.clear()
        return best, max(0, budget)

    def _least(self) -> tuple[int, ...]:
        return self.root.figures[: self.goals]

    def _some(self, best: Best) -> frozenset[int]:
        """A component and those whose work is near to its own."""
        tail = best.reach.tail
        far = {
            chain: sum([tail[job.node] - job.plus for job in jobs]) // len(jobs)
            for chain, jobs in self.jobs.items()
        }
        chains = list(far)
        middle = far[chains[self.dice.roll(len(chains))]]
        near = {chain: abs(far[chain] - middle) + self.dice.roll(NEAR) for chain in chains}
        return frozenset(sorted(chains, key=near.__getitem__)[:FREE])

    def _anew(self, best: Best, chains: frozenset[int], share: int) -> tuple[Best, int]:
        """The best order of some components among the others; how many places were left."""
        free = 0
        for chain in chains:
            for job in self.jobs[chain]:
                free |= job.bit
        gauge = self.brancher.gauge
        gauge.best = None
        start = self._held(best, free)
        gauge.best = best.figures
        if start is None:
            return best, share
        found, rest = Proof(self.brancher, start, self.goals).go_on(best, share)
        return found or best, rest

    def _held(self, best: Best, free: int) -> State | None:
        """The place where all jobs that are not free keep their order."""
        gauge, root = self.brancher.gauge, self.root
        at, into = gauge.instants(best.reach), root.reach.into.copy()
        ties = set(root.ties)
        for line in self.brancher.tables.lines:
            for before, after in _pairs(line, free, at):
                least = before.plus + before.length - after.plus
                into[after.node] += ((before.node, least),)
                ties.add((before.bit, after.bit))
        tail = all_tails(into, nearest_first(best.reach))
        if tail is None:
            return None
        reach = Reach(into, tail, None)
        figures = gauge.figures(reach, root.left, root.figures)
        return root._replace(figures=figures, reach=reach, ties=frozenset(ties))


def _pairs(line: Line, free: int, at: list[int]) -> list[tuple[Job, Job]]:
    """The jobs of a pool that are not free and follow each other."""
    jobs = sorted(
        (job for job in line.jobs if not job.bit & free), key=lambda job: at[job.node] + job.plus
    )
    if line.places == 1:
        pairs = list(itertools.pairwise(jobs))
    else:
        pairs = [
            (one, other)
            for one in jobs
            for other in jobs
            if at[one.node] + one.plus + one.length <= at[other.node] + other.plus
        ]
    return [(one, other) for one, other in pairs if one.node != other.node]
