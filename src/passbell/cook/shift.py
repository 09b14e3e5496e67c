"""The schedule in force moved along as a whole, where that is provably the best of what is left.

While something takes longer than planned, or less, what has not begun mostly keeps its order and
its distances, and only comes later or sooner. Such an answer is tried before anything is searched,
and taken only where it keeps every limit and its figures are those of a lower bound: `least`.
"""

from collections.abc import Sequence

from passbell.cook.least import is_least, is_surely_least, to_come
from passbell.cook.least_hands import busy_until, end_of
from passbell.cook.shift_fits import fits
from passbell.cook.state import CookState
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
    if found is None or _waits_too_long(problem, found) or not fits(problem, found):
        return None
    return found if is_least(problem, found, state.tables.known) else None


def moved_by(state: CookState, problem: Problem, by: int) -> Schedule | None:
    """The same, where it is certain at once that the rest moves by so many seconds exactly.

    Args:
        state: the cook.
        problem: what is left of the meal at a later instant, of the state.
        by: how long after that of the state, in seconds.
    """
    old = state.schedule
    if not _alike(problem, old) or _by(problem, old) != by:
        return None
    found = _placed(problem, old, by)
    if found is None or _waits_too_long(problem, found) or not fits(problem, found):
        return None
    return found if is_surely_least(problem, found) else None


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
        found.append(_by_chain(problem, chain, row, old.dish_up))
        if busy is not None:
            found += [
                busy - at for w, at in zip(chain, row, strict=True) if w.began is None and w.hands
            ]
    for index, machine in enumerate(problem.machines):
        bounds = old.bounds[index]
        if bounds and not machine.bounds and not _fed(problem, index):
            found.append(_ready(problem, machine) - bounds[0])
    return max(found)


def _by_chain(problem: Problem, chain: Chain, row: tuple[int, ...], table: int) -> int:
    """What one component asks: where its next step can begin at last, or that it is done."""
    now, end, gap = problem.now, 0, 0
    found: int | None = None
    for index, (work, start) in enumerate(zip(chain, row, strict=True)):
        if work.began is not None:
            end, gap = end_of(work), work.gap_min
            continue
        rests = _rests_at_once(chain, index)
        if found is None:
            floor = max(now, work.release, end + gap if index else 0)
            if rests:
                end, gap = floor + work.time, work.gap_min
            else:
                found = floor - start
        elif not rests:
            found = max(found, max(now, work.release) - start)
    return end - table if found is None else found


def _rests_at_once(chain: Chain, index: int) -> bool:
    """Whether a step is a rest after the last time on the heat: it follows at once."""
    work = chain[index]
    if work.kind != "rest" or work.hands:
        return False
    after = any(w.kind == "cook" for w in chain[:index])
    return after and not any(w.kind == "cook" for w in chain[index:])


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
        begins, over = _chain_at(chain, row, by, problem.now)
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
    return _with_figures(problem, old, (starts, ends, on, firm, table))


def _with_figures(
    problem: Problem,
    old: Schedule,
    moved: tuple[Rows, Rows, tuple[int | None, ...], tuple[tuple[int, ...], ...], int],
) -> Schedule | None:
    """The figures of a schedule that was moved; None: food is served before it is done."""
    starts, ends, on, bounds, table = moved
    over = wait = 0
    for chain, row, hold in zip(problem.works, ends, problem.holds, strict=True):
        waits = _wait(chain, row, table)
        if waits < 0:
            return None
        wait += waits
        if waits > hold:
            over += waits - hold
    late = 0 if problem.serve is None else table - problem.serve
    begins = [row[0] for row in starts if row] + [at for at in on if at is not None]
    return Schedule(
        starts=tuple([tuple(row) for row in starts]),
        ends=tuple([tuple(row) for row in ends]),
        on=on,
        bounds=bounds,
        dish_up=table,
        over_hold=over,
        wait=wait,
        start=min([*begins, table]),
        late=late,
        spare=0 if problem.serve is None or late > 0 else old.spare,
    )


def _chain_at(chain: Chain, row: tuple[int, ...], by: int, now: int) -> tuple[list[int], list[int]]:
    begins: list[int] = []
    ends: list[int] = []
    for index, (work, start) in enumerate(zip(chain, row, strict=True)):
        if work.began is not None:
            begins.append(work.began)
            ends.append(end_of(work))
            continue
        at = max(now, work.release, ends[-1]) if _rests_at_once(chain, index) else start + by
        begins.append(at)
        ends.append(at + work.time)
    return begins, ends


def _wait(chain: Chain, ends: Sequence[int], table: int) -> int:
    after = 0
    for work, end in zip(reversed(chain), reversed(ends), strict=True):
        if work.kind == "cook":
            return table - end - after
        after += work.time if work.began is None else end_of(work) - work.began
    return 0


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
