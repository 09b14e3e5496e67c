"""From decided orders to one schedule: the tie-breaks, and where rests and finishes lie."""

from dataclasses import replace

from passbell.schedule.facts import lasting, span
from passbell.schedule.model import Machine, Problem, Schedule, Work
from passbell.schedule.net import ORIGIN, TABLE, Arc, Net, Pool
from passbell.schedule.polish import polish
from passbell.schedule.reach import FREE, Reach, reach_of

Instants = list[int]


def schedule_of(problem: Problem, net: Net, reach: Reach) -> Schedule:
    """The one schedule of these orders: figures first, then the tie-breaks.

    Each switch-on as late, each stage boundary without a time as early, each prep as late as the
    rest allows; rests after the last cook begin at once, finishes end as late as they can.
    """
    table = reach.soonest(problem.serve)
    at = instants(net, reach, problem.serve)
    starts = [[at[p.node] + p.plus for p in chain] for chain in net.starts]
    for chain, row in zip(problem.works, starts, strict=True):
        _rest_early(chain, row)
    polish(problem, starts)
    schedule = assembled(problem, net, at, starts, table)
    return replace(schedule, spare=table - reach.soonest(None))


def instants(net: Net, reach: Reach, serve: int | None) -> Instants:
    """The instant of every node, tie-breaks included."""
    table = reach.soonest(serve)
    return _tie_breaks(net, reach.latest(table), table)


def instants_in(net: Net, schedule: Schedule) -> Instants:
    """The instant of every node in a schedule of the same meal, 0 where it has none."""
    at = [0] * net.size
    for points, when in zip(
        (*net.starts, *net.bounds), (*schedule.starts, *schedule.bounds), strict=True
    ):
        for point, instant in zip(points, when, strict=False):
            at[point.node] = instant - point.plus
    at[ORIGIN] = 0
    return at


def assembled(
    problem: Problem, net: Net, at: Instants, starts: list[list[int]], table: int
) -> Schedule:
    """A schedule with its figures from the start of every step."""
    ends = [
        [s + lasting(w) for s, w in zip(row, chain, strict=True)]
        for row, chain in zip(starts, problem.works, strict=True)
    ]
    bounds = [
        tuple(at[p.node] + p.plus for p in points) or _in_use(problem, m, starts, ends)
        for m, points in enumerate(net.bounds)
    ]
    on = [_on(machine, bounds[m]) for m, machine in enumerate(problem.machines)]
    waits = [_wait(chain, ends[c], table) for c, chain in enumerate(problem.works)]
    return Schedule(
        starts=tuple(tuple(row) for row in starts),
        ends=tuple(tuple(row) for row in ends),
        on=tuple(on),
        bounds=tuple(bounds),
        dish_up=table,
        over_hold=sum(max(0, w - h) for w, h in zip(waits, problem.holds, strict=True)),
        wait=sum(waits),
        start=min([s for row in starts for s in row] + [o for o in on if o is not None] + [table]),
        late=0 if problem.serve is None else table - problem.serve,
    )


def _wait(chain: tuple[Work, ...], ends: list[int], table: int) -> int:
    last = max((w.index for w in chain if w.kind == "cook"), default=None)
    if last is None:
        return 0
    return table - ends[last] - sum(lasting(w) for w in chain[last + 1 :])


def _in_use(
    problem: Problem, machine: int, starts: list[list[int]], ends: list[list[int]]
) -> tuple[int, ...]:
    food = [w for chain in problem.works for w in chain if w.machine == machine]
    if not food or problem.machines[machine].stages:
        return ()
    return (
        min(starts[w.component][w.index] for w in food),
        max(ends[w.component][w.index] for w in food),
    )


def _on(machine: Machine, bounds: tuple[int, ...]) -> int | None:
    if machine.on is not None:
        return machine.on
    return bounds[0] - machine.preheat if bounds else None


def _rest_early(chain: tuple[Work, ...], starts: list[int]) -> None:
    """Let every rest after the last cook begin when the step before it ends."""
    last = max((w.index for w in chain if w.kind == "cook"), default=len(chain))
    for work in chain[last + 1 :]:
        if work.kind == "rest" and work.hands == 0 and span(work) is None:
            before = chain[work.index - 1]
            starts[work.index] = max(work.release, starts[before.index] + lasting(before))


def _tie_breaks(net: Net, latest: Instants, table: int) -> Instants:
    """Switch-ons stay at their latest, boundaries go to their earliest, the rest stays late."""
    arcs = [*net.arcs, Arc(ORIGIN, TABLE, table), Arc(TABLE, ORIGIN, -table)]
    arcs += [Arc(before, after, least) for before, after, least in orders_of(net, latest)]
    arcs += [arc for dish in net.dishes for arc in _pin(dish.node, latest[dish.node])]
    start = min((latest[node] + plus for node, plus in net.leads), default=table)
    arcs += [Arc(ORIGIN, node, start - plus) for node, plus in net.leads if node != ORIGIN]
    heads = [points[0].node for points in net.bounds if points]
    arcs += [arc for node in heads for arc in _pin(node, latest[node])]
    early = earliest(replace(net, arcs=tuple(arcs)))
    bounds = [point.node for points in net.bounds for point in points]
    arcs += [arc for node in bounds for arc in _pin(node, early[node])]
    settled = reach_of(replace(net, arcs=tuple(arcs)))
    assert settled is not None, "the tie-breaks contradict the orders they came from"
    assert settled.cap is not None, "the dish-up is pinned, so every instant has a cap"
    return settled.latest(table)


def _pin(node: int, instant: int) -> list[Arc]:
    if node == ORIGIN or instant >= FREE // 2:
        return []
    return [Arc(ORIGIN, node, instant), Arc(node, ORIGIN, -instant)]


def earliest(net: Net) -> Instants:
    """The earliest instant of every node, by longest paths from the origin."""
    found = [-FREE] * net.size
    found[ORIGIN] = 0
    out: list[list[tuple[int, int]]] = [[] for _ in range(net.size)]
    for arc in net.arcs:
        out[arc.before].append((arc.after, arc.least))
    queue = [ORIGIN]
    for node in queue:
        for after, least in out[node]:
            if found[after] < found[node] + least:
                found[after] = found[node] + least
                queue.append(after)
    return found


def orders_of(net: Net, at: Instants) -> list[tuple[int, int, int]]:
    """The orders on hands, slots and stages that these instants decide, as arcs."""
    found = [pair for pool in net.pools for pair in _pool_orders(pool, at)]
    for choice in net.choices:
        bounds = net.bounds[choice.machine]
        start = at[choice.start.node] + choice.start.plus
        end = at[choice.end.node] + choice.end.plus
        for a, b in choice.runs:
            first, last = bounds[a], bounds[b + 1]
            if at[first.node] + first.plus <= start and end <= at[last.node] + last.plus:
                found.append((first.node, choice.start.node, first.plus - choice.start.plus))
                found.append((choice.end.node, last.node, choice.end.plus - last.plus))
                break
    return [one for one in found if one[0] != one[1]]


def _pool_orders(pool: Pool, at: Instants) -> list[tuple[int, int, int]]:
    placed = sorted((at[t.node] + t.plus, t) for t in pool.tasks)
    return [
        (one.node, other.node, one.plus + one.length - other.plus)
        for i, (start, one) in enumerate(placed)
        for begins, other in placed[i + 1 :]
        if start + one.length <= begins and other.node != ORIGIN
    ]
