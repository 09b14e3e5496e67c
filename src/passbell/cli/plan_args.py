"""The argument that names a plan, and the plan it names."""

import argparse

from passbell.cli.parser import say, say_all, whole
from passbell.cook.own_times import OwnTimes
from passbell.cook.sizes import TodayError
from passbell.journal import Journal, JournalError
from passbell.plan.problem import PlanError
from passbell.planfiles import LoadedPlan, find_plan
from passbell.session.kitchen import in_kitchen
from passbell.session.own_times import own_times_of
from passbell.session.servings import Servings, for_people
from passbell.session.today import of_modes, of_sizes, read_size


def add_plan_argument(parser: argparse.ArgumentParser) -> None:
    """Add PLAN; `plan_of` reads it."""
    parser.add_argument("plan", metavar="PLAN", help="a plan file, or a plan's name")


def plan_of(args: argparse.Namespace) -> LoadedPlan:
    """The plan that was named.

    Raises:
        PlanFileError: when there is none of that name.
        SystemExit: with code 2, every problem of the file having been said, when it cannot be
            read.
    """
    return load_named(args.plan)


def load_named(name: str) -> LoadedPlan:
    """The plan of a path or a name; raises as `plan_of` does."""
    try:
        return find_plan(name)
    except PlanError as error:
        say_all(error.problems)
        raise SystemExit(2) from None


def add_servings_options(parser: argparse.ArgumentParser) -> None:
    """Add `--serves` and `--way`; `for_so_many` reads them."""
    parser.add_argument(
        "--serves",
        metavar="N",
        type=whole,
        help="for so many people: amounts scaled, layer checked",
    )
    parser.add_argument(
        "--way",
        metavar="N",
        type=whole,
        help="take the way out of that number, where one is offered",
    )


def add_today_options(parser: argparse.ArgumentParser) -> None:
    """Add `--size` and `--other`; `as_today` reads them."""
    add_size_option(parser)
    parser.add_argument(
        "--other",
        metavar="COMPONENT=SETTING",
        action="append",
        default=[],
        help='its oven set otherwise today: "chicken=bake 375 F by model"; without "by" it says '
        "what the model and the published rules make of it",
    )


def add_size_option(parser: argparse.ArgumentParser) -> None:
    """Add `--size`; `as_sized` reads it."""
    parser.add_argument(
        "--size",
        metavar="COMPONENT=SIZE",
        action="append",
        default=[],
        help="pieces of another thickness today, such as chicken=38mm: its times change with it",
    )


def as_sized(sizes: list[str], loaded: LoadedPlan) -> tuple[LoadedPlan, tuple[str, ...]]:
    """The plan with pieces of the sizes of today, and what is to be said of that.

    Raises:
        TodayError: when that cannot be.
    """
    wanted = dict(read_size(loaded.plan, text) for text in sizes)
    return of_sizes(loaded, wanted, _own_times(loaded) if wanted else None)


def as_today(args: argparse.Namespace, loaded: LoadedPlan) -> tuple[LoadedPlan, tuple[str, ...]]:
    """The plan as it is cooked today, and what is to be said of that; its file is not changed.

    Raises:
        TodayError: when that cannot be.
    """
    loaded, sizes = as_sized(args.size, loaded)
    try:
        loaded, modes = of_modes(loaded, args.other)
    except TodayError as error:
        for choice in error.choices:
            say(choice)
        raise
    return loaded, (*sizes, *modes)


def _own_times(loaded: LoadedPlan) -> OwnTimes:
    """What the record says of other sizes; nothing where it cannot be opened."""
    try:
        with Journal.open() as journal:
            return own_times_of(journal, loaded)
    except JournalError as error:
        say(f"{error}; your own times for other sizes are not known")
        return {}


def for_so_many(args: argparse.Namespace, loaded: LoadedPlan, serve: int | None) -> Servings:
    """The plan for the people asked for, with what the cook must know said to stderr.

    Args:
        args: parsed with `add_servings_options`.
        loaded: the plan.
        serve: wanted dish-up in seconds from now; None: as soon as possible.

    Raises:
        ServingsError: when that cannot be.
        Contradiction: when no schedule can satisfy the plan.
    """
    if args.serves is None and args.way is None:
        return Servings(loaded)
    kitchen = in_kitchen(loaded.plan).habits
    made = for_people(loaded, args.serves, args.way, serve=serve, kitchen=kitchen)
    for line in (*made.notes, *made.told):
        say(line)
    if made.ways:
        say("take a way out with --way and its number")
    return made
