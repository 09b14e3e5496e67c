"""Between what instants every job must lie, if an order is to be better than the best one known.

Looking back from the dish-up every instant has a least distance by what is decided already, and a
greatest one beyond which some goal would be worse than it is in the best order so far. Where of two
open jobs of one place the first cannot lie nearer to the dish-up than the second, it lies farther
off, and that narrows both; where all of them do not fit into their windows even preemptively, there
is nothing better here (the immediate selection of one-machine scheduling, from memory).
"""

from passbell.schedule.net import ORIGIN
from passbell.schedule.reach import FREE, Into, Reach
from passbell.schedule.state import Gauge, State, Vector
from passbell.schedule.tables import Job, Tables

Task = tuple[int, int, int]
"""Release, length and minus the due instant of a job, looking back from the dish-up."""
ROUNDS = 3
"""How often the windows of all pools are gone over."""


class Windows:
    """Narrows the windows of open jobs.

    Args:
        tables: the net.
        gauge: the goals.
    """

    def __init__(self, tables: Tables, gauge: Gauge) -> None:
        self.tables = tables
        self.gauge = gauge
        self.narrow = [line.jobs for line in tables.lines if line.places == 1]

    def narrowed(self, state: State, best: Vector, goals: int) -> tuple[State, int] | None:
        """A place with what its windows show of its figures; None: it holds nothing better.

        Args:
            state: the place.
            best: the best figures known.
            goals: how many of them matter.

        Returns:
            The place, its orders as they were, and the bits of the jobs that cannot be the last of
            their pool.
        """
        reach = state.reach
        high = self._ceilings(state, best, goals)
        into, low = reach.into.copy(), reach.tail.copy()
        if not _lowered(into, low, high):
            return None
        barred, view = 0, _View(into, low, high)
        for _ in range(ROUNDS):
            found: set[int] = set()
            for jobs in self.narrow:
                open_ = [job for job in jobs if job.bit & state.left]
                bits = view.selected(open_, found)
                if bits is None:
                    return None
                barred |= bits
            if not found:
                break
            if not _raised(into, low, high, found) or not _lowered(into, low, high):
                return None
        if low == reach.tail:
            return state, barred
        reach = Reach(into, low, reach.cap)
        figures = self.gauge.figures(reach, state.left, state.figures)
        if figures[:goals] >= best[:goals]:
            return None
        return state._replace(figures=figures), barred

    def _ceilings(self, state: State, best: Vector, goals: int) -> list[int]:
        """How long before the dish-up every node is at most, by the goals themselves."""
        gauge, reach, figures = self.gauge, state.reach, state.figures
        high = [FREE] * len(reach.tail)
        for goal in range(goals):
            most = best[goal] - (goal == goals - 1)
            kind = gauge.kinds[goal]
            if kind == "table":
                high[ORIGIN] = min(high[ORIGIN], most)
            elif kind != "start":
                self._dishes(reach, high, most, held=kind == "over")
            elif gauge.begun is None:
                table = best[1 - gauge.table_first]
                for node, plus in gauge.leads:
                    high[node] = min(high[node], table + most + plus)
            if figures[goal] < best[goal]:
                break
        return high

    def _dishes(self, reach: Reach, high: list[int], most: int, *, held: bool) -> None:
        tail = reach.tail
        costs = []
        for node, base, hold in self.gauge.dishes:
            wait = tail[node] - base
            costs.append(max(0, wait - hold) if held else wait)
        spare = most - sum(costs)
        for (node, base, hold), cost in zip(self.gauge.dishes, costs, strict=True):
            limit = base + cost + spare + (hold if held else 0)
            high[node] = min(high[node], limit)


