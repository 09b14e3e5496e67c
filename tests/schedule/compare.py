"""Our answer and CP-SAT's to one plan, side by side.

The long version of the comparison, with as many plans as wanted:

    python tests/schedule/compare.py --plans 2000 --first 1000
"""

import argparse
import sys
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from passbell.plan.model import Plan
from passbell.schedule import Contradiction, Schedule, problem_of, solve, violations
from tests.oracles.cpsat_stagger import Answer, best
from tests.schedule.random_plans import random_plan

SIZES = (2, 3, 4, 5, 6, 7, 8, 2, 3, 4, 5, 6)


def ordered(serve: int | None, figures: tuple[int, int, int, int]) -> tuple[int, ...]:
    """Figures in the order in which they count, smaller is better."""
    over, table, wait, start = figures
    return (over, table, wait, -start) if serve is None else (table, over, wait, -start)


def faults(plan: Plan, serve: int | None, *, effort: int = 4000, seconds: float = 2.0) -> list[str]:
    """Everything in which our answer and CP-SAT's disagree; empty when they agree.

    Where both are proven all four figures are equal; where only CP-SAT is, ours is no better, and
    no further from it than our bound says.
    """
    answer = best(plan, serve, seconds)
    try:
        problem = problem_of(plan, serve)
        schedule = solve(problem, effort=effort)
    except Contradiction as error:
        return [] if answer.figures is None else [f"contradiction? {error}"]
    return violations(problem, schedule) + _differences(serve, schedule, answer)


def _differences(serve: int | None, schedule: Schedule, answer: Answer) -> list[str]:
    if answer.figures is None:
        return ["CP-SAT finds no schedule"] if answer.proven else []
    ours = ordered(serve, (schedule.over_hold, schedule.dish_up, schedule.wait, schedule.start))
    theirs = ordered(serve, answer.figures)
    if schedule.proven and (ours > theirs or (answer.proven and ours != theirs)):
        return [f"we prove {ours}, CP-SAT finds {theirs}"]
    if answer.proven and ours < theirs:
        return [f"we find {ours}, CP-SAT proves {theirs}"]
    if ours == theirs and schedule.late != answer.late:
        return [f"late {schedule.late}, CP-SAT {answer.late}"]
    gap = next((a - b for a, b in zip(ours, theirs, strict=True) if a != b), 0)
    return [f"{ours} is {gap} from {theirs}, not {schedule.bound}"] if gap > schedule.bound else []


def main() -> None:
    """Compare as many random plans as asked for; exit 1 when any differs."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--plans", type=int, default=1000)
    parser.add_argument("--first", type=int, default=1000)
    chosen = parser.parse_args()
    wrong = 0
    for seed in range(chosen.first, chosen.first + chosen.plans):
        told = faults(*random_plan(seed, 2 + seed % 7), seconds=10.0)
        wrong += bool(told)
        for line in told:
            print(f"seed {seed}: {line}", flush=True)
    print(f"{chosen.plans} plans compared, {wrong} differ")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
