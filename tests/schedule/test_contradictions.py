"""Plans that cannot be: a sentence that names the steps, and the smallest change that mends it.

Each mend is carried out and solved again; a little less of it is not enough.
"""

import json
from dataclasses import replace

import pytest

from passbell.cli.timeplan_json import contradiction_json
from passbell.plan.model import Plan
from passbell.schedule import Contradiction, Problem, problem_of, solve, why_late
from tests.schedule.test_against_oracle import STAGED, cook, finish, meal, prep


def told(plan: Plan) -> Contradiction:
    with pytest.raises(Contradiction) as caught:
        solve(problem_of(plan))
    return caught.value


def names(error: Contradiction) -> set[tuple[str, int]]:
    return {(step.component, step.index) for step in error.steps}


def solvable(problem: Problem) -> bool:
    try:
        solve(problem)
    except Contradiction:
        return False
    return True


def keeping(problem: Problem, component: int, index: int, seconds: int) -> Problem:
    row = list(problem.works[component])
    row[index] = replace(row[index], gap_max=seconds)
    works = (*problem.works[:component], tuple(row), *problem.works[component + 1 :])
    return replace(problem, works=works)


def test_two_heats_asked_of_one_oven_at_once() -> None:
    error = told(meal([cook(20, temp="220 C")], [cook(30, temp="180 C")]))
    assert names(error) == {("dish 0", 0), ("dish 1", 0)}
    assert "asks oven for 220 °C" in error.text
    assert "for 180 °C, at once" in error.text
    assert error.mend == (
        "Let dish 1 take 220 °C with a time that suits it, or give oven a stage for each."
    )
    assert solvable(problem_of(meal([cook(20, temp="220 C")], [cook(30, temp="220 C")])))
    stages = [{"name": "hot", "temp": "220 C"}, {"name": "low", "temp": "180 C"}]
    oven = [{"name": "oven", "stage": stages}]
    two = meal([cook(20, temp="220 C")], [cook(30, temp="180 C")], appliance=oven)
    assert solvable(problem_of(two))


def test_two_heats_that_the_only_hands_keep_apart_are_no_clash() -> None:
    fried = [[cook(5, mode=mode, hands="5 min")] for mode in ("high", "low")]
    apart = solve(problem_of(meal(*fried)))
    assert sorted(row[0] for row in apart.starts) == [420, 720]
    assert "at once" in told(meal(*fried, hands=2)).text
    left = [[cook(5, mode="high", hands="5 min")], [cook(5, mode="low", hands="4 min")]]
    assert "at once" in told(meal(*left)).text


def test_a_heat_that_no_stage_has() -> None:
    error = told(meal([cook(10, temp="220 C")], appliance=STAGED))
    assert (
        "asks for 220 °C, but oven offers it only roast (200 °C) and crisp (180 °C)" in error.text
    )
    assert solvable(problem_of(meal([cook(10, temp="200 C")], appliance=STAGED)))


def roast_of(minutes: int) -> list[dict[str, object]]:
    stages = [{"name": "roast", "temp": "200 C", "time": f"{minutes} min"}, {"name": "crisp"}]
    return [{"name": "oven", "stage": stages}]


def test_a_step_longer_than_its_stage() -> None:
    error = told(meal([cook(20, stage="roast")], appliance=STAGED))
    assert names(error) == {("dish 0", 0)}
    assert error.text == "dish 0 (“heat”) takes 20 min, but oven gives it only 16 min (roast)."
    assert error.mend == "Lengthen roast by 4 min, or let dish 0 be in for more stages."
    assert solvable(problem_of(meal([cook(20, stage="roast")], appliance=roast_of(20))))
    assert not _placed(meal([cook(20, stage="roast")], appliance=roast_of(19)))
    assert solvable(problem_of(meal([cook(20)], appliance=STAGED)))


def _placed(plan: Plan) -> bool:
    try:
        problem_of(plan)
    except Contradiction:
        return False
    return True


def test_two_steps_of_one_dish_longer_than_their_stage() -> None:
    dish = [cook(10, stage="roast"), cook(10, stage="roast")]
    error = told(meal(dish, appliance=STAGED))
    assert names(error) == {("dish 0", 0), ("dish 0", 1)}
    assert "lasts 16 min" in error.text
    assert error.mend == "Let the stage roast last 20 min."
    assert solvable(problem_of(meal(dish, appliance=roast_of(20))))
    assert not solvable(problem_of(meal(dish, appliance=roast_of(19))))


TURNS = [
    {"name": "hot", "temp": "220 C", "time": "10 min"},
    {"name": "low", "temp": "180 C", "time": "20 min"},
]


def oven_of(*stages: dict[str, str]) -> list[dict[str, object]]:
    return [{"name": "oven", "stage": list(stages)}, {"name": "burner"}]


