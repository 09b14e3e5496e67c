"""Better orders by small and by great steps: what holds of each, on invented plans."""

import itertools
from typing import NamedTuple

import pytest

from passbell.schedule import Contradiction, problem_of
from passbell.schedule.anneal import Annealer, Dice
from passbell.schedule.branch import Brancher
from passbell.schedule.dive import first_schedule
from passbell.schedule.ground import nearest_first
from passbell.schedule.net import net_of
from passbell.schedule.order import Weigher, Whole
from passbell.schedule.proof import Best, Proof
from passbell.schedule.pushes import Pusher
from passbell.schedule.reach import reach_of
from passbell.schedule.rework import FREE, Reworker
from passbell.schedule.state import Gauge, State
from passbell.schedule.tables import Tables, tables_of
from tests.schedule.random_plans import random_plan

SEEDS = range(5000, 5012)


class Begun(NamedTuple):
    """A plan whose first order is known."""

    tables: Tables
    gauge: Gauge
    brancher: Brancher
    root: State
    weigher: Weigher
    whole: Whole


def begun(seed: int, components: int) -> Begun | None:
    """The first order of an invented plan; None where it contradicts itself."""
    try:
        plan, serve = random_plan(seed, components)
        net = net_of(problem_of(plan, serve), {})
    except Contradiction:
        return None
    reach = reach_of(net)
    if reach is None:
        return None
    tables = tables_of(net, reach)
    gauge = Gauge(tables, serve, table_first=serve is not None)
    brancher = Brancher(tables, gauge)
    root = brancher.root(reach)
    first = first_schedule(brancher, root)
    if first is None:
        return None
    at = gauge.instants(first.reach)
    weigher = Weigher(tables, reach, gauge, at)
    whole = weigher.weigh(weigher.tracks(at), nearest_first(first.reach))
    assert whole is not None
    return Begun(tables, gauge, brancher, root, weigher, whole)


def some(components: int) -> list[Begun]:
    """The plans among the seeds that have an order."""
    found = [known for seed in SEEDS if (known := begun(seed, components)) is not None]
    assert len(found) > len(SEEDS) // 2
    return found


def kept(known: Begun, whole: Whole) -> bool:
    """Whether every limit of the plan without any order, and every job of it, is in an order."""
    tail = whole.reach.tail
    limits = all(
        tail[before] >= tail[node] + least
        for node, arcs in enumerate(known.root.reach.into)
        for before, least in arcs
    )
    lines = zip(known.whole.lines, whole.lines, strict=True)
    return limits and all(
        sorted(job for row in one for job in row) == sorted(job for row in other for job in row)
        for one, other in lines
    )


def alone(whole: Whole) -> bool:
    """Whether no two jobs of one place overlap, seen from the dish-up back."""
    tail = whole.reach.tail
    return all(
        tail[before.node] - before.plus - before.length >= tail[after.node] - after.plus
        for tracks in whole.lines
        for row in tracks
        for after, before in itertools.pairwise(row)
    )


def test_small_steps_lose_no_job_and_end_no_worse() -> None:
    better = 0
    for known in some(10):
        annealer = Annealer(known.tables, known.weigher, known.gauge, Dice())
        best, left = annealer.anneal(known.whole, 300, known.root.figures, 4)
        assert 0 <= left <= 300
        assert best.figures <= known.whole.figures
        assert best.figures == known.gauge.plain(best.reach)
        assert kept(known, best)
        assert alone(best)
        better += best.figures < known.whole.figures
    assert better


def test_a_step_that_is_pushed_past_another_stands_there_and_its_component_follows() -> None:
    moved = 0
    for known in some(9):
        pusher = Pusher(known.tables, known.weigher)
        for line, tracks in enumerate(known.whole.lines):
            if len(tracks) != 1 or len(tracks[0]) < 2:
                continue
            nearest, farthest = tracks[0][0], tracks[0][-1]
            whole = pusher.past(known.whole, nearest, farthest, later=False)
            if whole is not None:
                moved += 1
                (row,) = whole.lines[line]
                assert row.index(nearest) > row.index(farthest)
                assert kept(known, whole)
                assert alone(whole)
    assert moved


def test_great_steps_keep_every_limit_and_end_no_worse() -> None:
    better = 0
    for known in some(10):
        first = Best(known.whole.figures, known.whole.reach)
        best, left = Reworker(known.brancher, known.root, 4, Dice()).rework(first, 150)
        assert 0 <= left <= 150
        assert best.figures <= first.figures
        assert best.figures == known.gauge.plain(best.reach)
        assert not known.brancher.moves(known.root._replace(reach=best.reach))
        better += best.figures < first.figures
    assert better


@pytest.mark.parametrize("components", [3, FREE])
def test_with_all_components_free_a_great_step_is_the_whole_search(components: int) -> None:
    for known in some(components):
        first = Best(known.whole.figures, known.whole.reach)
        reworker = Reworker(known.brancher, known.root, 4, Dice())
        found, _ = reworker._anew(first, frozenset(reworker.jobs), 3000)
        known.gauge.best = None
        proof = Proof(known.brancher, known.root, 4)
        proven, _ = proof.go_on(first, 3000)
        assert proven is not None
        assert not proof.short(proven)
        assert found.figures == proven.figures
