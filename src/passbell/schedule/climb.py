"""Better orders by small steps: shift jobs on the chains that cost most.

Only an exchange on a chain that decides a figure can better it (the neighbourhood of job-shop
search, from memory). Where no step helps, the best order is shaken and climbed from again; the
shaking follows a fixed sequence, so that the same plan always gets the same answer.
"""

from passbell.schedule.ground import Ground, nearest_first
from passbell.schedule.leaps import Leap, Leaper
from passbell.schedule.net import ORIGIN
from passbell.schedule.order import Shift, Weigher, Whole
from passbell.schedule.state import Gauge, Vector
from passbell.schedule.tables import Job, Tables

SHAKES = 3
LEAPS = 1
"""So many leaps for each dish are tried where no small step helps."""
FIRST, SECOND = 8, 4
"""Where all goals are bettered together, what the first and the second weigh beside the third."""
IDLE = 8
"""So many turns without anything to try end a climb."""
LEAP = 2
"""A leap costs about as much as so many small steps."""


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
        self.leaper = Leaper(tables, weigher)
        self.loose = False
        self.dice = 1

    def climb(self, whole: Whole, steps: int, root: Vector, goals: int) -> tuple[Whole, int]:
        """The best order found within so many weighings, and how many were left.

        Args:
            whole: where to begin.
            steps: how many orders may be weighed.
            root: stop when the goals are this good.
            goals: how many of them matter.
        """
        best = here = whole
        turn = idle = 0
        self.loose = False
        while steps > 0 and idle <= IDLE and best.figures[:goals] > root[:goals]:
            self.gauge.goal = _goal(best.figures, root, goals, turn)
            before = steps
            better, steps = self._better(here, steps)
            if better is not None:
                here = better
                best = here if here.figures <= best.figures else best
                continue
            if self.loose:
                self.loose = False
                continue
            turn, idle = turn + 1, idle + 1 if steps == before else 0
            here, steps = self._shaken(best, steps)
            self.loose = self._roll(2) > 0
        return best, steps

    def _cost(self, figures: Vector | tuple[int, int, int]) -> tuple[int, ...]:
        """What a climb lessens: the goals in their order, or all of them a little."""
        if not self.loose:
            return figures
        first, second, third = figures[:3]
        return (FIRST * first + SECOND * second + third,)

    def _better(self, here: Whole, steps: int) -> tuple[Whole | None, int]:
        """A better order a step or a leap away, if there is any."""
        shifts = self._shifts(here)
        turn = self._roll(len(shifts)) if shifts else 0
        better, steps = self._first_better(here, shifts[turn:] + shifts[:turn], steps)
        return self._first_leap(here, steps) if better is None else (better, steps)

    def _first_better(
        self, here: Whole, shifts: list[Shift], steps: int
    ) -> tuple[Whole | None, int]:
        ground, most = self._ground(here), self._cost(here.figures)

        def vain(least: tuple[int, int, int]) -> bool:
            return self._cost(least) > most

        for shift in shifts:
            if steps <= 0:
                break
            steps -= 1
            other = self.weigher.shifted(here, shift, ground, vain)
            if other is not None and self._cost(other.figures) < most:
                return other, steps
        return None, steps

    def _first_leap(self, here: Whole, steps: int) -> tuple[Whole | None, int]:
        """The first of a few leaps that betters an order."""
        leaps, most = self._leaps(here), self._cost(here.figures)
        for _ in range(min(len(leaps), LEAPS * len(self.leaper.dishes))):
            if steps <= 0:
                break
            steps -= LEAP
            other = self.leaper.leap(here, leaps.pop(self._roll(len(leaps))))
            if other is not None and self._cost(other.figures) < most:
                return other, steps
        return None, steps

    def _leaps(self, whole: Whole) -> list[Leap]:
        return [] if self.weigher.pinned else self.leaper.leaps(whole, self._chain(whole))

    def _shaken(self, best: Whole, steps: int) -> tuple[Whole, int]:
        here = self._placed_anew(best)
        leaps = self._leaps(here) if self._roll(2) else []
        if leaps:
            steps -= LEAP
            return self.leaper.leap(here, leaps[self._roll(len(leaps))]) or here, steps
        for _ in range(SHAKES):
            shifts = self._shifts(here)
            if not shifts:
                break
            shift = shifts[self._roll(len(shifts))]
            other = self.weigher.shifted(here, shift, self._ground(here))
            steps -= 1
            here = other or here
        return here, steps

    def _ground(self, whole: Whole) -> Ground:
        return Ground(whole.reach, [dish.node for dish in self.tables.net.dishes])

    def _placed_anew(self, whole: Whole) -> Whole:
        """The same instants, the jobs of wide pools on their places as they come."""
        if all(line.places == 1 for line in self.tables.lines):
            return whole
        tracks = self.weigher.tracks(self.gauge.instants(whole.reach))
        other = self.weigher.weigh(tracks, nearest_first(whole.reach))
        return whole if other is None or other.figures > whole.figures else other

    def _roll(self, sides: int) -> int:
        """The next number of a fixed sequence (a linear congruence), below `sides`."""
        self.dice = (self.dice * 1103515245 + 12345) % (1 << 31)
        return (self.dice >> 8) % sides

    def _shifts(self, whole: Whole) -> list[Shift]:
        """Shifts within the blocks of jobs that follow each other on a deciding chain."""
        found: list[Shift] = []
        for line, track, first, last in self._blocks(whole):
            found += [(line, track, place, track, place + 1) for place in range(first, last)]
            for place in range(first, last + 1):
                found += self._across(whole, line, track, place)
                goals = sorted({first, last, place - 2, place + 2})
                found += [
                    (line, track, place, track, goal)
                    for goal in goals
                    if first <= goal <= last and abs(goal - place) > 1
                ]
        return found

    def _across(self, whole: Whole, line: int, track: int, place: int) -> list[Shift]:
        """Shifts of a job to the other places of its pool, to where its time is or one later."""
        tracks, tail = whole.lines[line], whole.reach.tail
        job = tracks[track][place]
        far = tail[job.node] - job.plus
        found: list[Shift] = []
        for other, row in enumerate(tracks):
            if other != track:
                there = [tail[one.node] - one.plus < far for one in row]
                goal = there.index(False) if False in there else len(there)
                found += [(line, track, place, other, at) for at in (goal, goal - 1) if at >= 0]
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


def _goal(figures: Vector, root: Vector, goals: int, turn: int) -> int:
    """Which goal to better: every other turn the first that is not proven, else one after it."""
    first = next(goal for goal in range(goals) if figures[goal] != root[goal])
    rest = goals - first - 1
    return first if turn % 2 == 0 or not rest else first + 1 + turn // 2 % rest
