"""The four figures against CP-SAT (OR-Tools, a general-purpose solver), wherever both prove."""

import pytest

from passbell.schedule import Contradiction, problem_of, solve, violations
from tests.oracles.cpsat_stagger import best
from tests.schedule.random_plans import random_plan


@pytest.mark.parametrize("batch", range(15))
def test_same_figures_as_cpsat(batch: int) -> None:
    for seed in range(batch * 20, batch * 20 + 20):
        plan, serve = random_plan(seed, 2 + seed % 7)
        try:
            problem = problem_of(plan, serve)
            schedule = solve(problem)
        except Contradiction:
            assert best(plan, serve).figures is None, seed
            continue
        assert violations(problem, schedule) == [], seed
        oracle = best(plan, serve)
        figures = (schedule.over_hold, schedule.dish_up, schedule.wait, schedule.start)
        if schedule.proven and oracle.proven:
            assert figures == oracle.figures, seed
            assert schedule.late == oracle.late, seed
