"""What can be decided next at a place of the search.

Orders are decided backwards from the dish-up: which of the open jobs of a pool is the last? A job
that depends on no open order, and can be last without pushing any other, rules out all that would
begin only before it (the rule of active schedules, from memory). Where nothing is that certain,
any open job of the pool may be its last; pools of several places are then ordered pair by pair.
"""

from dataclasses import dataclass
from typing import NamedTuple

from passbell.schedule.clash import Row, inside, latest_clash, overlap, rows_of
from passbell.schedule.net import ORIGIN, Task
from passbell.schedule.state import State
from passbell.schedule.tables import Job, Tables

NOWHERE = -(10**12)


class Last(NamedTuple):
    """A job is the last of the open ones of its pool, on one of its places."""

    line: int
    job: Job
    far: int
    place: int | None


class Order(NamedTuple):
    """Tasks of a pool come before another one."""

    line: int
    before: tuple[Task, ...]
    after: Task


class Run(NamedTuple):
    """A cook step is in one of its runs of stages."""

    choice: int
    run: int


Move = Last | Order | Run


@dataclass(frozen=True, slots=True)
class Front:
    """A pool that can be decided next, and how far before instant 0 that is."""

    far: int
    moves: tuple[Move, ...]


class Finder:
    """Finds what can be decided next."""

    def __init__(self, tables: Tables) -> None:
        self.tables = tables
        self.net = tables.net
        self.line_bits = [sum(job.bit for job in line.jobs) for line in tables.lines]

    def moves(self, state: State, at: list[int]) -> tuple[Move, ...]:
        """The ways to go on from a place, whose latest instants are given; none: it is whole."""
        pairs = zip(self.tables.choices, self.net.choices, strict=True)
        for index, (bit, choice) in enumerate(pairs):
            if bit & state.left and not inside(self.net, choice, at):
                return tuple(Run(index, run) for run in range(len(choice.runs)))
        tied = state.tied
        best: Front | None = None
        for index in range(len(self.tables.lines)):
            front = self._front(state, index, at, tied)
            if front is not None and (best is None or front.far < best.far):
                best = front
        return best.moves if best is not None else ()

    def _front(self, state: State, index: int, at: list[int], tied: int) -> Front | None:
        line = self.tables.lines[index]
        rows = rows_of(line.jobs, state.left, at)
        if line.places > 1:
            return self._wide_front(state, index, at, (rows, tied))
        if not overlap(rows):
            return None
        for far, _, job in rows:
            if self._firm(state, index, job, tied):
                return Front(far, _lasts(index, rows, far, (None,)))
        return Front(rows[0][0], _lasts(index, rows, None, (None,)))

    def _wide_front(
        self, state: State, index: int, at: list[int], open_: tuple[list[Row], int]
    ) -> Front | None:
        clash = latest_clash(self.net.pools[index], at)
        if clash is None:
            return None
        (rows, tied), tracks = open_, state.tracks[index]
        fars = [NOWHERE if job is None else -at[job.node] - job.plus for job in tracks]
        for _, free, job in rows:
            if self._firm(state, index, job, tied):
                far = max(free, min(fars)) + job.length
                if -clash[0] < far and any(task.node == ORIGIN for task in clash[1]):
                    break
                return Front(far, _lasts(index, rows, far, self._places(state, index, fars)))
        return Front(-clash[0], _pairs(index, clash[1]))

    def _firm(self, state: State, index: int, job: Job, tied: int) -> bool:
        """Whether the latest instant of an open job rests on no other that is open."""
        leans = self.leans(state, index, job)
        return leans & state.left == job.bit and not leans & tied

    def _places(self, state: State, index: int, fars: list[int]) -> tuple[int, ...]:
        """The places of a pool that may take the next job: the first free one, if that is sure."""
        if not self.leans(state, index, None) & state.left:
            return (fars.index(min(fars)),)
        tracks = state.tracks[index]
        return tuple(k for k, track in enumerate(tracks) if track not in tracks[:k])

    def leans(self, state: State, index: int, job: Job | None) -> int:
        """All bits that a job of a pool depends on, by way of what is decided too."""
        mask = state.leans[index] | (0 if job is None else self.tables.needs[job.node])
        before = 0
        while before != mask:
            before = mask
            for bits, lean in zip(self.line_bits, state.leans, strict=True):
                if lean and mask & bits & ~state.left:
                    mask |= lean
        return mask


def _lasts(
    line: int, rows: list[Row], until: int | None, places: tuple[int | None, ...]
) -> tuple[Move, ...]:
    return tuple(
        Last(line, job, far, place)
        for far, free, job in rows
        if until is None or free < until
        for place in places
    )


def _pairs(line: int, tasks: list[Task]) -> tuple[Move, ...]:
    return tuple(
        Order(line, (before,), after)
        for after in tasks
        for before in tasks
        if after.node != ORIGIN and after is not before
    )
