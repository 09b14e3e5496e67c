"""The four figures against CP-SAT (OR-Tools, a general-purpose solver), wherever both prove."""

from typing import Any

import pytest

from passbell.plan.model import Plan
from passbell.schedule import Contradiction, problem_of, solve
from tests.oracles.cpsat_stagger import best
from tests.schedule.compare import SIZES, faults
from tests.schedule.random_plans import random_plan

EFFORT = 600
"""Less than a cook gets: what stays unproven is held to its bound instead."""

Step = dict[str, Any]


@pytest.mark.parametrize("batch", range(15))
def test_random_plans_have_the_same_figures(batch: int) -> None:
    found = {
        seed: faults(*random_plan(seed, SIZES[seed % 12]), effort=EFFORT)
        for seed in range(batch * 20, batch * 20 + 20)
    }
    assert {seed: told for seed, told in found.items() if told} == {}


@pytest.mark.parametrize("seed", range(400, 416))
def test_the_earlier_alternative_is_the_earliest_there_is(seed: int) -> None:
    plan, _ = random_plan(seed, 2 + seed % 4)
    earliest = best(plan, 0)
    if earliest.figures is None:
        with pytest.raises(Contradiction):
            solve(problem_of(plan))
        return
    schedule = solve(problem_of(plan))
    assert earliest.proven
    soonest = earliest.figures[1]
    shown = soonest if schedule.dish_up - soonest > 300 else None
    assert schedule.earlier == shown


def prep(minutes: int, **more: str) -> Step:
    return {"prep": "cut", "time": f"{minutes} min"} | more


def cook(minutes: int, on: str = "oven", **more: str) -> Step:
    return {"cook": "heat", "on": on, "time": f"{minutes} min"} | more


def finish(minutes: int) -> Step:
    return {"finish": "plate", "time": f"{minutes} min"}


def meal(*dishes: list[Step], hold: str = "5 min", **top: Any) -> Plan:
    oven: dict[str, Any] = {"name": "oven", "preheat": "7 min"}
    burner = {"name": "burner", "holds": 1}
    return Plan.of(
        {
            "title": "invented",
            "serves": 2,
            "appliance": [oven, burner],
            "component": [
                {"name": f"dish {k}", "hold": hold, "steps": steps}
                for k, steps in enumerate(dishes)
            ],
        }
        | top
    )


STAGED = [
    {
        "name": "oven",
        "preheat": "7 min",
        "stage": [
            {"name": "roast", "temp": "200 C", "time": "16 min"},
            {"name": "crisp", "temp": "180 C", "time": "14 min"},
        ],
    },
    {"name": "burner", "holds": 1},
]

HARD = {
    "seven alike": meal(*[[prep(4), cook(12), finish(2)] for _ in range(7)]),
    "alike, two pairs of hands": meal(*[[prep(5), cook(9), finish(3)] for _ in range(6)], hands=2),
    "one burner for all": meal(*[[prep(3), cook(6 + k, "burner")] for k in range(5)]),
    "hands overloaded": meal(*[[prep(9 + k), cook(5), finish(4)] for k in range(6)], hold="0 min"),
    "everything kept for no time": meal(
        *[[prep(3 + k, keep="0 min"), cook(10 + 4 * k)] for k in range(5)]
    ),
    "a keep that just fits": meal(
        [prep(6, keep="4 min"), cook(20)], [prep(4, keep="10 min"), cook(20)], [prep(4), cook(6)]
    ),
    "two programs of the oven, two orders": meal(
        [prep(6), cook(23)], [prep(2), cook(13, temp="180 C")], [cook(16, stage="roast")],
        appliance=STAGED,
    ),
    "a burner between two stages": meal(
        [cook(8, "burner"), cook(14, stage="crisp")], [cook(8, "burner"), cook(16, stage="roast")],
        [cook(5, "burner"), finish(3)], appliance=STAGED,
    ),
    "nothing is cooked": meal([prep(5), finish(4)], [finish(7)], [prep(2)]),
    "steps of no time": meal([prep(0), cook(0), finish(0)], [prep(3), cook(4, "burner")]),
    "hands on the pan": meal(
        *[[prep(2), cook(8, "oven", hands="8 min", keep="2 min"), finish(2)] for _ in range(4)]
    ),
    "a keep that hands cannot honour": meal(
        [prep(6, keep="0 min"), cook(10, "burner", hands="10 min", keep="0 min"), cook(5)],
        [prep(3, keep="0 min"), cook(10, "burner", keep="0 min"), cook(9, hands="9 min"),
         cook(12, "burner", keep="0 min"), cook(3, hands="3 min")],
        hands=1,
    ),
    "a stage too short for what must follow it": meal(
        [cook(10, stage="roast", keep="0 min"), cook(10, stage="roast")],
        appliance=STAGED,
    ),
}  # fmt: skip


@pytest.mark.parametrize("serve", [None, 3600])
@pytest.mark.parametrize("name", HARD)
def test_hard_ones_made_by_hand(name: str, serve: int | None) -> None:
    assert faults(HARD[name], serve, effort=2000) == []
