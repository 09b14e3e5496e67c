"""`passbell export`: a meal written out for other programs, other kitchens and the phone."""

import argparse
import sys
from collections.abc import Callable
from pathlib import Path

from passbell.cli.parser import say, whole
from passbell.cli.plan_args import (
    add_servings_options,
    add_today_options,
    as_today,
    for_so_many,
    load_named,
)
from passbell.cli.times import add_time_options, timing
from passbell.clock import SystemClock
from passbell.cook.cues import cues
from passbell.cook.engine import advance, begin
from passbell.cook.state import CookState
from passbell.export.calendar import icalendar
from passbell.export.card import card
from passbell.export.chapters import chapter_lines, webvtt
from passbell.export.files import SUFFIXES, next_sequence, write_file
from passbell.export.jsonld import NO_IMAGE, jsonld
from passbell.export.meal import Meal, meal_of_plan, meal_of_run, with_amounts
from passbell.export.table import table
from passbell.journal import Journal, JournalError, home
from passbell.plan.read import read_plan
from passbell.planfiles import LoadedPlan
from passbell.schedule.model import Contradiction
from passbell.session.cook import refold
from passbell.session.kitchen import in_kitchen
from passbell.session.record import read_events
from passbell.session.runs import UnreadableRun, kept_run, load_run
from passbell.session.servings import ServingsError

_TEXTS: dict[str, Callable[[Meal, int], str]] = {
    "card": lambda meal, _: card(meal),
    "jsonld": lambda meal, _: jsonld(meal),
    "vtt": webvtt,
    "chapters": chapter_lines,
    "csv": lambda meal, _: table(meal),
}


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `export` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "export",
        help="a plan or a run as a card, calendar or table",
        description="Write out a plan or a run: card (Markdown), jsonld (schema.org Recipe), ics "
        "(a calendar of what is still to do), vtt and chapters (of a film), csv.",
        epilog="The figures of a plan are those of its latest finished cook, where it was cooked "
        "unchanged; else those of the plan. The export says which. An ics is always of what is "
        "planned: a backup on the phone, to be exported again after a change.",
    )
    parser.add_argument(
        "what", metavar="PLAN_OR_RUN", help="a plan, or the number of a run in the record"
    )
    add_export_options(parser)
    add_time_options(parser)
    parser.set_defaults(func=run_export)


def add_export_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that `run_export` reads besides `what` and the time options."""
    parser.add_argument(
        "--as", dest="kind", choices=tuple(SUFFIXES), required=True, help="what to write"
    )
    add_servings_options(parser)
    add_today_options(parser)
    parser.add_argument("--to", metavar="FILE", help="write it there instead of printing it")
    parser.add_argument(
        "--mark",
        metavar="N",
        type=whole,
        default=1,
        help="chapters begin at the Nth mark (1)",
    )


def run_export(args: argparse.Namespace) -> int:
    """Write out what the options name; the exit code.

    Raises:
        ServingsError: when a run is asked for otherwise than it was cooked.
    """
    if args.what.isdecimal() and (args.way is not None or args.size or args.other):
        raise ServingsError("a run was cooked as it was", "name its plan to have it otherwise")
    try:
        data = _calendar(args) if args.kind == "ics" else _text(args)
    except Contradiction as error:
        say(f"{error.text} {error.mend}")
        return 1
    if data is None:
        return 1
    if args.kind == "jsonld":
        say(NO_IMAGE)
    if args.to is None:
        _print(data)
    else:
        write_file(Path(args.to), data, args.kind)
    return 0


def _print(data: bytes) -> None:
    """To stdout, its line ends as they are, where stdout takes bytes at all."""
    sys.stdout.flush()
    buffer = getattr(sys.stdout, "buffer", None)
    if buffer is None:
        sys.stdout.write(data.decode())
    else:
        buffer.write(data)
        buffer.flush()


def _text(args: argparse.Namespace) -> bytes:
    meal = _run_meal(args) if args.what.isdecimal() else _plan_meal(args)
    return _TEXTS[args.kind](meal, args.mark).encode()


def _run_meal(args: argparse.Namespace) -> Meal:
    """The meal of a run; for another number of people only its amounts are others."""
    with Journal.open() as journal:
        kept = load_run(journal, int(args.what))
    if kept.lost:
        say(f"{kept.lost} entries of this run were lost to damage; what is whole is written out")
    source = kept.source
    plan = read_plan(source.plan_text, source.plan_file)
    return _for_people(
        meal_of_run(kept), LoadedPlan(plan, source.plan_file, source.plan_text), args
    )


def _plan_meal(args: argparse.Namespace) -> Meal:
    """The meal of a plan: with the figures of its latest cook, where it was cooked unchanged."""
    loaded = _today(args)
    meal = _cooked(loaded) if args.way is None else None
    if meal is not None:
        return _for_people(meal, loaded, args)
    when = timing(args, loaded.plan.serve_at, SystemClock())
    plan = for_so_many(args, loaded, when.serve).loaded.plan
    offset = when.at_start.utcoffset()
    seconds = int(offset.total_seconds()) if offset else 0
    return meal_of_plan(begin(plan, when.serve).state, when.start.utc, seconds)


def _today(args: argparse.Namespace) -> LoadedPlan:
    """The plan that was named, with the sizes and settings of today, which are said."""
    loaded, told = as_today(args, load_named(args.what))
    for note in told:
        say(note)
    return loaded


def _for_people(meal: Meal, loaded: LoadedPlan, args: argparse.Namespace) -> Meal:
    if args.serves is None:
        return meal
    return with_amounts(meal, for_so_many(args, loaded, None).loaded.plan)


def _cooked(loaded: LoadedPlan) -> Meal | None:
    try:
        with Journal.open() as journal:
            for row in journal.runs():
                same = (row.meta.plan_file, row.meta.plan_text) == (loaded.file, loaded.text)
                if same and row.state == "finished" and not row.meta.rehearsal:
                    return meal_of_run(kept_run(journal, row))
    except (JournalError, UnreadableRun) as error:
        say(f"{error}; the figures are those of the plan")
    return None


def _calendar(args: argparse.Namespace) -> bytes | None:
    """What is still to do, in a plan or in a cook that goes on; None: nothing is."""
    utc = SystemClock().now().utc
    if args.what.isdecimal():
        found = _open_cook(int(args.what), utc)
        if found is None:
            say("that cook is over: nothing is left to be reminded of; name its plan instead")
            return None
        state, start = found
    else:
        loaded = _today(args)
        when = timing(args, loaded.plan.serve_at, SystemClock())
        plan = for_so_many(args, loaded, when.serve).loaded.plan
        habits = in_kitchen(plan).habits
        state, start = begin(plan, when.serve, kitchen=habits).state, (when.start.utc, 1.0)
    say("this calendar is a backup: it knows no later change, so export it again after one")
    number = next_sequence(home(), state.plan.title, utc)
    return icalendar(state, cues(state), start, (utc, number))


def _open_cook(run: int, utc: float) -> tuple[CookState, tuple[float, float]] | None:
    with Journal.open() as journal:
        row = journal.run(run)
        load_run(journal, run)
        entries = journal.entries(run)
    if row.state != "open":
        return None
    meta = row.meta
    state = refold(read_plan(meta.plan_text, meta.plan_file), read_events(entries))
    now = max(state.at, int((utc - meta.started_utc) * meta.speed))
    return advance(state, now).state, (meta.started_utc, meta.speed)
