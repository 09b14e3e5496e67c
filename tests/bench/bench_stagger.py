"""The stagger beside CP-SAT (OR-Tools, a general-purpose solver), and its replans.

    python tests/bench/bench_stagger.py                     2 to 30 components, 10 plans each
    python tests/bench/bench_stagger.py --sizes 8 --plans 50
    python tests/bench/bench_stagger.py --replan            the rest of a meal, solved again

Plans are invented from seeds (tests/schedule/random_plans.py). CP-SAT gets two seconds a plan, on
as many threads as the machine has; times of ours are processor time, so that they hold on a busy
machine. Nothing is asserted.
"""

import argparse
import sys
from pathlib import Path
from time import monotonic, process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from passbell.schedule import Contradiction, Problem, Schedule, problem_of, solve, solve_live
from tests.oracles.cpsat_stagger import Answer, best
from tests.schedule.random_facts import halfway
from tests.schedule.random_plans import random_plan

SIZES = (2, 4, 6, 8, 10, 12, 16, 20, 25, 30)
FIRST = 20_000
"""The first seed: none of those the tests use."""


def middle(times: list[float]) -> str:
    """Median, 90th percentile and worst, in milliseconds."""
    ranked = sorted(times)
    marks = ranked[len(ranked) // 2], ranked[int(len(ranked) * 0.9)], ranked[-1]
    return "/".join(f"{1000 * mark:.0f}" for mark in marks)


def goals(serve: int | None, figures: tuple[int, int, int, int]) -> tuple[int, int, int, int]:
    """Figures in the order in which they count, smaller is better."""
    over, table, wait, start = figures
    return (over, table, wait, -start) if serve is None else (table, over, wait, -start)


def ours(problem: Problem) -> tuple[Schedule | None, float]:
    """Our answer (None: a contradiction) and its processor time."""
    begins = process_time()
    try:
        schedule = solve(problem)
    except Contradiction:
        schedule = None
    return schedule, process_time() - begins


def ours_and_theirs(size: int, plans: int, seconds: float) -> None:
    """One line: figures and times of both for plans of one size."""
    mine, theirs, over_bound = [], [], []
    better = worse = proven = both = contra = asked = 0
    seed = FIRST
    while asked < plans:
        seed += 1
        plan, serve = random_plan(seed, size)
        try:
            problem = problem_of(plan, serve)
        except Contradiction:
            continue
        schedule, took = ours(problem)
        if schedule is None:
            contra += 1
            continue
        asked += 1
        mine.append(took)
        begins = monotonic()
        answer: Answer = best(plan, serve, seconds, workers=0, whole=seconds)
        theirs.append(monotonic() - begins)
        if answer.figures is None:
            better += 1
            continue
        figures = (schedule.over_hold, schedule.dish_up, schedule.wait, schedule.start)
        here, there = goals(serve, figures), goals(serve, answer.figures)
        better, worse = better + (here < there), worse + (here > there)
        proven, both = proven + schedule.proven, both + answer.proven
        over_bound.append(schedule.bound / 60)
    bound = sorted(over_bound)[len(over_bound) // 2] if over_bound else 0.0
    print(
        f"{size:3d}  ours {middle(mine):>14} ms  proven {proven / asked:4.0%}"
        f"  bound {bound:5.0f} min   CP-SAT {middle(theirs):>15} ms  proven {both / asked:4.0%}"
        f"   ours better {better:2d}, worse {worse:2d} of {asked} ({contra} contradict themselves)",
        flush=True,
    )


def replans(size: int, plans: int) -> None:
    """One line: what is left of a meal at a random moment, solved again as a cook does."""
    begun: list[float] = []
    moved: list[float] = []
    cold: list[float] = []
    seed = FIRST
    while len(moved) < plans:
        seed += 1
        plan, serve = random_plan(seed, size)
        try:
            problem = problem_of(plan, serve)
            schedule = solve(problem, effort=200)
        except Contradiction:
            continue
        later = halfway(problem, schedule, seed)
        for times, rest, like in (
            (begun, problem, schedule),
            (moved, later, schedule),
            (cold, later, None),
        ):
            begins = process_time()
            solve_live(rest, like=like)
            times.append(process_time() - begins)
    print(
        f"{size:3d}  replan halfway {middle(moved):>10} ms   without the last order "
        f"{middle(cold):>10} ms   nothing begun yet {middle(begun):>10} ms",
        flush=True,
    )


def main() -> None:
    """Print what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", type=int, nargs="+", default=list(SIZES))
    parser.add_argument("--plans", type=int, default=10)
    parser.add_argument("--seconds", type=float, default=2.0, help="for CP-SAT, a plan")
    parser.add_argument("--replan", action="store_true", help="only the replans")
    chosen = parser.parse_args()
    print("times: median/90th percentile/worst")
    for size in chosen.sizes if not chosen.replan else ():
        ours_and_theirs(size, chosen.plans, chosen.seconds)
    for size in chosen.sizes:
        replans(size, chosen.plans)


if __name__ == "__main__":
    main()