def test_two_heats_in_another_order_than_the_program_has_them() -> None:
    low, hot = cook(10, temp="180 C"), cook(10, temp="220 C") | {"cook": "brown"}
    error = told(meal([low, hot], appliance=oven_of(*TURNS)))
    assert names(error) == {("dish 0", 0), ("dish 0", 1)}
    assert error.text == (
        "dish 0 (“brown”) asks for 220 °C, which oven has for it in the stage hot only; "
        "dish 0 (“heat”) comes before it and asks for 180 °C, which oven has for it in the stage "
        "low only, and the stage hot is over before the stage low begins."
    )
    assert error.mend == (
        "Let dish 0 (“brown”) come before dish 0 (“heat”), or give oven a further stage with "
        "220 °C after the stage low."
    )
    assert solvable(problem_of(meal([hot, low], appliance=oven_of(*TURNS))))
    further = {"name": "hot again", "temp": "220 C"}
    assert solvable(problem_of(meal([low, hot], appliance=oven_of(*TURNS, further))))


def test_stages_asked_for_by_name_in_another_order_than_the_program_has_them() -> None:
    low, pan, hot = cook(10, stage="low"), cook(15, "burner"), cook(10, stage="hot")
    error = told(meal([low, pan, hot | {"cook": "brown"}], appliance=oven_of(*TURNS)))
    assert "may be in the stage hot of oven only; dish 0 (“heat”) comes before it" in error.text
    # The other way round, low has five minutes left after the burner.
    assert error.mend == "Give oven a further stage like the stage hot after the stage low."
    assert not solvable(problem_of(meal([hot, pan, low], appliance=oven_of(*TURNS))))


def test_a_keep_that_hands_cannot_honour() -> None:
    dish = [prep(6, keep="0 min"), cook(14, stage="crisp")]
    plan = meal(dish, dish, appliance=STAGED)
    error = told(plan)
    assert names(error) == {("dish 0", 0), ("dish 0", 1), ("dish 1", 0), ("dish 1", 1)}
    assert "After dish 0 (“cut”) at most 0 min may pass" in error.text
    assert "no sooner than 6 min after it, with dish 1 to be done as well" in error.text
    assert error.mend == "Let dish 0 (“cut”) keep 6 min, or have 2 pairs of hands."
    problem = problem_of(plan)
    assert solvable(keeping(problem, 0, 0, 360))
    assert not solvable(keeping(problem, 0, 0, 359))
    assert solvable(replace(problem, hands=2))


def test_a_keep_that_the_burner_cannot_honour_is_not_mended_by_hands() -> None:
    dish = [cook(10, "burner"), cook(14, stage="crisp")]
    plan = meal(dish, dish, appliance=STAGED)
    error = told(plan)
    assert error.mend == "Let dish 0 (“heat”) keep 10 min."
    problem = problem_of(plan)
    assert solvable(keeping(problem, 0, 0, 600))
    assert not solvable(keeping(problem, 0, 0, 599))
    assert not solvable(replace(problem, hands=2))


def test_a_keep_shorter_than_the_slack() -> None:
    error = told(meal([prep(10, keep="5 min"), cook(5)], slack="8 min"))
    assert error.mend == "Let it keep 8 min, or cut the slack to 5 min."
    assert solvable(problem_of(meal([prep(10, keep="8 min"), cook(5)], slack="8 min")))
    assert solvable(problem_of(meal([prep(10, keep="5 min"), cook(5)], slack="5 min")))


def test_serving_before_the_earliest_possible_time_is_late_and_says_why() -> None:
    plan = meal([prep(6), cook(30), finish(4)], [prep(3), cook(10)])
    problem = problem_of(plan, 30 * 60)
    schedule = solve(problem)
    assert (schedule.dish_up, schedule.late, schedule.proven) == (41 * 60, 11 * 60, True)
    assert why_late(problem, schedule) == (
        "Dish-up is 11 min later than wanted: nothing shortens heating oven 7 min, "
        "dish 0 (“heat”) 30 min and dish 0 (“plate”) 4 min, one after the other."
    )
    assert solve(replace(problem, serve=41 * 60)).late == 0
    assert solve(replace(problem, serve=41 * 60 - 1)).late == 1


@pytest.mark.parametrize(("cooking", "earlier"), [(28, 50 * 60), (25, None)])
def test_where_the_holds_cost_more_than_five_minutes_the_earlier_time_is_shown(
    cooking: int, earlier: int | None
) -> None:
    # One pair of hands. Dish 1 first: nothing waits, and dish 0 ends at 20 + 10 + its cooking.
    # Dish 0 first: dish 1 ends at 10 + 20 + 20, and dish 0 has waited beyond its hold.
    dishes = [[prep(10, keep="0 min"), cook(cooking)], [prep(20), cook(20)]]
    plan = meal(*dishes, hold="0 min")
    schedule = solve(problem_of(plan))
    assert (schedule.dish_up, schedule.over_hold) == ((30 + cooking) * 60, 0)
    assert schedule.earlier == earlier
    soonest = solve(problem_of(plan, 50 * 60))
    assert (soonest.late, soonest.over_hold) == (0, (40 - cooking) * 60)
    assert solve(problem_of(plan, 49 * 60)).late == 60


def test_the_error_is_an_object_that_other_programs_can_read() -> None:
    error = told(meal([cook(20, stage="roast")], appliance=STAGED))
    found = json.loads(json.dumps(contradiction_json(error)))["error"]
    assert found["kind"] == "contradiction"
    assert found["steps"] == [{"component": "dish 0", "index": 0, "text": "heat"}]
    assert (found["text"], found["mend"]) == (error.text, error.mend)
