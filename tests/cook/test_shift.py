"""A schedule moved along as a whole: as good as what a search finds, and within every limit."""

from dataclasses import replace
from typing import Any

import pytest

from passbell.cook.engine import begin
from passbell.cook.least import is_least
from passbell.cook.replan import problem_now
from passbell.cook.shift import shifted
from passbell.cook.state import CookState
from passbell.odds.hand import Hand
from passbell.odds.luck import Luck
from passbell.schedule.feasible import violations
from passbell.schedule.model import Problem, Schedule
from passbell.schedule.solve import solve_live
from tests.cook.meals import TRAY, plan_of, step

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


def test_nothing_is_moved_before_anything_has_begun() -> None:
    state = begin(plan_of(PARTS), 4200).state
    assert shifted(state, problem_now(state, state.at)) is None
