"""The argument that names a plan, and the plan it names."""

import argparse

from passbell.cli.parser import say
from passbell.library import LoadedPlan, find_plan
from passbell.plan.problem import PlanError


def add_plan_argument(parser: argparse.ArgumentParser) -> None:
    """Add PLAN; `plan_of` reads it."""
    parser.add_argument("plan", metavar="PLAN", help="a plan file, or the name of a bundled plan")


def plan_of(args: argparse.Namespace) -> LoadedPlan:
    """The plan that was named.

    Raises:
        LibraryError: when there is none of that name.
        SystemExit: with code 2, every problem of the file having been said, when it cannot be
            read.
    """
    return load_named(args.plan)


def load_named(name: str) -> LoadedPlan:
    """The plan of a path or a name; raises as `plan_of` does."""
    try:
        return find_plan(name)
    except PlanError as error:
        for problem in error.problems:
            say(str(problem))
        raise SystemExit(2) from None
