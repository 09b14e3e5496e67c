"""A schedule moved along as a whole: as good as what a search finds, and within every limit."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.cook.engine import begin
from passbell.cook.least import is_least
from passbell.cook.replan import problem_now
from passbell.cook.shift import _alike, _placed, shifted
from passbell.cook.shift_fits import fits
from passbell.cook.state import CookState
from passbell.odds.hand import Hand
from passbell.odds.luck import Luck
from passbell.schedule import Contradiction, problem_of, solve
from passbell.schedule.facts import settled
from passbell.schedule.feasible import violations
from passbell.schedule.model import Problem, Schedule
from passbell.schedule.solve import solve_live
from tests.cook.meals import TRAY, plan_of, step
from tests.schedule.random_facts import halfway
from tests.schedule.random_plans import random_plan

PARTS: dict[str, Any] = {
    "title": "Invented: five parts",
    "serves": 2,
    "appliance": [
        {"name": "oven", "preheat": "10 min", "stage": [{"name": "roast"}]},
        {"name": "burner"},
    ],
    "component": [
        {
            "name": f"part {n}",
            "food": "plant",
            "steps": [
                step("prep", "peel", f"{4 + n} min"),
                step("cook", "in", f"{14 + 3 * n} min", on="oven" if n % 2 else "burner"),
                step("finish", "dress", "1 min"),
            ],
        }
        for n in range(5)
    ],
}


def moved(
    monkeypatch: pytest.MonkeyPatch, data: dict[str, Any], serve: int | None
) -> list[tuple[Problem, Schedule, Schedule]]:
    """What was left of a meal, what it was answered by moving, and what had stood before."""
    found: list[tuple[Problem, Schedule, Schedule]] = []

    def told(state: CookState, problem: Problem) -> Schedule | None:
        answer = shifted(state, problem)
        if answer is not None:
            found.append((problem, answer, state.schedule))
        return answer

    monkeypatch.setattr("passbell.cook.replan.shifted", told)
    state = begin(plan_of(data), serve).state
    for run in range(2):
        Hand(state, Luck(3, run)).cook()
    return found


def figures(schedule: Schedule) -> tuple[int, int, int, int]:
    return schedule.over_hold, schedule.dish_up, schedule.wait, -schedule.start


@pytest.mark.parametrize(("data", "serve"), [(PARTS, 4200), (PARTS, None), (TRAY, 3600)])
def test_what_is_moved_along_is_as_good_as_what_is_searched_for(
    monkeypatch: pytest.MonkeyPatch, data: dict[str, Any], serve: int | None
) -> None:
    """The search knows nothing of the move; the check shares nothing with either."""
    found = moved(monkeypatch, data, serve)
    assert len(found) >= 3
    for problem, answer, before in found:
        assert violations(problem, answer) == []
        assert figures(answer) <= figures(solve_live(problem, like=before, effort=400))


def test_a_schedule_that_could_be_bettered_is_not_least(monkeypatch: pytest.MonkeyPatch) -> None:
    problem, answer, _ = moved(monkeypatch, PARTS, None)[0]
    assert is_least(problem, answer, {})
    assert not is_least(problem, replace(answer, dish_up=answer.dish_up + 1), {})
    ends = tuple(tuple(at - 1 for at in row) for row in answer.ends)
    assert not is_least(problem, replace(answer, ends=ends), {})


@given(st.integers(0, 10**6), st.integers(1, 5), st.integers(-120, 600))
def test_the_quick_check_of_limits_is_the_whole_check(seed: int, components: int, by: int) -> None:
    """What is moved by any amount: kept within its limits or not, the two checks agree."""
    plan, serve = random_plan(seed, components)
    try:
        problem = problem_of(plan, serve)
        before = solve(problem)
    except Contradiction:
        return
    rest, _ = settled(halfway(problem, before, seed))
    moved = _placed(rest, before, by) if _alike(rest, before) else None
    if moved is not None:
        assert fits(rest, moved) == (violations(rest, moved) == [])


def test_nothing_is_moved_before_anything_has_begun() -> None:
    state = begin(plan_of(PARTS), 4200).state
    assert shifted(state, problem_now(state, state.at)) is None
