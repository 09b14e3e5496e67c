"""Lower bounds of the rest of a meal: never above what a search, or CP-SAT, really finds."""

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from passbell.cook.least import is_least
from passbell.cook.least_hands import hands_of, least_wait, none_sooner, soonest
from passbell.plan.model import Plan
from passbell.schedule import Contradiction, Problem, Schedule, problem_of, solve, solve_live
from passbell.schedule.facts import settled
from tests.cook.meals import plan_of, step
from tests.oracles.cpsat_stagger import best
from tests.schedule.random_facts import halfway
from tests.schedule.random_plans import random_plan

EXACT = 4000
"""Places opened: enough to prove meals of a few components."""


def waits_to_come(problem: Problem, schedule: Schedule) -> int:
    """The waits of food whose last time on the heat has not begun, by the definition of a wait."""
    total = 0
    for chain, ends in zip(problem.works, schedule.ends, strict=True):
        cooks = [w.index for w in chain if w.kind == "cook"]
        if cooks and chain[cooks[-1]].began is None:
            after = sum(w.time for w in chain[cooks[-1] + 1 :])
            total += schedule.dish_up - ends[cooks[-1]] - after
    return total


def rest_of(seed: int, components: int) -> tuple[Problem, Schedule] | None:
    """What is left of an invented meal, and the best of it; None where a limit is stretched."""
    plan, serve = random_plan(seed, components)
    try:
        problem = problem_of(plan, serve)
        schedule = solve(problem)
    except Contradiction:
        return None
    rest, forced = settled(halfway(problem, schedule, seed))
    found = solve_live(rest, like=schedule, effort=EXACT)
    fits = not forced and not found.stretched and found.proven
    return (rest, found) if fits and any(w.began for c in rest.works for w in c) else None


@given(st.integers(0, 10**6), st.integers(1, 5))
def test_no_best_answer_of_the_rest_is_below_the_bounds(seed: int, components: int) -> None:
    found = rest_of(seed, components)
    assume(found is not None)
    assert found is not None
    problem, schedule = found
    hands = hands_of(problem)
    assert soonest(problem, hands) <= schedule.dish_up
    assert not none_sooner(problem, hands, schedule.dish_up + 1)
    assert least_wait(hands, schedule.dish_up) <= waits_to_come(problem, schedule)


@given(st.integers(0, 10**6), st.integers(1, 5))
def test_what_is_best_stays_best_and_what_is_worse_is_told(seed: int, components: int) -> None:
    """Of two answers within all limits the worse one is never called the least."""
    found = rest_of(seed, components)
    assume(found is not None)
    assert found is not None
    problem, schedule = found
    worse = solve_live(problem, effort=1)
    table_first = problem.serve is not None
    if worse.stretched or figures(worse, table_first) <= figures(schedule, table_first):
        return
    assert not within_holds(problem, worse) or not is_least(problem, worse, {})


def figures(schedule: Schedule, table_first: bool) -> tuple[int, int, int, int]:
    over, table = schedule.over_hold, schedule.dish_up
    first = (table, over) if table_first else (over, table)
    return (*first, schedule.wait, -schedule.start)


def within_holds(problem: Problem, schedule: Schedule) -> bool:
    """Whether no food yet to go on the heat waits past its hold."""
    for chain, ends, hold in zip(problem.works, schedule.ends, problem.holds, strict=True):
        cooks = [w.index for w in chain if w.kind == "cook"]
        if cooks and chain[cooks[-1]].began is None:
            after = sum(w.time for w in chain[cooks[-1] + 1 :])
            if schedule.dish_up - ends[cooks[-1]] - after > hold:
                return False
    return True


@pytest.mark.parametrize("seed", range(40))
def test_cp_sat_finds_nothing_below_the_bounds(seed: int) -> None:
    """A whole meal, of which nothing has begun, by a solver that shares nothing with ours."""
    plan, serve = random_plan(seed, 2 + seed % 4)
    try:
        problem = problem_of(plan, serve)
    except Contradiction:
        return
    answer = best(plan, serve)
    if answer.figures is None or not answer.proven:
        return
    _, table, wait, _ = answer.figures
    hands = hands_of(problem)
    assert not none_sooner(problem, hands, table + 1)
    assert least_wait(hands, table) <= wait


def pots(*cooks: int) -> dict[str, Any]:
    """So many pots of these minutes, each peeled for 5 and dressed for 1."""
    return {
        "title": "Invented pots",
        "serves": 2,
        "appliance": [{"name": "burner"}],
        "component": [
            {
                "name": f"pot {n}",
                "food": "plant",
                "steps": [
                    step("prep", "peel", "5 min"),
                    step("cook", "boil", f"{minutes} min", on="burner"),
                    step("finish", "dress", "1 min"),
                ],
            }
            for n, minutes in enumerate(cooks)
        ],
    }


@pytest.mark.parametrize(("cooks", "table", "wait"), [((10,), 960, 0), ((20, 10), 1560, 60)])
def test_one_pair_of_hands_by_hand(cooks: tuple[int, ...], table: int, wait: int) -> None:
    """Peeled one after the other, the long one first; dressed last, so the other waits a minute."""
    plan: Plan = plan_of(pots(*cooks), slack="0 min")
    hands = hands_of(problem := problem_of(plan))
    assert soonest(problem, hands) == table
    assert least_wait(hands, table) == wait


def test_the_orders_of_work_are_gone_through() -> None:
    """Whichever pot is peeled first, the other is dressed from minute 20 on, and so is the rice.

    Two pots of 10 min are peeled for 5 min each, rice of 20 min goes on at once: dressed a minute
    each, the last is done after 22 min. A bound by heads and tails alone sees both pots dressed
    before that.
    """
    data = pots(10, 10)
    cook = step("cook", "boil", "20 min", on="burner")
    rice = {"name": "rice", "food": "plant", "steps": [cook, step("finish", "dress", "1 min")]}
    data["component"].append(rice)
    problem = problem_of(plan_of(data, slack="0 min"))
    hands = hands_of(problem)
    assert soonest(problem, hands) == 1260
    assert none_sooner(problem, hands, 1320)
    assert not none_sooner(problem, hands, 1321)
    assert solve(problem).dish_up == 1320
