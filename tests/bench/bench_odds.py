"""How many whole cooks a second the odds make up, and what one costs beside one plain solve.

    python tests/bench/bench_odds.py

Invented meals of 2 to 8 components; one process, its own processor time. Beside it, in the same
minutes, how much longer a cook takes through every instant, and with every replan searched for.
"""

import sys
from pathlib import Path
from time import process_time
from typing import Any
from unittest.mock import patch

sys.path.insert(0, str(Path(__file__).parents[2]))

from passbell.cook.engine import begin
from passbell.cook.state import CookState
from passbell.odds.hand import Hand
from passbell.odds.luck import Luck
from passbell.odds.odds import Draws, odds_of
from passbell.plan.model import Plan
from passbell.schedule.problem import problem_of
from passbell.schedule.solve import solve

RUNS = 40


def meal(components: int) -> Plan:
    """An oven, two burners, and one pair of hands that peels 4 to 9 minutes a component."""
    found = []
    for n in range(components):
        steps: list[dict[str, Any]] = [
            {"prep": "peel", "time": f"{4 + n % 6} min"},
            {
                "cook": "in",
                "time": f"{14 + 3 * n} min",
                "on": "oven" if n % 2 else f"burner {n % 4}",
            },
            {"finish": "dress", "time": "1 min"},
        ]
        found.append({"name": f"part {n}", "food": "plant", "steps": steps})
    appliances = [{"name": "oven", "preheat": "10 min", "stage": [{"name": "roast"}]}]
    appliances += [{"name": f"burner {k}"} for k in (0, 2)]
    data = {"title": "Invented", "serves": 4, "appliance": appliances, "component": found}
    return Plan.of(data)


def each(state: CookState, runs: int, *, leaps: bool) -> float:
    """Seconds of processor time that one made-up cook takes."""
    state = state.but(past=None, future=None, log=())
    began = process_time()
    for run in range(runs):
        Hand(state, Luck(1, run), leaps=leaps).cook()
    return (process_time() - began) / runs


def searched(state: CookState, runs: int) -> float:
    """The same with every replan searched for: nothing moved along, nothing passed over."""
    with patch("passbell.cook.replan.shifted", lambda state, problem: None):
        return each(state, runs, leaps=False)


def main() -> None:
    for components in range(2, 9):
        plan = meal(components)
        began = process_time()
        soonest = solve(problem_of(plan)).dish_up
        once = process_time() - began
        state = begin(plan, soonest + 600).state
        began = process_time()
        odds_of(state, Draws(1, RUNS))
        cook = (process_time() - began) / RUNS
        plain, slow = each(state, RUNS, leaps=False), searched(state, RUNS // 4)
        print(
            f"{components} components: {1 / cook:6.1f} runs/s,"
            f" {cook * 1000:6.1f} ms a run, {cook / once:5.2f} plain solves;"
            f" through every instant x {plain / cook:4.1f},"
            f" every replan searched x {slow / cook:4.1f}"
        )


if __name__ == "__main__":
    main()
