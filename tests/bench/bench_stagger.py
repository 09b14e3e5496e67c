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
from dataclasses import dataclass, field
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


@dataclass
class Tally:
    """What the plans of one kind came to."""

    mine: list[float] = field(default_factory=list)
    theirs: list[float] = field(default_factory=list)
    bounds: list[float] = field(default_factory=list)
    proven: int = 0
    soon: int = 0
    both: int = 0
    better: int = 0
    worse: int = 0

    def line(self, name: str) -> str:
        """One line of the report."""
        many = len(self.mine)
        if not many:
            return f"{name}  none"
        bounds = sorted(self.bounds)
        bound = bounds[len(bounds) // 2] if bounds else 0.0
        return (
            f"{name}  ours {middle(self.mine):>14} ms  proven {self.proven / many:4.0%}"
            f" (within 1 s {self.soon / many:4.0%})  bound of the others {bound:5.0f} min"
            f"   CP-SAT {middle(self.theirs):>15} ms  proven {self.both / many:4.0%}"
            f"   ours better {self.better:2d}, worse {self.worse:2d} of {many}"
        )


def ours_and_theirs(size: int, plans: int, seconds: float) -> None:
    """Figures and times of both for plans of one size, by pairs of hands."""
    by_hands: dict[int, Tally] = {}
    every = Tally()
    contra = 0
    seed = FIRST
    while len(every.mine) < plans:
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
        begins = monotonic()
        answer: Answer = best(plan, serve, seconds, workers=0, whole=seconds)
        waited = monotonic() - begins
        for tally in (every, by_hands.setdefault(problem.hands, Tally())):
            tally.mine.append(took)
            tally.theirs.append(waited)
            count(tally, (serve, schedule, answer), took)
    for hands in sorted(by_hands):
        name = f"{size:3d}, hands {hands}"
        print(by_hands[hands].line(name), flush=True)
    if len(by_hands) > 1:
        print(every.line(f"{size:3d}, all    "), flush=True)
    print(f"{size:3d}, {contra} more contradict themselves", flush=True)


def count(tally: Tally, answers: tuple[int | None, Schedule, Answer], took: float) -> None:
    """Add one plan's two answers to a tally."""
    serve, schedule, answer = answers
    tally.proven += schedule.proven
    tally.soon += schedule.proven and took <= 1.0
    tally.both += answer.proven
    if not schedule.proven:
        tally.bounds.append(schedule.bound / 60)
    if answer.figures is None:
        tally.better += 1
        return
    figures = (schedule.over_hold, schedule.dish_up, schedule.wait, schedule.start)
    here, there = goals(serve, figures), goals(serve, answer.figures)
    tally.better += here < there
    tally.worse += here > there
    if schedule.proven and here > there:
        print(f"a fault: proven {here}, but CP-SAT finds {there}", flush=True)


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
