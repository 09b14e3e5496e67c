"""Why a meal is late: a chain whose pieces, one after the other, last as long as the meal."""

from typing import Any

import pytest

from passbell.plan.model import Plan
from passbell.schedule import Problem, Schedule, problem_of, solve, why_late
from passbell.schedule.late import pieces
from tests.schedule.random_plans import random_plan
from tests.schedule.test_against_oracle import cook, meal, prep
from tests.schedule.test_properties import solved

TWO_HEATS: list[dict[str, Any]] = [
    {
        "name": "oven",
        "stage": [
            {"name": "roast", "time": "16 min"},
            {"name": "crisp", "time": "14 min"},
        ],
    }
]


def late(plan: Plan) -> tuple[Problem, Schedule]:
    problem = problem_of(plan, 60)
    return problem, solve(problem)


def test_a_stage_that_ends_with_longer_food_is_not_counted_twice() -> None:
    long, short = [prep(6), cook(30)], [cook(14, stage="crisp"), {"rest": "rest", "time": "5 min"}]
    problem, schedule = late(meal(long, short, appliance=TWO_HEATS))
    assert schedule.dish_up == 41 * 60
    assert why_late(problem, schedule) == (
        "Dish-up is 40 min later than wanted: nothing shortens dish 0 (“cut”) 6 min, the first "
        "16 min of dish 0 (“heat”), dish 1 (“heat”) 14 min and dish 1 (“rest”) 5 min, one after "
        "the other."
    )


def test_the_slack_is_a_piece_of_the_chain() -> None:
    problem, schedule = late(meal([prep(10), cook(20, "burner")], slack="3 min"))
    assert schedule.dish_up == 33 * 60
    assert "(“cut”) 10 min, the slack after dish 0 (“cut”) 3 min and" in why_late(problem, schedule)


def test_how_late_is_said_to_the_minute() -> None:
    problem = problem_of(meal([cook(20, "burner")]), 4 * 60 + 56)
    assert why_late(problem, solve(problem)).startswith("Dish-up is 15 min later than wanted: ")


@pytest.mark.parametrize("batch", range(6))
def test_what_is_told_one_after_the_other_lasts_as_long_as_the_meal(batch: int) -> None:
    for seed in range(3000 + 50 * batch, 3050 + 50 * batch):
        if solved(seed, 2 + seed % 7) is None:
            continue
        problem = problem_of(random_plan(seed, 2 + seed % 7)[0], 60)
        schedule = solve(problem, effort=150)
        if not schedule.late:
            continue
        found, said = pieces(problem, schedule), why_late(problem, schedule)
        assert sum(piece.counts for piece in found) == schedule.dish_up - schedule.start, seed
        assert all(0 < piece.counts <= piece.whole for piece in found), seed
        assert all(piece.words in said for piece in found), seed
