"""Whether a schedule moved along keeps every limit: asked at every instant, so by plain loops.

It asks no more and no less than `schedule.feasible.violations` does of such a schedule, which
takes the steps that have begun from the facts and its figures from its instants; the tests hold
the two against each other.
"""

from passbell.schedule.model import Machine, Problem, Schedule, Work

User = tuple[int, int, int, bool]
"""Work in its place (hands, a slot): from, until, whose, and whether it is yet to begin."""


def fits(problem: Problem, moved: Schedule) -> bool:
    """Whether a schedule, of whose steps those begun come first, keeps every limit unstretched."""
    if moved.dish_up < problem.now or moved.late < 0 or not _chains_fit(problem, moved):
        return False
    if not _hands_fit(problem, moved):
        return False
    return all(_machine_fits(problem, moved, m) for m in range(len(problem.machines)))


def _chains_fit(problem: Problem, moved: Schedule) -> bool:
    """Steps take their time, in their order, with the gaps between them; none begins too soon."""
    now, table = problem.now, moved.dish_up
    for chain, starts, ends in zip(problem.works, moved.starts, moved.ends, strict=True):
        before = None
        over = 0
        for work, start, end in zip(chain, starts, ends, strict=True):
            if work.began is None:
                if start < now or start < work.release or end != start + work.time:
                    return False
                if before is not None:
                    gap = start - over
                    if gap < before.gap_min or (
                        before.gap_max is not None and gap > before.gap_max
                    ):
                        return False
            elif end < start or (work.ended is None and end < now):
                return False
            before, over = work, end
        if over > table:
            return False
    return True


def _hands_fit(problem: Problem, moved: Schedule) -> bool:
    users = []
    for chain, starts, ends in zip(problem.works, moved.starts, moved.ends, strict=True):
        for work, start, end in zip(chain, starts, ends, strict=True):
            if work.hands:
                until = start + work.hands
                if work.began is not None and end < until:
                    until = end
                if until > problem.now:
                    users.append((start, until, work.component, work.began is None))
    return _places_fit(users, problem.hands)


def _places_fit(users: list[User], places: int) -> bool:
    """Whether there is room for each at the instant it begins; what has begun is not asked."""
    if len(users) <= places:
        return True
    if places > 1:
        return all(
            len({who for a, b, who, _ in users if a <= start < b}) <= places
            for start, until, _, is_open in users
            if is_open and until > start
        )
    users.sort()
    taken = 0
    for start, until, _, is_open in users:
        if is_open and start < taken:
            return False
        taken = max(taken, until)
    return True


def _machine_fits(problem: Problem, moved: Schedule, index: int) -> bool:
    """Whether an appliance is hot for its food, has room for it, and its program its times."""
    machine, bounds = problem.machines[index], moved.bounds[index]
    food = [
        (moved.starts[w.component][w.index], moved.ends[w.component][w.index], w)
        for chain in problem.works
        for w in chain
        if w.machine == index
    ]
    if machine.holds is not None:
        users = [(start, end, w.component, w.began is None) for start, end, w in food]
        if not _places_fit(users, machine.holds):
            return False
    fresh = all(w.began is None for _, _, w in food)
    if not machine.stages:
        ready = _ready(machine, problem.now)
        return not food or not fresh or min(start for start, _, _ in food) >= ready
    if not bounds and not any(w.began is None for _, _, w in food):
        return True
    if not _program_fits(machine, bounds, problem.now):
        return False
    return all(
        any(_within(run, start, end, (machine, bounds, w)) for run in w.runs)
        for start, end, w in food
        if w.runs and w.ended is None
    )


def _within(
    run: tuple[int, int], start: int, end: int, where: tuple[Machine, tuple[int, ...], Work]
) -> bool:
    """Whether food is on the heat within a run of stages; one that is over asks nothing."""
    machine, bounds, work = where
    if work.began is None:
        return bounds[run[0]] <= start and end <= bounds[run[1] + 1]
    return run[1] + 1 < len(machine.bounds) or end <= bounds[run[1] + 1]


def _program_fits(machine: Machine, bounds: tuple[int, ...], now: int) -> bool:
    known = machine.bounds
    begun = len(known)
    if len(bounds) != len(machine.stages) + 1 or bounds[:begun] != known:
        return False
    if not known and bounds[0] < _ready(machine, now):
        return False
    if not machine.over and any(bound < now for bound in bounds[begun:]):
        return False
    for stage, time in enumerate(machine.stages):
        lasts = bounds[stage + 1] - bounds[stage]
        if lasts < 0 or (time is not None and lasts != time and stage + 1 >= begun):
            return False
    return True


def _ready(machine: Machine, now: int) -> int:
    on = now if machine.on is None else machine.on
    return max(on + machine.preheat, machine.release, now)
