"""The last tie-breaks: preps as late as the rest allows, and equals in file order.

Nothing here touches a figure: only preps move, and equal components change places.
"""

from itertools import pairwise

from passbell.schedule.facts import lasting
from passbell.schedule.model import Problem, Work
from passbell.schedule.net import busy_hands

Starts = list[list[int]]


def polish(problem: Problem, starts: Starts) -> None:
    """Settle, in place, what the figures leave open."""
    _equals_in_order(problem, starts)
    preps = [w for chain in problem.works for w in chain if _loose(w)]
    _later(problem, starts, preps)
    if _swap_in_order(problem, starts, preps):
        _later(problem, starts, preps)


def _loose(work: Work) -> bool:
    return work.kind == "prep" and work.began is None and work.hands > 0


def _equals_in_order(problem: Problem, starts: Starts) -> None:
    """Let of components that are alike in every figure the first of the file begin first."""
    alike: dict[object, list[int]] = {}
    for component, chain in enumerate(problem.works):
        if chain and all(work.began is None for work in chain):
            alike.setdefault(_likeness(problem, component), []).append(component)
    for group in alike.values():
        rows = sorted(starts[component] for component in group)
        for component, row in zip(group, rows, strict=True):
            starts[component] = row


def _likeness(problem: Problem, component: int) -> object:
    steps = [
        (w.kind, w.time, w.hands, w.machine, w.runs, w.gap_min, w.gap_max, w.release)
        for w in problem.works[component]
    ]
    return problem.holds[component], tuple(steps)


def _later(problem: Problem, starts: Starts, preps: list[Work]) -> None:
    """Move every prep to the latest place its own component and the hands leave it."""
    moved = True
    while moved:
        moved = False
        for work in sorted(preps, key=lambda w: -starts[w.component][w.index]):
            low, high = _window(problem, starts, work)
            at = _latest_gap(problem, starts, work, (low, high))
            if at is not None and at > starts[work.component][work.index]:
                starts[work.component][work.index] = at
                moved = True


def _swap_in_order(problem: Problem, starts: Starts, preps: list[Work]) -> bool:
    """Let preps that follow each other at once stand in file order, where they may."""
    swapped = again = False
    for _ in preps:
        order = sorted(preps, key=lambda w: (starts[w.component][w.index], w.component))
        again = False
        for one, other in pairwise(order):
            if other.component < one.component and _swap(problem, starts, one, other):
                swapped = again = True
        if not again:
            break
    return swapped


def _swap(problem: Problem, starts: Starts, one: Work, other: Work) -> bool:
    """Exchange two preps that follow each other at once; whether that could be done."""
    first, second = starts[one.component][one.index], starts[other.component][other.index]
    if first + one.hands != second or one.hands != one.time or other.hands != other.time:
        return False
    starts[other.component][other.index] = first
    starts[one.component][one.index] = first + other.time
    if _fits(problem, starts, one) and _fits(problem, starts, other):
        return True
    starts[one.component][one.index], starts[other.component][other.index] = first, second
    return False


def _fits(problem: Problem, starts: Starts, work: Work) -> bool:
    at = starts[work.component][work.index]
    low, high = _window(problem, starts, work)
    return low <= at <= high and _latest_gap(problem, starts, work, (at, at)) == at


def _window(problem: Problem, starts: Starts, work: Work) -> tuple[int, int]:
    """From when to when a step may start, its component's other steps as they are."""
    chain, row = problem.works[work.component], starts[work.component]
    low, high = max(work.release, problem.now), row[work.index]
    if work.index + 1 < len(chain):
        after = row[work.index + 1] - work.time
        high = after - work.gap_min
        low = low if work.gap_max is None else max(low, after - work.gap_max)
    if work.index > 0:
        before = chain[work.index - 1]
        end = row[before.index] + lasting(before)
        low = max(low, end + before.gap_min)
        high = high if before.gap_max is None else min(high, end + before.gap_max)
    return low, high


def _latest_gap(
    problem: Problem, starts: Starts, work: Work, window: tuple[int, int]
) -> int | None:
    """The latest start within a window at which a pair of hands is free for all of it."""
    low, high = window
    busy = [
        (starts[w.component][w.index], starts[w.component][w.index] + busy_hands(w))
        for chain in problem.works
        for w in chain
        if w is not work and busy_hands(w)
    ]
    for at in sorted({high, *(s - work.hands for s, _ in busy if low <= s - work.hands < high)})[
        ::-1
    ]:
        crowd = [span for span in busy if span[0] < at + work.hands and at < span[1]]
        moments = [at, *(s for s, _ in crowd if s > at)]
        if all(sum(s <= m < e for s, e in crowd) < problem.hands for m in moments):
            return at if at >= low else None
    return None
