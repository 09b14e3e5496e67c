"""What no order can beat: bounds from the crowd on hands and slots.

Seen backwards from the dish-up a pool is a machine with release dates: a job may be in its place
from (dish-up − latest end) on. Preempting freely, shortest rest first, gives the least possible
k-th completion for every k at once; matched with the sorted due instants of the dishes behind the
jobs it bounds the sums of waits (Chu's bound for total tardiness with release dates, from memory).
Where that does not rule a place out, a crowd that is small is solved exactly (`crowd.py`). The
dish-up itself is bounded by the preemptive one-machine bound with heads and tails (Jackson's, from
memory). A pool of several places is no faster than one place that works that many times as fast.
"""

from heapq import heappop, heappush, heapreplace
from typing import NamedTuple

from passbell.schedule.crowd import FIRST, tardiness
from passbell.schedule.reach import FREE
from passbell.schedule.tables import Claim, Line

LONG = FREE * 64
FEW = 9
"""So many jobs on one place are a small crowd."""
FEWER = 7
"""So many on several places are."""


class Crowd(NamedTuple):
    """The open jobs by which a pool can make dishes wait.

    Attributes:
        pool, places: the pool.
        mask: their bits.
        rows: per job its node, how long after it the job ends, and its length; first one job for
            each dish, then the second jobs of some.
        bases, dues: per job, from when on it makes its dish wait, and wait too long.
        dishes: per job, its dish.
        gaps: per job FIRST, or the least time from the first job of its dish to it.
        ranked: the dues of the first jobs in order.
        marks: the bits of the dishes.
    """

    pool: int
    places: int
    mask: int
    rows: tuple[tuple[int, int, int], ...]
    bases: tuple[int, ...]
    dues: tuple[int, ...]
    dishes: tuple[int, ...]
    gaps: tuple[int, ...]
    ranked: tuple[int, ...]
    marks: int


class Crowds:
    """Bounds the sums of waits at the places of one search; remembers what it worked out.

    Args:
        lines: the pools.
    """

    def __init__(self, lines: tuple[Line, ...]) -> None:
        self.lines = lines
        self.wide = [
            (index, sum(claim.job.bit for claim in _claims(line)))
            for index, line in enumerate(lines)
            if len(_claims(line)) > line.places
        ]
        self.crowds: dict[int, Crowd | None] = {}
        self.solved: dict[tuple[int, tuple[int, ...], tuple[int, ...]], int] = {}

    def open(self, left: int) -> list[Crowd]:
        """The crowds of the jobs that are open."""
        found = []
        for index, mask in self.wide:
            crowd = self._crowd(index, mask & left)
            if crowd is not None:
                found.append(crowd)
        return found

    def quick(
        self, crowds: list[Crowd], far: list[int], overs: list[int], waits: list[int]
    ) -> tuple[int, int]:
        """Bounds on the sums of over-holds and waits, by preemption.

        Args:
            crowds: the open ones.
            far: per node, how long before the dish-up it is at the latest.
            overs: per dish, its over-hold as far as orders are decided.
            waits: per dish, its wait as far.
        """
        over_gains, wait_gains = [], []
        for crowd in crowds:
            many = len(crowd.ranked)
            done = completions([(far[v] - e, p) for v, e, p in crowd.rows[:many]], crowd.places)
            late, wait = 0, sum(done) - sum(crowd.bases[:many])
            for c, d in zip(done, crowd.ranked, strict=True):
                if c > d:
                    late += c - d
            for dish in crowd.dishes[:many]:
                late -= overs[dish]
                wait -= waits[dish]
            over_gains.append((late, crowd.marks))
            wait_gains.append((wait, crowd.marks))
        return sum(overs) + _disjoint(over_gains), sum(waits) + _disjoint(wait_gains)

    def exact(self, crowds: list[Crowd], far: list[int], costs: list[int], held: bool) -> int:
        """A bound on the sum of over-holds (held) or of waits, small crowds solved exactly.

        A dish that two crowds can make wait counts in the one that gains more.
        """
        gains = [(self._gain(crowd, far, costs, held), -k) for k, crowd in enumerate(crowds)]
        total, taken = sum(costs), 0
        for known, k in sorted(gains, reverse=True):
            crowd: Crowd | None = crowds[-k]
            gain = known
            if gain and crowds[-k].marks & taken:
                crowd = self._without(crowds[-k], taken)
                gain = 0 if crowd is None else self._gain(crowd, far, costs, held)
            if gain and crowd is not None:
                total += gain
                taken |= crowd.marks
        return total

    def _gain(self, crowd: Crowd, far: list[int], costs: list[int], held: bool) -> int:
        """By how much a crowd raises what its dishes cost already."""
        releases = tuple([far[v] - e for v, e, _ in crowd.rows])
        dues = tuple(
            [
                due + costs[dish]
                for due, dish in zip(crowd.dues if held else crowd.bases, crowd.dishes, strict=True)
            ]
        )
        key = (crowd.mask, releases, dues)
        known = self.solved.get(key)
        if known is None:
            known = self.solved[key] = _least(crowd, releases, dues)
        return known

    def _without(self, crowd: Crowd, taken: int) -> Crowd | None:
        """A crowd without the jobs of some dishes."""
        mask = 0
        for claim in _claims(self.lines[crowd.pool]):
            if claim.job.bit & crowd.mask and not taken >> claim.dish & 1:
                mask |= claim.job.bit
        return self._crowd(crowd.pool, mask)

    def _crowd(self, index: int, mask: int) -> Crowd | None:
        if mask not in self.crowds:
            self.crowds[mask] = _crowd(index, self.lines[index], mask)
        return self.crowds[mask]


