"""What no order can beat: bounds from the crowd on hands and slots.

Seen backwards from the dish-up a pool is a machine with release dates: a job may be in its place
from (dish-up − latest end) on. Preempting freely, shortest rest first, gives the least possible
k-th completion for every k at once; matched with the sorted due instants of the dishes behind the
jobs it bounds the sums of waits (Chu's bound for total tardiness with release dates, from memory).
The dish-up itself is bounded by the preemptive one-machine bound with heads and tails (Jackson's,
from memory). A pool of several places is no faster than one place that works that many times as
fast.
"""

from heapq import heappop, heappush, heapreplace

from passbell.schedule.reach import FREE
from passbell.schedule.tables import Claim, Line

LONG = FREE * 64


def sums(
    lines: tuple[Line, ...], left: int, far: list[int], waits: list[int], overs: list[int]
) -> tuple[int, int]:
    """Bounds on the sum of over-holds and the sum of waits.

    Args:
        lines: the pools.
        left: the bits of the jobs whose order is open.
        far: per node, how long before the dish-up it is at the latest.
        waits: per dish, its wait as far as orders are decided.
        overs: per dish, the part of it beyond its hold.
    """
    gains = []
    for line in lines:
        if len(line.claims) > line.places:
            claims = [claim for claim in line.claims if claim.job.bit & left]
            if len(claims) > line.places:
                gains.append(_gain(line.places, claims, far, waits, overs))
    over = _disjoint([(gain[0], gain[2]) for gain in gains])
    wait = _disjoint([(gain[1], gain[2]) for gain in gains])
    return sum(overs) + over, sum(waits) + wait


def _disjoint(gains: list[tuple[int, int]]) -> int:
    """The sum of gains of crowds that share no dish, greatest first."""
    if len(gains) == 1:
        return gains[0][0]
    total = taken = 0
    for gain, dishes in sorted(gains, reverse=True):
        if gain and not dishes & taken:
            total += gain
            taken |= dishes
    return total


def _gain(
    places: int, claims: list[Claim], far: list[int], waits: list[int], overs: list[int]
) -> tuple[int, int, int]:
    """By how much one crowd raises the sums of its dishes, and the bits of those dishes."""
    jobs: list[tuple[int, int]] = []
    dues: list[int] = []
    bases = over = wait = dishes = 0
    for (_, node, plus, length), base, due, dish in claims:
        jobs.append((far[node] - plus - length, length))
        dues.append(due)
        bases += base
        over += overs[dish]
        wait += waits[dish]
        dishes |= 1 << dish
    done = completions(jobs, places)
    dues.sort()
    late = 0
    for c, d in zip(done, dues, strict=True):
        if c > d:
            late += c - d
    return max(0, late - over), max(0, sum(done) - bases - wait), dishes


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
