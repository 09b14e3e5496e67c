"""A whole order of work, and what it costs."""

from dataclasses import dataclass

from passbell.schedule.clash import inside
from passbell.schedule.net import ORIGIN, TABLE
from passbell.schedule.reach import FREE, NEVER, Into, Reach
from passbell.schedule.state import Gauge, Vector
from passbell.schedule.tables import Job, Line, Tables

Tracks = tuple[tuple[Job, ...], ...]
"""Per place of a pool its jobs, from the last back."""

ROUNDS = 12
"""How often the longest paths are gone over before an order is taken to contradict itself."""


@dataclass(frozen=True, slots=True)
class Whole:
    """An order of all jobs with its figures.

    Attributes:
        figures: the goals in their order.
        lines: per pool, its tracks.
        reach: its longest paths.
    """

    figures: Vector
    lines: tuple[Tracks, ...]
    reach: Reach


class Weigher:
    """Weighs whole orders of one net.

    Args:
        tables: the net.
        base: its longest paths without any order.
        gauge: the goals.
        at: instants of a schedule, which say in which run of stages each step is.
    """

    def __init__(self, tables: Tables, base: Reach, gauge: Gauge, at: list[int]) -> None:
        self.tables = tables
        self.gauge = gauge
        self.into = _with_runs(tables, base.into, at)
        self.pinned = base.cap is not None

    def tracks(self, at: list[int]) -> tuple[Tracks, ...]:
        """The order that the instants of a schedule show."""
        return tuple(_tracks(line, at) for line in self.tables.lines)

    def weigh(self, lines: tuple[Tracks, ...], hint: list[int]) -> Whole | None:
        """The figures of an order; None when it contradicts itself.

        Args:
            lines: the order.
            hint: the nodes, those nearest to the dish-up first, as far as one can guess.
        """
        into = self.into.copy()
        for track in (track for tracks in lines for track in tracks):
            for place in range(1, len(track)):
                _, node, plus, _ = track[place - 1]
                _, before, start, length = track[place]
                into[node] += ((before, start + length - plus),)
        tail = _settled(into, hint)
        if tail is None:
            return None
        cap = _caps(into, hint) if self.pinned else None
        if self.pinned and cap is None:
            return None
        reach = Reach(into, tail, cap)
        return Whole(self.gauge.plain(reach), lines, reach)


def nearest_first(reach: Reach) -> list[int]:
    """The nodes, those nearest to the dish-up first."""
    return sorted(range(len(reach.tail)), key=reach.tail.__getitem__)


def _tracks(line: Line, at: list[int]) -> Tracks:
    jobs = sorted(line.jobs, key=lambda job: (-at[job.node] - job.plus - job.length, job.bit))
    if line.places == 1:
        return (tuple(sorted(jobs, key=lambda job: -at[job.node] - job.plus)),)
    tracks: list[list[Job]] = [[] for _ in range(line.places)]
    free = [-FREE] * line.places
    for job in jobs:
        place = free.index(min(free))
        tracks[place].append(job)
        free[place] = -at[job.node] - job.plus
    return tuple(tuple(track) for track in tracks)


def _with_runs(tables: Tables, into: Into, at: list[int]) -> Into:
    """The arcs of a net, each step with several runs of stages held in the one it is in."""
    net, found = tables.net, into.copy()
    for choice in net.choices:
        bounds = net.bounds[choice.machine]
        for run in (run for run in choice.runs if inside(net, choice._replace(runs=(run,)), at)):
            first, last = bounds[run[0]], bounds[run[1] + 1]
            found[choice.start.node] += ((first.node, first.plus - choice.start.plus),)
            found[last.node] += ((choice.end.node, choice.end.plus - last.plus),)
            break
    return found


def _settled(into: Into, hint: list[int]) -> list[int] | None:
    tail = [NEVER] * len(into)
    tail[TABLE] = 0
    for _ in range(ROUNDS):
        changed = False
        for node in hint:
            here = tail[node]
            for before, least in into[node]:
                if tail[before] < here + least:
                    tail[before] = here + least
                    changed = True
        if not changed:
            return tail
    return None


def _caps(into: Into, hint: list[int]) -> list[int] | None:
    cap = [FREE] * len(into)
    cap[ORIGIN] = 0
    changed = True
    while changed:
        changed = False
        for node in hint:
            here = cap[node]
            for before, least in into[node]:
                if cap[before] > here - least:
                    cap[before] = here - least
                    changed = True
        if cap[ORIGIN] < 0:
            return None
    return cap
