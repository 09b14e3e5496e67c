"""`passbell timeplan`: when everything starts, as a table, a drawn time line, or JSON."""

import argparse
import json
import shutil
import sys

from passbell.cli.odds import add_odds_options, odds_asked, odds_json, odds_lines
from passbell.cli.plan_args import (
    add_plan_argument,
    add_servings_options,
    add_today_options,
    as_today,
    for_so_many,
    plan_of,
)
from passbell.cli.timeplan_json import contradicted, timeplan_json
from passbell.cli.timeplan_text import drawing, table
from passbell.cli.times import Timing, add_time_options, timing
from passbell.clock import SystemClock, local_day_time
from passbell.cook.engine import begin
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.schedule.late import why_late
from passbell.schedule.model import Contradiction
from passbell.session.kitchen import InKitchen, in_kitchen

WIDTH = 100
"""Columns of the drawing where the terminal's width is not known."""


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `timeplan` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "timeplan",
        help="when everything starts, as a table and a time line",
        description="When everything starts so that it is hot together.",
    )
    add_plan_argument(parser)
    add_time_options(parser)
    add_servings_options(parser)
    add_today_options(parser)
    add_odds_options(parser)
    parser.add_argument("--json", action="store_true", help="for other programs")
    parser.set_defaults(func=_run)


def _run(args: argparse.Namespace) -> int:
    loaded, told = as_today(args, plan_of(args))
    when = timing(args, loaded.plan.serve_at, SystemClock())
    try:
        plan = for_so_many(args, loaded, when.serve).loaded.plan
        kitchen = in_kitchen(plan)
        state = begin(plan, when.serve, kitchen=kitchen.habits).state
    except Contradiction as error:
        return contradicted(error, as_json=args.json)
    odds = odds_asked(args, state)
    if args.json:
        said = {"kitchen": kitchen.notes} | ({"today": told} if told else {})
        data = timeplan_json(state, when.at_start) | said | odds_json(state, odds)
        print(json.dumps(data, ensure_ascii=False))
    else:
        _print(state, when, (kitchen, told))
        for line in odds_lines(state, odds, lambda at: _local(when, at)):
            print(line)
    return 1 if state.schedule.late else 0


def _local(when: Timing, at: int) -> str:
    """An engine instant as the local time, with its day where that is not today."""
    return local_day_time(when.start.utc + at, when.start.utc)


def _print(state: CookState, when: Timing, besides: tuple[InKitchen, tuple[str, ...]]) -> None:
    def local(at: int) -> str:
        return _local(when, at)

    schedule = state.schedule
    print(f"{state.plan.title}: for {state.plan.serves}, on the table at {local(schedule.dish_up)}")
    print(f"  first act at {local(schedule.start)}; held hot {spoken(schedule.wait)} in all")
    if when.notice:
        print(f"  {when.notice}")
    if schedule.over_hold:
        print(f"  ! {spoken(schedule.over_hold)} beyond what the components may wait")
    if schedule.earlier is not None:
        print(f"  could be served at {local(schedule.earlier)}, if more of it may wait")
    if schedule.late:
        print(f"  ! {spoken(schedule.late)} late: {why_late(state.problem, schedule)}")
    if not schedule.proven:
        print(f"  not proven best: at most {spoken(schedule.bound)} could be gained")
    for note in besides[1]:
        print(f"  * {note}")
    _print_kitchen(besides[0])
    print()
    for line in table(state, local):
        print(line)
    print()
    width = shutil.get_terminal_size((WIDTH, 24)).columns if sys.stdout.isatty() else WIDTH
    for line in drawing(state, local, min(width, 160)):
        print(line)


def _print_kitchen(kitchen: InKitchen) -> None:
    for note in kitchen.notes:
        print(f"  · {note}")
    if kitchen.trouble:
        print(f"  ! {kitchen.trouble}")
