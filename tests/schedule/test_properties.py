"""What holds of every answer: limits kept, facts honoured, the same plan the same answer."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from passbell.schedule import (
    Contradiction,
    Problem,
    Schedule,
    problem_of,
    solve,
    solve_live,
    violations,
)
from tests.schedule.random_facts import halfway
from tests.schedule.random_plans import random_plan

ROOT = Path(__file__).parents[2]

FINGERPRINT = """
from hashlib import sha256
from passbell.schedule import Contradiction, problem_of, solve, solve_live
from tests.schedule.random_facts import halfway
from tests.schedule.random_plans import random_plan
seen = sha256()
for seed in range(900, 910):
    try:
        problem = problem_of(*random_plan(seed, 3 + seed % 6))
        schedule = solve(problem, effort=200)
        seen.update(repr(schedule).encode())
        rest = halfway(problem, schedule, seed)
        seen.update(repr(solve_live(rest, like=schedule)).encode())
    except Contradiction as error:
        seen.update(str(error).encode())
print(seen.hexdigest())
"""


def solved(seed: int, components: int) -> tuple[Problem, Schedule] | None:
    try:
        problem = problem_of(*random_plan(seed, components))
        return problem, solve(problem, effort=150)
    except Contradiction:
        return None


@pytest.mark.parametrize("seed", range(600, 660))
def test_what_is_left_of_a_meal_keeps_every_limit(seed: int) -> None:
    found = solved(seed, 2 + seed % 7)
    if found is None:
        return
    problem, schedule = found
    rest = halfway(problem, schedule, seed, lateness=900)
    for like in (schedule, None):
        answer = solve_live(rest, like=like)
        assert violations(rest, answer) == []
        assert len(answer.relaxed) == len(answer.stretched)
        assert solve_live(rest, like=like) == answer


@pytest.mark.parametrize("seed", range(700, 715))
def test_the_order_in_force_is_never_left_for_a_worse_one(seed: int) -> None:
    found = solved(seed, 2 + seed % 7)
    if found is None:
        return
    problem, schedule = found
    again = solve_live(problem, like=schedule)
    asap = problem.serve is None
    before, after = (
        (s.over_hold, s.dish_up, s.wait, -s.start)
        if asap
        else (s.dish_up, s.over_hold, s.wait, -s.start)
        for s in (schedule, again)
    )
    assert after <= before
    if schedule.proven:
        assert after == before


@pytest.mark.parametrize("components", [15, 30])
def test_large_meals_are_answered_with_a_bound(components: int) -> None:
    seeds = [seed for seed in range(800, 812) if _placed(seed, components)][:2]
    assert seeds
    for seed in seeds:
        found = solved(seed, components)
        if found is not None:
            problem, schedule = found
            assert violations(problem, schedule) == []
            assert schedule.proven == (schedule.bound == 0)
            assert schedule.bound <= schedule.dish_up + schedule.over_hold + schedule.wait


def _placed(seed: int, components: int) -> bool:
    try:
        problem_of(*random_plan(seed, components))
    except Contradiction:
        return False
    return True


def test_the_same_plan_has_the_same_answer_in_every_process() -> None:
    def fingerprint(seed: str) -> str:
        places = os.pathsep.join([str(ROOT / "src"), str(ROOT)])
        around = os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": places}
        command = [sys.executable, "-c", FINGERPRINT]
        done = subprocess.run(command, env=around, capture_output=True, text=True, check=True)
        return done.stdout

    assert len({fingerprint(seed) for seed in ("0", "4294967295")}) == 1
