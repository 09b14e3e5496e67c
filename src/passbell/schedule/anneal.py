"""Better orders by small steps, some of them uphill: a random job changes places.

Threshold accepting (Dueck and Scheuer 1990, from memory): a step is taken when it costs less than
a threshold more, and the threshold falls to nearly nothing. Only a job on a chain that makes
something late can better anything, so only those are moved (the neighbourhood of job-shop search,
from memory). The numbers are a fixed sequence, so the same plan always gets the same answer.
"""

from dataclasses import dataclass

from passbell.schedule.ground import Ground
from passbell.schedule.net import ORIGIN
from passbell.schedule.order import Shift, Weigher, Whole
from passbell.schedule.pushes import Pusher
from passbell.schedule.state import Gauge, Vector
from passbell.schedule.tables import Job, Tables

WEIGHTS = 32, 16, 4, 1
"""What a second of each goal weighs beside the others while orders are bettered."""
HOT, COLD = 6000, 80
"""The threshold at first and at last, in seconds of the last goal."""
PUSH = 2
"""A push costs about as much as so many shifts."""
FARTHER = 3
"""So many times of five a job goes one place farther."""
ACROSS = 2
"""So many times of five a job of a wide pool goes to another of its places."""

Place = tuple[int, int, int]
"""A job in an order: its pool, its track, its place in it."""


class Dice:
    """A fixed sequence of numbers that looks random (a linear congruence)."""

    def __init__(self) -> None:
        self.number = 1

    def roll(self, sides: int) -> int:
        """The next number, 0 to `sides` − 1."""
        self.number = (self.number * 1103515245 + 12345) % (1 << 31)
        return (self.number >> 8) % sides


@dataclass(frozen=True, slots=True)
class _Here:
    """An order, its cost, and what is needed to take steps from it."""

    whole: Whole
    cost: int
    places: list[Place]
    ground: Ground


class Annealer:
    """Betters whole orders of one net.

    Args:
        tables: the net.
        weigher: what weighs an order.
        gauge: the goals.
        dice: the numbers.
    """

    def __init__(self, tables: Tables, weigher: Weigher, gauge: Gauge, dice: Dice) -> None:
        self.tables = tables
        self.weigher = weigher
        self.gauge = gauge
        self.pusher = Pusher(tables, weigher)
        self.dice = dice

    def anneal(self, whole: Whole, steps: int, root: Vector, goals: int) -> tuple[Whole, int]:
        """The best order found within so many steps, and how many were left.

        Args:
            whole: where to begin.
            steps: how many orders may be weighed.
            root: stop when the goals are this good.
            goals: how many of them matter.
        """
        best, here, left = whole, self._here(whole), steps
        while left > 0 and here.places and best.figures[:goals] > root[:goals]:
            most = here.cost + self.dice.roll(2 * _threshold(left, steps))
            cost, other = self._step(here, most)
            left -= cost
            if other is not None and _cost(other.figures) <= most:
                here = self._here(other)
                if other.figures < best.figures:
                    best = other
        return best, max(0, left)

    def _here(self, whole: Whole) -> _Here:
        ground = Ground(whole.reach, [dish.node for dish in self.tables.net.dishes])
        return _Here(whole, _cost(whole.figures), self._places(whole), ground)

    def _step(self, here: _Here, most: int) -> tuple[int, Whole | None]:
        """What a step to another order costs, and where it leads, if anywhere."""
        place = here.places[self.dice.roll(len(here.places))]
        if not self.weigher.pinned and self.dice.roll(2):
            return PUSH, self._push(here.whole, place)
        shift = self._shift(here.whole, place)
        if shift is None:
            return 1, None

        def vain(least: tuple[int, int, int]) -> bool:
            # Nothing begins later than the dish-up itself.
            table = least[1 - self.gauge.table_first]
            return _cost((*least, -table)) > most

        return 1, self.weigher.shifted(here.whole, shift, here.ground, vain)

    def _push(self, whole: Whole, place: Place) -> Whole | None:
        """A job, and what it drags along, past another of its pool."""
        line, track, index = place
        tail = whole.reach.tail
        job = whole.lines[line][track][index]
        rows = [other for row in whole.lines[line] for other in row]
        rows.sort(key=lambda other: tail[other.node] - other.plus)
        here = rows.index(job)
        there = here + self._stride()
        if not 0 <= there < len(rows):
            return None
        return self.pusher.past(whole, job, rows[there], later=there < here)

    def _shift(self, whole: Whole, place: Place) -> Shift | None:
        """A job to another place of its track, or to another track where its time is."""
        line, track, index = place
        tracks = whole.lines[line]
        other = track
        if len(tracks) > 1 and self.dice.roll(5) < ACROSS:
            other = self.dice.roll(len(tracks))
        if other != track:
            goal = _sooner(whole, tracks[track][index], tracks[other]) + self.dice.roll(3) - 1
            return line, track, index, other, max(0, min(len(tracks[other]), goal))
        goal = index + self._stride()
        return (line, track, index, track, goal) if 0 <= goal < len(tracks[track]) else None

    def _stride(self) -> int:
        """How many places on, to either side: mostly one or two."""
        stride = 1
        while self.dice.roll(5) < FARTHER:
            stride += 1
        return stride if self.dice.roll(2) else -stride

    def _places(self, whole: Whole) -> list[Place]:
        """The jobs on the chains that make something late, of pools where they can move."""
        chain = self._chain(whole)
        return [
            (line, track, index)
            for line, tracks in enumerate(whole.lines)
            if sum(map(len, tracks)) > 1
            for track, row in enumerate(tracks)
            for index, job in enumerate(row)
            if job.node in chain
        ]

    def _chain(self, whole: Whole) -> set[int]:
        """The nodes on the longest ways that make a dish wait, or the dish-up late."""
        tail, gauge = whole.reach.tail, self.gauge
        tight: list[list[int]] = [[] for _ in tail]
        for node, arcs in enumerate(whole.reach.into):
            here = tail[node]
            for before, least in arcs:
                if tail[before] == here + least:
                    tight[before].append(node)
        stack = [node for node, base, _ in self.tables.net.dishes if tail[node] > base]
        if gauge.serve is None or tail[ORIGIN] > gauge.serve:
            stack.append(ORIGIN)
        seen = set(stack)
        while stack:
            for node in tight[stack.pop()]:
                if node not in seen:
                    seen.add(node)
                    stack.append(node)
        return seen


def _cost(figures: Vector) -> int:
    """All goals in one figure."""
    return sum(weight * figure for weight, figure in zip(WEIGHTS, figures, strict=True))


def _threshold(left: int, steps: int) -> int:
    """By how much a step may be worse: it falls by the same share from step to step."""
    return COLD + (HOT - COLD) * left**3 // steps**3


def _sooner(whole: Whole, job: Job, row: tuple[Job, ...]) -> int:
    """How many jobs of a track are nearer to the dish-up than a job is."""
    tail = whole.reach.tail
    far = tail[job.node] - job.plus
    return sum([tail[other.node] - other.plus < far for other in row])
