"""The stagger: when every step of a meal starts. Pure; usable alone."""

from passbell.schedule.feasible import violations
from passbell.schedule.late import chain, why_late
from passbell.schedule.model import (
    Contradiction,
    Machine,
    Problem,
    Schedule,
    StepName,
    Stretch,
    Work,
)
from passbell.schedule.problem import problem_of
from passbell.schedule.slack import slacks
from passbell.schedule.solve import solve, solve_live

__all__ = [
    "Contradiction",
    "Machine",
    "Problem",
    "Schedule",
    "StepName",
    "Stretch",
    "Work",
    "chain",
    "problem_of",
    "slacks",
    "solve",
    "solve_live",
    "violations",
    "why_late",
]
