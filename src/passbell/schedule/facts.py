"""What has happened, brought into order: a step has a past, a present or a future."""

from dataclasses import replace

from passbell.schedule.model import Problem, Stretch, Work

Runs = tuple[tuple[int, int], ...]


def settled(problem: Problem) -> tuple[Problem, tuple[Stretch, ...]]:
    """A problem whose facts agree with each other and with now.

    A step before one that has begun is taken as done when that one began; a step still running
    lasts at least until now; a step whose stages are over may be in those that are left.

    Returns:
        The problem, and the stretches (window, over) that its facts force.
    """
    works = tuple(tuple(_settled_chain(problem, chain)) for chain in problem.works)
    forced: list[Stretch] = []
    clipped = tuple(tuple(_clipped(problem, w, forced) for w in chain) for chain in works)
    return replace(problem, works=clipped), tuple(forced)


def span(work: Work) -> tuple[int, int] | None:
    """Start and end of a step that has begun, in seconds; None for one that has not."""
    if work.began is None:
        return None
    return work.began, work.began + work.time if work.ended is None else work.ended


def lasting(work: Work) -> int:
    """How long a step takes, or really took, in seconds."""
    fact = span(work)
    return work.time if fact is None else fact[1] - fact[0]


def _settled_chain(problem: Problem, chain: tuple[Work, ...]) -> list[Work]:
    found: list[Work] = []
    later: int | None = None
    for work in reversed(chain):
        found.append(_settled_work(problem, work, later))
        later = found[-1].began
    return found[::-1]


def _settled_work(problem: Problem, work: Work, later: int | None) -> Work:
    """A step by its facts; it stays itself where they agree, as nearly all do at every replan."""
    began = work.began if work.began is not None else work.ended
    time, ended, release = work.time, work.ended, work.release
    if began is None and later is None:
        release = max(release, problem.now)
    elif began is None:
        began = ended = later
    elif ended is not None:
        ended = max(began, ended)
    elif later is not None:
        ended = max(began, later)
    else:
        time = max(time, problem.now - began)
    if (began, ended, time, release) == (work.began, work.ended, work.time, work.release):
        return work
    return replace(work, began=began, ended=ended, time=time, release=release)


def _clipped(problem: Problem, work: Work, forced: list[Stretch]) -> Work:
    if work.machine is None or work.began is not None:
        return work
    machine = problem.machines[work.machine]
    if machine.over or 0 < len(machine.stages) < len(machine.bounds):
        forced.append(Stretch("over", work.component, work.index))
        return replace(work, runs=())
    if not work.runs:
        return work
    current = max(0, len(machine.bounds) - 1)
    runs = tuple((max(a, current), b) for a, b in work.runs if b >= current)
    if not runs:
        forced.append(Stretch("window", work.component, work.index))
        runs = ((current, len(machine.stages) - 1),)
    return work if runs == work.runs else replace(work, runs=runs)
