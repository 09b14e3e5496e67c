"""What no schedule of the rest can better.

Two bounds. The first is that of the only pair of hands (`least_hands`). The second is the same
stagger with all that is under way let go: let all food on the heat be done and every hot appliance
be free at this instant, without the limits that its past puts on what follows. Whatever can be
done in the real cook can be done there, so its best figures bound the real ones from below. It
knows no clock: only what has not begun matters, so that its answer serves every instant, and every
made-up cook, with the same steps still to come.
"""

from dataclasses import replace

from passbell.cook.least_hands import hands_of, least_wait, none_sooner
from passbell.schedule.model import Contradiction, Machine, Problem, Schedule, Work
from passbell.schedule.solve import solve

EFFORT = 60
"""Nodes that a search for a bound may open; where that proves nothing, there is no bound."""

MOST = 4000
"""So many bounds are remembered."""

FAR = 10**6
"""A serving time with all the room there can be, and a hold that nothing passes, in seconds."""

GRAIN = 60
"""How exactly work by hand that is under way is held, in seconds."""

Known = dict[object, object]
Key = tuple[object, ...]
Chain = tuple[Work, ...]


def is_least(problem: Problem, schedule: Schedule, known: Known) -> bool:
    """Whether a schedule within all limits is as good as any can be.

    Food whose last time on the heat has begun waits until dish-up and no shorter, so once the
    dish-up is the soonest, only what is yet to go on the heat is asked about.

    Args:
        problem: what is left of the meal; something of it has begun.
        schedule: an answer to it, in which nothing yet to go on the heat waits past its hold.
        known: bounds found before, of the same plan; new ones are added.
    """
    table, waits = schedule.dish_up, _waits(problem, schedule)
    hands = hands_of(problem)
    at_best = none_sooner(problem, hands, table)
    if at_best and waits <= least_wait(hands, table):
        return True
    if (schedule.over_hold and not at_best) or not _more_than_hands(problem):
        return False
    free = problem.serve is not None and table <= problem.serve
    bound = _known_bound(problem, known, free=free)
    if bound is not None and (free or table - problem.now <= bound[0]):
        return waits <= bound[1]
    if not at_best or free:
        return False
    bound = _known_bound(problem, known, free=True)
    return bound is not None and waits <= bound[1]


def _more_than_hands(problem: Problem) -> bool:
    """Whether anything but the only pair of hands holds up what has not begun.

    Slots, programs and keeps do, of which the bound of the hands knows nothing.
    """
    if problem.hands != 1:
        return True
    narrow = [
        m.holds is not None or len(m.stages) > 1 or any(time is not None for time in m.stages)
        for m in problem.machines
    ]
    return any(
        w.began is None and (w.gap_max is not None or (w.machine is not None and narrow[w.machine]))
        for chain in problem.works
        for w in chain
    )


def is_surely_least(problem: Problem, schedule: Schedule) -> bool:
    """The same by the bound of the hands alone, which grows no faster than the clock."""
    hands, table = hands_of(problem), schedule.dish_up
    return none_sooner(problem, hands, table) and _waits(problem, schedule) <= least_wait(
        hands, table
    )


def _known_bound(problem: Problem, known: Known, *, free: bool) -> tuple[int, int] | None:
    """The bound of `_bound`, remembered; `free`: with all the room there can be.

    Where a time was wanted, an early dish-up comes before the holds.
    """
    lefts = tuple(_left(w, problem.now) for chain in problem.works for w in chain)
    serve = FAR if free else None if problem.serve is None else 0
    key = _key(problem, (serve, lefts))
    if key not in known:
        if len(known) >= MOST:
            known.clear()
        known[key] = _bound(problem, serve)
    bound = known[key]
    return bound if isinstance(bound, tuple) else None


def _left(work: Work, now: int) -> int:
    """How long work by hand that is under way is to take yet: all of it, else in whole grains."""
    if work.began is None or work.ended is not None or not work.hands or work.kind == "cook":
        return 0
    left = max(0, work.began + work.time - now)
    return left if work.began == now else left // GRAIN * GRAIN


def _key(problem: Problem, more: Key) -> Key:
    """All of a problem that its bound depends on, besides the plan itself."""
    works = tuple(
        (w.time, w.hands) if w.began is None else w.ended is None for c in problem.works for w in c
    )
    machines = tuple(m.stages if m.on is None else bool(m.bounds) for m in problem.machines)
    return works, machines, more


def _bound(problem: Problem, serve: int | None) -> tuple[int, int] | None:
    """Dish-up from now on, and how long what is not on the heat yet waits in all, at least."""
    let_go = _let_go(problem, serve)
    try:
        found = solve(let_go, effort=EFFORT)
    except Contradiction:
        return None
    return (found.dish_up, _waits(let_go, found)) if found.proven else None


def _waits(problem: Problem, schedule: Schedule) -> int:
    """How long the components whose last time on the heat has not begun wait in all, in seconds."""
    total = 0
    for chain, ends in zip(problem.works, schedule.ends, strict=True):
        after = 0
        for work, end in zip(reversed(chain), reversed(ends), strict=True):
            if work.kind == "cook":
                if work.began is None:
                    total += schedule.dish_up - end - after
                break
            after += work.time
    return total


def to_come(chain: Chain) -> bool:
    """Whether the last time on the heat of a component has not begun."""
    for work in reversed(chain):
        if work.kind == "cook":
            return work.began is None
    return False


def _let_go(problem: Problem, serve: int | None) -> Problem:
    begun = {i for i, machine in enumerate(problem.machines) if machine.bounds}
    works = tuple(
        tuple(_free(w, begun, _left(w, problem.now)) for w in chain) for chain in problem.works
    )
    holds = zip(problem.holds, problem.works, strict=True)
    return replace(
        problem,
        works=works,
        holds=tuple(hold if to_come(chain) else FAR for hold, chain in holds),
        machines=tuple(_cold(machine) for machine in problem.machines),
        serve=serve,
        now=0,
    )


def _free(work: Work, begun: set[int], left: int) -> Work:
    """What has begun is over, or nearly; what follows asks for the gap after what still runs."""
    if work.began is None:
        runs = () if work.machine in begun else work.runs
        return replace(work, release=0, runs=runs)
    gap = work.gap_min if work.ended is None else 0
    ended = None if left else 0
    hands = work.hands if left and work.hands >= work.time else 0
    let_go = replace(work, time=left, hands=min(hands, left), release=0, began=0, ended=ended)
    return replace(let_go, runs=(), gap_min=gap, gap_max=None)


def _cold(machine: Machine) -> Machine:
    if machine.on is None:
        return replace(machine, release=0)
    stages = () if machine.bounds else machine.stages
    return replace(machine, on=0, preheat=0, release=0, stages=stages, bounds=(), over=False)
