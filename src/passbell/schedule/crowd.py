"""The least that a small crowd on one pool makes its dishes late: exact, without preemption.

Seen backwards from the dish-up a pool is a set of equal machines, its jobs have releases and due
instants, and their total tardiness is what no order of this pool can beat. A crowd at one pool is
small, so it is solved by branch and bound over active schedules in the order of their starts, with
dominance between partial schedules of the same jobs and, on one machine, the bound by shortest
processing times matched with due dates in order (all of it from the literature on total
tardiness, from memory).
"""

from collections.abc import Hashable
from operator import le

ENDLESS = 10**12

Waiting = tuple[int, int, int, int, int]
"""A job: release, length, due, dish, and of a second job of a dish the least time that lies
between the first and it, else FIRST."""
FIRST = -1
"""Instead of that time: the first job of its dish, or the only one."""
_Job = tuple[int, int, int, int, int, int]
"""Its bit, and the rest of it."""


def tardiness(places: int, jobs: list[Waiting], floor: int) -> int:
    """The least total tardiness of some jobs on so many equal machines, in seconds.

    Of several jobs of one dish the latest counts.

    Args:
        places: how many machines.
        jobs: at least one; lengths are more than nothing; a dish has one first job and
            at most one more.
        floor: a bound known already; the search halts when it is met.
    """
    ranked = sorted(jobs, key=lambda job: (job[1], job[2], job[0], job[3:]))
    named = [(1 << k, *job) for k, job in enumerate(ranked)]
    search = _Search(floor, {job[3] for job in jobs if job[4] != FIRST})
    search.place((-ENDLESS,) * places, named, 0, (1 << len(named)) - 1)
    return search.best


class _Search:
    def __init__(self, floor: int, twins: set[int]) -> None:
        self.floor = floor
        self.twins = twins
        self.best = ENDLESS
        self.ends: dict[Hashable, list[tuple[int, int]]] = {}
        self.frees: dict[Hashable, list[tuple[tuple[int, ...], int]]] = {}

    def place(self, free: tuple[int, ...], left: list[_Job], total: int, mask: int) -> None:
        """Place the jobs left, shortest first, on machines free from some instants on.

        Args:
            free: those instants, the soonest first.
            left: the jobs.
            total: the tardiness so far.
            mask: the bits of the jobs.
        """
        rows, bound, until = _rows(free[0], left, total)
        if bound >= self.best:
            return
        if len(left) < 2:
            self.best = bound
            return
        if len(free) == 1 and len(left) > 2 and _shortest_first(free[0], left, total) >= self.best:
            return
        if self._beaten(free, left, total, mask):
            return
        rows.sort()
        for _, start, end, job in rows:
            if start < until:
                late = max(0, end - job[3])
                after = (end,) if len(free) == 1 else tuple(sorted((*free[1:], end)))
                rest = left.copy()
                rest.remove(job)
                if job[4] in self.twins:
                    rest = _released(rest, job, end, late)
                self.place(after, rest, total + late, mask ^ job[0])
                if self.best <= self.floor:
                    return

    def _beaten(self, free: tuple[int, ...], left: list[_Job], total: int, mask: int) -> bool:
        """Whether the same jobs were left before, no later and at no greater cost."""
        key: Hashable = mask
        if self.twins:
            key = mask, *[job[1:4] for job in left if job[4] in self.twins]
        if len(free) == 1:
            soonest, ends = free[0], self.ends.setdefault(key, [])
            for end, cost in ends:
                if end <= soonest and cost <= total:
                    return True
            ends.append((soonest, total))
            return False
        known = self.frees.setdefault(key, [])
        for places, cost in known:
            if cost <= total and all(map(le, places, free)):
                return True
        known.append((free, total))
        return False


def _released(left: list[_Job], job: _Job, end: int, late: int) -> list[_Job]:
    """The jobs left, those of the same dish with what the one placed has made certain."""
    found = []
    for other in left:
        if other[4] == job[4]:
            bit, release, length, due, dish, gap = other
            if gap != FIRST:
                release, gap = max(release, end + gap), FIRST
            found.append((bit, release, length, due + late, dish, gap))
        else:
            found.append(other)
    return found


def _rows(
    free: int, left: list[_Job], total: int
) -> tuple[list[tuple[int, int, int, _Job]], int, int]:
    """Modified due date, start and end of every job that may come next; a bound; the first end."""
    rows = []
    until = ENDLESS
    for job in left:
        _, release, length, due, _, gap = job
        if gap != FIRST:
            continue
        start = free if free > release else release
        end = start + length
        if end > due:
            total += end - due
            rows.append((end, start, end, job))
        else:
            rows.append((due, start, end, job))
        until = min(until, end)
    return rows, total, until


def _shortest_first(free: int, left: list[_Job], total: int) -> int:
    """A bound that takes every job for released."""
    end = max(free, min([job[1] for job in left]))
    dues = sorted([job[3] if job[5] == FIRST else ENDLESS for job in left])
    for due, job in zip(dues, left, strict=True):
        end += job[2]
        if end > due:
            total += end - due
    return total