def _claims(line: Line) -> tuple[Claim, ...]:
    return (*line.claims, *(twin.claim for twin in line.twins))


def _crowd(index: int, line: Line, mask: int) -> Crowd | None:
    firsts = [claim for claim in line.claims if claim.job.bit & mask]
    twins = [twin for twin in line.twins if twin.claim.job.bit & mask]
    firsts += [twin.claim for twin in twins if not twin.first & mask]
    seconds = [twin for twin in twins if twin.first & mask]
    if len(firsts) + len(seconds) <= line.places:
        return None
    claims = [*firsts, *(twin.claim for twin in seconds)]
    return Crowd(
        pool=index,
        places=line.places,
        mask=mask,
        rows=tuple((c.job.node, c.job.plus + c.job.length, c.job.length) for c in claims),
        bases=tuple(claim.base for claim in claims),
        dues=tuple(claim.due for claim in claims),
        dishes=tuple(claim.dish for claim in claims),
        gaps=(*(FIRST for _ in firsts), *(twin.gap for twin in seconds)),
        ranked=tuple(sorted(claim.due for claim in firsts)),
        marks=sum(1 << claim.dish for claim in firsts),
    )


def _least(crowd: Crowd, releases: tuple[int, ...], dues: tuple[int, ...]) -> int:
    """The least sum of what the dishes of a crowd cost beyond their dues."""
    many = len(crowd.ranked)
    jobs = [
        (release, row[2], due, dish, gap)
        for release, row, due, dish, gap in zip(
            releases, crowd.rows, dues, crowd.dishes, crowd.gaps, strict=True
        )
    ]
    most = FEW if crowd.places == 1 else FEWER
    done = completions([job[:2] for job in jobs[:many]], crowd.places)
    floor = sum([c - d for c, d in zip(done, sorted(dues[:many]), strict=True) if c > d])
    if many > most:
        return floor
    return tardiness(crowd.places, jobs if len(jobs) <= most else jobs[:many], floor)


def _disjoint(gains: list[tuple[int, int]]) -> int:
    """The sum of gains of crowds that share no dish, greatest first."""
    total = taken = 0
    for gain, dishes in sorted(gains, reverse=True):
        if gain <= 0:
            break
        if not dishes & taken:
            total += gain
            taken |= dishes
    return total


def completions(jobs: list[tuple[int, int]], places: int) -> list[int]:
    """The least possible k-th completion for every k, of jobs (release, length)."""
    if places == 1:
        return _one_place(sorted(jobs))
    fast = _one_place(sorted((r * places, p) for r, p in jobs))
    alone = sorted(r + p for r, p in jobs)
    return [max(-(-c // places), d) for c, d in zip(fast, alone, strict=True)]


def _one_place(jobs: list[tuple[int, int]]) -> list[int]:
    done: list[int] = []
    heap: list[int] = []
    now, place, many = jobs[0][0], 0, len(jobs)
    while place < many or heap:
        if not heap and jobs[place][0] > now:
            now = jobs[place][0]
        while place < many and jobs[place][0] <= now:
            heappush(heap, jobs[place][1])
            place += 1
        until = jobs[place][0] if place < many else LONG
        if now + heap[0] <= until:
            now += heappop(heap)
            done.append(now)
        else:
            heapreplace(heap, heap[0] - (until - now))
            now = until
    return done


def makespan(line: Line, left: int, tail: list[int], enough: int, head: tuple[int, ...]) -> int:
    """The least time from a start to the dish-up that the open jobs of a pool allow.

    Args:
        line: the pool.
        left: the bits of the jobs whose order is open.
        tail: per node, how long before the dish-up it is at the latest.
        enough: bounds up to this are of no interest: 0 is given instead.
        head: per node, how long after the start it is at the earliest.
    """
    jobs = [job for job in line.jobs if job[0] & left]
    n = line.places
    if len(jobs) <= n:
        return 0
    work = sum([job[3] for job in jobs])
    if n == 1:
        tasks = [(head[v] + p, k, tail[v] - p - k) for _, v, p, k in jobs]
    else:
        tasks = [((head[v] + p) * n, k, (tail[v] - p - k) * n) for _, v, p, k in jobs]
    if max(tasks)[0] + work + max([task[2] for task in tasks]) <= enough * n:
        return 0
    return -(-one_machine(tasks) // n)


def one_machine(tasks: list[tuple[int, int, int]]) -> int:
    """The least makespan of tasks (head, length, tail) on one machine, preempting freely."""
    tasks.sort()
    heap: list[tuple[int, int]] = []
    now, place, many, best = tasks[0][0], 0, len(tasks), -LONG
    while place < many or heap:
        if not heap and tasks[place][0] > now:
            now = tasks[place][0]
        while place < many and tasks[place][0] <= now:
            heappush(heap, (-tasks[place][2], tasks[place][1]))
            place += 1
        until = tasks[place][0] if place < many else LONG
        tail, length = heap[0]
        if now + length <= until:
            now += length
            heappop(heap)
            best = max(best, now - tail)
        else:
            heapreplace(heap, (tail, length - (until - now)))
            now = until
    return best