class _View:
    """The windows of one place of the search while they are narrowed."""

    def __init__(self, into: Into, low: list[int], high: list[int]) -> None:
        self.into, self.low, self.high = into, low, high
        self.known: set[tuple[int, int]] = set()

    def selected(self, jobs: list[Job], found: set[int]) -> int | None:
        """Narrow the windows of the open jobs of one place; None: they do not fit.

        Args:
            jobs: the jobs.
            found: gathers the nodes whose windows are narrower, or that have new arcs.

        Returns:
            The bits of the jobs that cannot be the last.
        """
        low, high = self.low, self.high
        tasks = _tasks(jobs, low, high)
        if _loose(tasks):
            return 0
        later = edges(tasks)
        sooner = edges([(less, length, release) for release, length, less in tasks])
        if later is None or sooner is None:
            return None
        barred = 0
        for job, task, new, old in zip(jobs, tasks, later, sooner, strict=True):
            bit, node, plus, length = job
            if new > task[0]:
                low[node] = max(low[node], new + length + plus)
                barred |= bit
                found.add(node)
            if old > task[2]:
                high[node] = min(high[node], plus - old)
                found.add(node)
        pairs = self._pairs(jobs, tasks, found)
        return None if pairs is None else barred | pairs

    def _pairs(self, jobs: list[Job], tasks: list[Task], found: set[int]) -> int | None:
        """Order the pairs that can only be one way round; None: some can be neither."""
        nearest = min([-less - length for _, length, less in tasks])
        barred = 0
        for job, (release, length, _) in zip(jobs, tasks, strict=True):
            far = release + length
            if far <= nearest:
                continue
            for other, (_, lasts, less) in zip(jobs, tasks, strict=True):
                if far > -less - lasts and other is not job:
                    barred |= job.bit
                    if not self._ordered(job, other, found):
                        return None
        return barred

    def _ordered(self, before: Job, after: Job, found: set[int]) -> bool:
        pair = before.bit, after.bit
        if pair not in self.known and before.node != after.node:
            if pair[::-1] in self.known:
                return False
            self.known.add(pair)
            link = (before.node, before.plus + before.length - after.plus)
            self.into[after.node] += (link,)
            found.add(after.node)
        return True


def _tasks(jobs: list[Job], low: list[int], high: list[int]) -> list[Task]:
    """The windows of jobs as tasks of a machine that runs from the dish-up back."""
    found = []
    for _, node, plus, length in jobs:
        found.append((low[node] - plus - length, length, plus - high[node]))
    return found


def _loose(tasks: list[Task]) -> bool:
    """Whether any order of some tasks fits into their windows."""
    if len(tasks) < 2:
        return True
    work = sum([length for _, length, _ in tasks])
    return max(tasks)[0] + work <= -max([less for _, _, less in tasks])


def edges(tasks: list[Task]) -> list[int] | None:
    """How late each task of one machine starts at least, by the sets of others it must follow.

    A task that does not fit before the last due instant of some others when it is not the last of
    them comes after all of them (edge finding, from memory). Given the mirror image, minus due
    instants for releases, it tells minus the latest ends.

    Args:
        tasks: release, length and minus the due instant of each.

    Returns:
        The releases, some later; None where some tasks do not fit into their windows.
    """
    order = sorted(range(len(tasks)), key=tasks.__getitem__)
    found = [task[0] for task in tasks]
    for limit in {task[2] for task in tasks}:
        work, most = 0, -FREE
        ends = [0] * len(tasks)
        for k in reversed(order):
            release, length, less = tasks[k]
            if less >= limit:
                work += length
                most = max(most, release + work)
            ends[k] = most
        if most > -limit:
            return None
        if len(tasks) > 1:
            _follow(tasks, order, (limit, work, ends), found)
    return found


def _follow(
    tasks: list[Task], order: list[int], crowd: tuple[int, int, list[int]], found: list[int]
) -> None:
    """Let the tasks that do not fit before the last due instant of a crowd come after it."""
    limit, work, ends = crowd
    most, least = ends[order[0]], -FREE
    for k in order:
        release, length, less = tasks[k]
        if less >= limit:
            least = max(least, release + work)
            work -= length
        elif least + length > -limit:
            found[k] = max(found[k], most)
        elif work and release + work + length > -limit:
            found[k] = max(found[k], ends[k])


def _raised(into: Into, low: list[int], high: list[int], changed: set[int]) -> bool:
    """Follow new arcs; False where a way becomes longer than it may be."""
    queue = list(changed)
    for node in queue:
        here = low[node]
        for before, least in into[node]:
            if low[before] < here + least:
                low[before] = here + least
                if low[before] > high[before]:
                    return False
                queue.append(before)
    return True


def _lowered(into: Into, low: list[int], high: list[int]) -> bool:
    """Let every ceiling follow from those before it; False where it is too low."""
    order = sorted(range(len(low)), key=low.__getitem__, reverse=True)
    again = True
    while again:
        again = False
        done, early = bytearray(len(low)), bytearray(len(low))
        for node in order:
            done[node] = 1
            known = most = high[node]
            for before, least in into[node]:
                if high[before] < most + least:
                    most = high[before] - least
                if not done[before]:
                    early[before] = 1
            if most < low[node]:
                return False
            if most < known:
                high[node] = most
                if early[node]:
                    again = True
    return True
