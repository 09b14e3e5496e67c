"""The schedule in force moved along as a whole, where that is provably the best of what is left.

While something takes longer than planned, or less, what has not begun mostly keeps its order and
its distances, and only comes later or sooner. Such an answer is tried before anything is searched,
and taken only where it keeps every limit and its figures are those of a lower bound: `least`.
"""

from collections.abc import Sequence
from dataclasses import replace

from passbell.cook.least import is_least, to_come
from passbell.cook.least_hands import busy_until, end_of
from passbell.cook.state import CookState
from passbell.schedule.feasible import violations
from passbell.schedule.model import Machine, Problem, Schedule, Work

Chain = tuple[Work, ...]
Rows = list[list[int]]


def shifted(state: CookState, problem: Problem) -> Schedule | None:
    """The schedule in force, with what happened put in and the rest moved by one amount.

    Args:
        state: the cook.
        problem: what is left of the meal, of the state.

    Returns:
        A schedule that no other betters in any figure; None: it has to be searched for.
    """
    old = state.schedule
    if old.stretched or old.relaxed or old.earlier is not None or not _alike(problem, old):
        return None
    by = _by(problem, old)
    if by is None:
        return None
    found = _placed(problem, old, by)
    if (
        found is None
        or _waits_too_long(problem, found)
        or not is_least(problem, found, state.tables.known)
    ):
        return None
    return None if violations(problem, found) else found


def _waits_too_long(problem: Problem, found: Schedule) -> bool:
    """Whether food that is yet to go on the heat waits past its hold."""
    return found.over_hold > 0 and any(
        to_come(chain) and _wait(chain, ends, found.dish_up) > hold
        for chain, ends, hold in zip(problem.works, found.ends, problem.holds, strict=True)
    )


def _alike(problem: Problem, old: Schedule) -> bool:
    """Whether all steps are there, some have begun, and none began before the one it follows."""
    some = False
    for chain, row in zip(problem.works, old.starts, strict=True):
        if len(chain) != len(row):
            return False
        open_one = False
        for work in chain:
            if work.began is None:
                open_one = True
            elif open_one:
                return False
            else:
                some = True
    return some and not any(
        w.began is None and w.machine is not None and problem.machines[w.machine].over
        for chain in problem.works
        for w in chain
    )


def _by(problem: Problem, old: Schedule) -> int | None:
    """By how much all that has not begun has to move at least; below 0: it may come sooner."""
    found = [problem.now - old.dish_up]
    if problem.serve is not None:
        found.append(problem.serve - old.dish_up)
    busy = busy_until(problem) if problem.hands == 1 else None
    for chain, row in zip(problem.works, old.starts, strict=True):
        found.extend(_by_chain(problem, chain, row, old.dish_up))
        if busy is not None:
            found += [
                busy - at for w, at in zip(chain, row, strict=True) if w.began is None and w.hands
            ]
    for index, machine in enumerate(problem.machines):
        bounds = old.bounds[index]
        if bounds and not machine.bounds and not _fed(problem, index):
            found.append(_ready(problem, machine) - bounds[0])
    return max(found)


def _by_chain(problem: Problem, chain: Chain, row: tuple[int, ...], table: int) -> list[int]:
    """What one component asks: where its next step can begin at last, or that it is done."""
    end, gap = 0, 0
    for index, (work, start) in enumerate(zip(chain, row, strict=True)):
        if work.began is not None:
            end, gap = end_of(work), work.gap_min
            continue
        floor = max(problem.now, work.release, end + gap if index else 0)
        if not _rests_at_once(chain, index):
            return [floor - start] + [max(problem.now, w.release) - s
                                      for w, s in zip(chain[index:], row[index:], strict=True)
                                      if not _rests_at_once(chain, w.index)]  # fmt: skip
        end, gap = floor + work.time, work.gap_min
    return [end - table]


def _rests_at_once(chain: Chain, index: int) -> bool:
    """Whether a step is a rest after the last time on the heat: it follows at once."""
    work = chain[index]
    after = any(w.kind == "cook" for w in chain[:index])
    return (
        work.kind == "rest"
        and not work.hands
        and after
        and not any(w.kind == "cook" for w in chain[index:])
    )


