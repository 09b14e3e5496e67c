"""What a search looks up again and again about one net: who competes, who depends on whom."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import reduce
from operator import or_
from typing import NamedTuple

from passbell.schedule.net import ORIGIN, TABLE, Net, Point, Pool
from passbell.schedule.reach import NEVER, Reach

Out = list[list[tuple[int, int]]]


class Job(NamedTuple):
    """A task of a pool whose order is to be decided; it starts `plus` after its node."""

    bit: int
    node: int
    plus: int
    length: int


class Claim(NamedTuple):
    """A job by which a pool can make a dish wait.

    Attributes:
        job: the job.
        base: a start so long before the dish-up makes the dish wait that long minus base.
        due: base plus the hold of the dish.
        dish: index of the dish.
    """

    job: Job
    base: int
    due: int
    dish: int


class Twin(NamedTuple):
    """A second job by which a pool can make a dish wait, done before the first one in time.

    Attributes:
        claim: the second job, its base and due.
        gap: looking back from the dish-up, the least time from the end of the first to it.
        first: the bit of the first job.
    """

    claim: Claim
    gap: int
    first: int


class Line(NamedTuple):
    """A pool as the search sees it.

    Attributes:
        places: how many jobs at once.
        jobs: what competes.
        claims: per dish that the pool can make wait, the job that presses hardest.
        twins: per such dish at most one more job.
        held: what has begun and still holds a place; its order is not open.
    """

    places: int
    jobs: tuple[Job, ...]
    claims: tuple[Claim, ...]
    twins: tuple[Twin, ...]
    held: tuple[Job, ...]


@dataclass(frozen=True, slots=True)
class Tables:
    """Everything about a net that does not change during a search.

    Attributes:
        net: the net.
        lines: its pools.
        needs: per node, the bits of all jobs and choices that its instant depends on.
        choices: per step with several runs of stages, its bit.
        every: all bits.
        heads: per node, how long after the origin it is at the earliest.
        leads: per node, how long after the first beginning of anything it is at the earliest.
    """

    net: Net
    lines: tuple[Line, ...]
    needs: tuple[int, ...]
    choices: tuple[int, ...]
    every: int
    heads: tuple[int, ...]
    leads: tuple[int, ...]


def tables_of(net: Net, root: Reach) -> Tables:
    """The tables of a net that does not contradict itself, from its longest paths."""
    jobs = _jobs(net.pools)
    bits = [0] * net.size
    for job in (job for row in jobs for job in row):
        bits[job.node] |= job.bit
    choices = _choice_bits(net, bits)
    out = _out(net)
    ways = {dish.node: _longest(out, (Point(dish.node),)) for dish in net.dishes}
    lines = []
    for pool, row in zip(net.pools, jobs, strict=True):
        claims = _claims(net, root, ways, row)
        twins = _twins(net, out, ways, (row, claims))
        lines.append(Line(pool.places, row, claims, twins, _held(pool)))
    return Tables(
        net=net,
        lines=tuple(lines),
        needs=tuple(_needs(out, bits)),
        choices=choices,
        every=_all_bits(bits),
        heads=tuple(_longest(out, (Point(ORIGIN),))),
        leads=tuple(_longest(out, net.leads)),
    )


def _jobs(pools: Iterable[Pool]) -> list[tuple[Job, ...]]:
    found: list[tuple[Job, ...]] = []
    bit = 1
    for pool in pools:
        row = []
        for node, plus, length in (task for task in pool.tasks if task.node != ORIGIN):
            row.append(Job(bit, node, plus, length))
            bit <<= 1
        found.append(tuple(row))
    return found


def _held(pool: Pool) -> tuple[Job, ...]:
    return tuple(Job(0, *task) for task in pool.tasks if task.node == ORIGIN)


def _choice_bits(net: Net, bits: list[int]) -> tuple[int, ...]:
    """Give every step with several runs a bit, on its node and on what its runs may move."""
    bit = _all_bits(bits) + 1
    found = []
    for choice in net.choices:
        bounds = [point.node for point in net.bounds[choice.machine]]
        for node in {choice.start.node, *bounds} - {ORIGIN}:
            bits[node] |= bit
        found.append(bit)
        bit <<= 1
    return tuple(found)


def _needs(out: Out, bits: list[int]) -> list[int]:
    """Per node the bits of every node that can be reached from it, found by going round."""
    needs = bits.copy()
    changed = True
    while changed:
        changed = False
        for node in range(len(out) - 1, TABLE, -1):
            more = reduce(or_, [needs[after] for after, _ in out[node] if after > TABLE], 0)
            if more & ~needs[node]:
                needs[node] |= more
                changed = True
    return needs


def _all_bits(masks: Iterable[int]) -> int:
    return reduce(or_, masks, 0)


def _out(net: Net) -> Out:
    out: Out = [[] for _ in range(net.size)]
    for arc in net.arcs:
        out[arc.before].append((arc.after, arc.least))
    return out


def _longest(out: Out, starts: tuple[Point, ...]) -> list[int]:
    """Longest ways from some instants to every node, not through the origin or the dish-up."""
    best = [NEVER] * len(out)
    for node, plus in starts:
        best[node] = max(best[node], -plus)
    queue = list(dict.fromkeys(node for node, _ in starts))
    for node in queue:
        here = best[node]
        for after, least in out[node]:
            if after > TABLE and best[after] < here + least:
                best[after] = here + least
                queue.append(after)
    return best


def _claims(
    net: Net, root: Reach, ways: dict[int, list[int]], jobs: tuple[Job, ...]
) -> tuple[Claim, ...]:
    """One job for each dish and one dish for each job, those that press hardest first."""
    pairs = []
    for index, dish in enumerate(net.dishes):
        for job in jobs if dish.node != ORIGIN else ():
            way = ways[dish.node][job.node]
            if way > NEVER // 2:
                loose = root.tail[dish.node] - root.tail[job.node] - way
                pairs.append((loose, abs(way), -job.length, index, job))
    found: dict[int, Claim] = {}
    taken = 0
    for _, _, _, index, job in sorted(pairs):
        if index not in found and not job.bit & taken:
            taken |= job.bit
            dish = net.dishes[index]
            base = dish.base - ways[dish.node][job.node] - job.plus
            found[index] = Claim(job, base, base + dish.hold, index)
    return tuple(found[index] for index in sorted(found))


def _twins(
    net: Net,
    out: Out,
    ways: dict[int, list[int]],
    crowd: tuple[tuple[Job, ...], tuple[Claim, ...]],
) -> tuple[Twin, ...]:
    """Per dish the job that must come next before its claim and makes it wait too, if any."""
    jobs, claims = crowd
    taken = reduce(or_, [claim.job.bit for claim in claims], 0)
    found = []
    for first, _, _, index in claims:
        dish, best = net.dishes[index], None
        for job in jobs:
            way = ways[dish.node][job.node]
            if job.bit & taken or way <= NEVER // 2:
                continue
            between = _longest(out, (Point(job.node),))[first.node]
            gap = first.plus + between - job.plus - job.length
            if between > NEVER // 2 and gap >= 0 and (best is None or gap < best.gap):
                base = dish.base - way - job.plus
                best = Twin(Claim(job, base, base + dish.hold, index), gap, first.bit)
        if best is not None:
            taken |= best.claim.job.bit
            found.append(best)
    return tuple(found)
