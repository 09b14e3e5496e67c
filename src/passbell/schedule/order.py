"""A whole order of work, and what it costs."""

from dataclasses import dataclass

from passbell.schedule.clash import inside
from passbell.schedule.ground import ROUNDS, Ground, Vain, all_tails
from passbell.schedule.net import ORIGIN
from passbell.schedule.reach import FREE, Into, Reach
from passbell.schedule.state import Gauge, Vector
from passbell.schedule.tables import Job, Line, Tables

Tracks = tuple[tuple[Job, ...], ...]
"""Per place of a pool its jobs, from the last back."""

Shift = tuple[int, int, int, int, int]
"""Pool, track, from which place, to which track, to which place of it."""

Row = tuple[int, list[Job], int, int]
"""A track with its number, and between which places its jobs have changed."""

Links = dict[int, tuple[int, int]]
"""Per job (its bit) the arc that lets the one before it on its place end first."""


@dataclass(frozen=True, slots=True)
class Whole:
    """An order of all jobs with its figures.

    Attributes:
        figures: the goals in their order.
        lines: per pool, its tracks.
        links: the arcs of this order.
        reach: its longest paths.
    """

    figures: Vector
    lines: tuple[Tracks, ...]
    links: Links
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
        self.bits: list[list[int]] = [[] for _ in self.into]
        for job in (job for line in tables.lines for job in line.jobs):
            self.bits[job.node].append(job.bit)

    def tracks(self, at: list[int]) -> tuple[Tracks, ...]:
        """The order that the instants of a schedule show."""
        return tuple(_tracks(line, at) for line in self.tables.lines)

    def weigh(self, lines: tuple[Tracks, ...], hint: list[int]) -> Whole | None:
        """The figures of an order; None when it contradicts itself.

        Args:
            lines: the order.
            hint: the nodes, those nearest to the dish-up first, as far as one can guess.
        """
        into, links = self.into.copy(), {}
        for track in (track for tracks in lines for track in tracks):
            for place in range(1, len(track)):
                after = track[place - 1]
                links[after.bit] = link = _link(track[place], after)
                into[after.node] += (link,)
        return self._whole(lines, links, into, hint)

    def shifted(
        self, whole: Whole, shift: Shift, ground: Ground, vain: Vain | None = None
    ) -> Whole | None:
        """The same with one job shifted to another place of its track, or to another track.

        None where that contradicts itself, or is surely vain.
        """
        line = shift[0]
        links, into = whole.links.copy(), whole.reach.into.copy()
        tracks = list(whole.lines[line])
        nodes: set[int] = set()
        for number, track, first, last in _rows(tracks, shift):
            tracks[number] = tuple(track)
            for place in range(first, last + 1):
                after = track[place]
                links.pop(after.bit, None)
                if place + 1 < len(track):
                    links[after.bit] = _link(track[place + 1], after)
                nodes.add(after.node)
        for node in nodes:
            found = [links[bit] for bit in self.bits[node] if bit in links]
            into[node] = (*self.into[node], *found)
        tail = ground.tail(into, nodes, self.gauge, vain)
        if tail is None:
            return None
        lines = (*whole.lines[:line], tuple(tracks), *whole.lines[line + 1 :])
        return self._known(lines, links, Reach(into, tail, None), ground.hint)

    def _whole(
        self, lines: tuple[Tracks, ...], links: Links, into: Into, hint: list[int]
    ) -> Whole | None:
        tail = all_tails(into, hint)
        return None if tail is None else self._known(lines, links, Reach(into, tail, None), hint)

    def _known(
        self, lines: tuple[Tracks, ...], links: Links, reach: Reach, hint: list[int]
    ) -> Whole | None:
        into, tail = reach.into, reach.tail
        cap = _caps(into, hint) if self.pinned else None
        if self.pinned and cap is None:
            return None
        reach = Reach(into, tail, cap)
        return Whole(self.gauge.plain(reach), lines, links, reach)


def _link(before: Job, after: Job) -> tuple[int, int]:
    return before.node, before.plus + before.length - after.plus


def _rows(tracks: list[tuple[Job, ...]], shift: Shift) -> list[Row]:
    """The tracks that a shift changes."""
    _, number, origin, other, goal = shift
    track = list(tracks[number])
    job = track.pop(origin)
    if other == number:
        track.insert(goal, job)
        return [(number, track, max(0, min(origin, goal) - 1), max(origin, goal))]
    onto = list(tracks[other])
    onto.insert(goal, job)
    left = (number, track, max(0, origin - 1), origin - 1)
    return [left, (other, onto, max(0, goal - 1), goal)]


def _tracks(line: Line, at: list[int]) -> Tracks:
    jobs = (*line.jobs, *line.held)
    if line.places == 1:
        return (tuple(sorted(jobs, key=lambda job: -at[job.node] - job.plus)),)
    tracks: list[list[Job]] = [[] for _ in range(line.places)]
    free = [-FREE] * line.places
    for job in sorted(jobs, key=lambda job: (-at[job.node] - job.plus - job.length, job.bit)):
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


def _caps(into: Into, hint: list[int]) -> list[int] | None:
    """Latest instants by the facts; None when one would have to be before the origin."""
    cap = [FREE] * len(into)
    cap[ORIGIN] = 0
    for _ in range(ROUNDS):
        again = False
        for node in hint:
            here = cap[node]
            for before, least in into[node]:
                if cap[before] > here - least:
                    cap[before] = here - least
                    again = True
        if cap[ORIGIN] < 0:
            return None
        if not again:
            return cap
    return None