def _fed(problem: Problem, machine: int) -> bool:
    return any(w.machine == machine and w.began is not None for c in problem.works for w in c)


def _ready(problem: Problem, machine: Machine) -> int:
    on = problem.now if machine.on is None else machine.on
    return max(on + machine.preheat, machine.release, problem.now)


def _placed(problem: Problem, old: Schedule, by: int) -> Schedule | None:
    """The schedule moved by so many seconds, with its figures; None: a program forbids it."""
    starts: Rows = []
    ends: Rows = []
    for chain, row in zip(problem.works, old.starts, strict=True):
        begins, over = _chain_at(chain, row, by)
        starts.append(begins)
        ends.append(over)
    table = old.dish_up + by
    bounds = [_bounds(problem, m, old.bounds[m], (by, starts, ends)) for m in range(len(old.on))]
    if any(found is None for found in bounds):
        return None
    firm = tuple(found or () for found in bounds)
    on = tuple(
        m.on if m.on is not None else at[0] - m.preheat if at else None
        for m, at in zip(problem.machines, firm, strict=True)
    )
    moved = replace(
        old,
        starts=tuple(tuple(row) for row in starts),
        ends=tuple(tuple(row) for row in ends),
        on=on,
        bounds=firm,
        dish_up=table,
        proven=True,
        bound=0,
    )
    return _with_figures(problem, moved)


def _with_figures(problem: Problem, moved: Schedule) -> Schedule:
    table, on = moved.dish_up, [at for at in moved.on if at is not None]
    waits = [_wait(c, row, table) for c, row in zip(problem.works, moved.ends, strict=True)]
    late = 0 if problem.serve is None else table - problem.serve
    return replace(
        moved,
        over_hold=sum(max(0, w - h) for w, h in zip(waits, problem.holds, strict=True)),
        wait=sum(waits),
        start=min([row[0] for row in moved.starts if row] + on + [table]),
        late=late,
        spare=0 if problem.serve is None or late > 0 else moved.spare,
    )


def _chain_at(chain: Chain, row: tuple[int, ...], by: int) -> tuple[list[int], list[int]]:
    begins: list[int] = []
    ends: list[int] = []
    for index, (work, start) in enumerate(zip(chain, row, strict=True)):
        if work.began is not None:
            begins.append(work.began)
            ends.append(end_of(work))
            continue
        at = max(work.release, ends[-1]) if _rests_at_once(chain, index) else start + by
        begins.append(at)
        ends.append(at + work.time)
    return begins, ends


def _wait(chain: Chain, ends: Sequence[int], table: int) -> int:
    last = max((w.index for w in chain if w.kind == "cook"), default=None)
    if last is None:
        return 0
    after = sum(w.time if w.began is None else end_of(w) - w.began for w in chain[last + 1 :])
    return table - ends[last] - after


def _bounds(
    problem: Problem, index: int, old: tuple[int, ...], moved: tuple[int, Rows, Rows]
) -> tuple[int, ...] | None:
    """The boundaries of an appliance; None: what is left of its program is not simply moved."""
    machine, (by, starts, ends) = problem.machines[index], moved
    food = [w for chain in problem.works for w in chain if w.machine == index]
    if not machine.stages:
        if not food:
            return ()
        first = min(starts[w.component][w.index] for w in food)
        return first, max(ends[w.component][w.index] for w in food)
    if machine.over:
        return old
    if not old or not machine.bounds:
        return tuple(at + by for at in old)
    found = list(machine.bounds[: len(machine.stages)])
    for stage in range(len(found) - 1, len(machine.stages)):
        time = machine.stages[stage]
        if time is not None:
            found.append(found[stage] + time)
        elif stage == len(machine.stages) - 1:
            last = max((ends[w.component][w.index] for w in food), default=0)
            found.append(max(found[stage], problem.now, last))
        else:
            return None
    return tuple(found)
