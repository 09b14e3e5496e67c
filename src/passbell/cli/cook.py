"""`passbell cook`: the dashboard beside the stove, or the same cook without a screen."""

import argparse
import contextlib
import sys

from passbell.cli.parser import say
from passbell.cli.plan_args import (
    add_plan_argument,
    add_servings_options,
    add_today_options,
    as_today,
    for_so_many,
    plan_of,
)
from passbell.cli.timeplan_json import contradicted
from passbell.cli.times import Timing, add_time_options, timing
from passbell.clock import Clock, SpeedClock, SystemClock, local_time
from passbell.cook.check_food import unjudged
from passbell.journal import Claim, Journal, RunRow, home
from passbell.safety.cautions import ALL
from passbell.safety.chart import first_unit
from passbell.schedule.model import Contradiction
from passbell.session import CookSession
from passbell.session.kitchen import in_kitchen, learn
from passbell.session.servings import Servings

FASTEST = 600.0
"""The fastest rehearsal: ten minutes a second."""


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `cook` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "cook",
        help="cook a plan: the dashboard beside the stove",
        description="Cook a plan beside the stove.",
        epilog="An unfinished cook of the same plan is offered again, where it stood.",
    )
    add_plan_argument(parser)
    add_time_options(parser)
    add_servings_options(parser)
    add_today_options(parser)
    parser.add_argument(
        "--speed", type=_speed, default=1.0, metavar="N", help="rehearse: 60 is a minute a second"
    )
    parser.add_argument(
        "--unit", choices=("F", "C"), help="of readings typed without one; else the chart's first"
    )
    parser.add_argument("--far", action="store_true", help="the whole screen for Now and the next")
    parser.add_argument("--mute", action="store_true", help="without any sound")
    parser.add_argument("--new", action="store_true", help="start anew, whatever is unfinished")
    parser.add_argument("--plain", action="store_true", help="a line a cue, commands from stdin")
    parser.add_argument("--headless", action="store_true", help="without a screen and at once")
    parser.add_argument("--script", metavar="FILE", help="headless: lines SECONDS COMMAND")
    parser.add_argument(
        "--keep",
        action="store_true",
        help="headless: keep the run in the record; told by a script it counts as a cook",
    )
    parser.add_argument("--json", action="store_true", help="headless: one object a line")
    parser.set_defaults(func=_run)


def _speed(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not 0 < value <= FASTEST:
        raise argparse.ArgumentTypeError(f"{text!r} is no speed; give a number up to {FASTEST:g}")
    return value


def _run(args: argparse.Namespace) -> int:
    loaded, told = as_today(args, plan_of(args))
    for note in told:
        say(note)
    when = timing(args, loaded.plan.serve_at, SystemClock())
    try:
        return _cook(args, for_so_many(args, loaded, when.serve), when)
    except Contradiction as error:
        return contradicted(error, as_json=args.headless and args.json)


def _cook(args: argparse.Namespace, made: Servings, when: Timing) -> int:
    found = sorted(unjudged(made.loaded.plan), key=lambda f: f.severity != "error")
    unsafe = [f"{f.component}: {f.text}; {f.mend}" for f in found]
    for line in unsafe:
        say(line)
    if args.headless:
        from passbell.cli.cook_headless import run_headless  # noqa: PLC0415

        return run_headless(args, made.loaded, when)
    if not args.plain:
        from passbell.tui.run import trouble  # noqa: PLC0415 - imports the screen

        why = trouble()
        if why is not None:
            say(f"{why} A cook without a screen: passbell cook {args.plan} --plain")
            return 2
    with Journal.open() as journal:
        for notice in journal.notices:
            say(notice)
        first = not journal.runs()
        session, claim = _session(args, made, when, journal)
        session.notices += () if args.plain else unsafe  # --plain has read it on stderr
        assert session.record is not None
        run = session.record.run
        with claim:
            code = _show(args, session, first=first)
        with contextlib.suppress(OSError):  # the terminal itself may be what has gone
            _farewell(session, run)
        untaught = learn(journal, run)
        if untaught:
            say(untaught)
        return code


def _session(
    args: argparse.Namespace, made: Servings, when: Timing, journal: Journal
) -> tuple[CookSession, Claim]:
    """The cook to go on with, or a new one, and the sole right to write it."""
    loaded = made.loaded
    found = list(journal.unfinished(loaded.file))
    if found and not args.new and _offered(found[0]):
        claim = journal.claim(found[0].id)
        if args.serves is not None or args.way is not None:
            say("it goes on for as many people as it was begun for")
        return CookSession.resume(journal, found[0].id, SystemClock()), claim
    for row in found:
        with journal.claim(row.id):
            journal.finish(row.id, row.last_at, "abandoned")
    clock: Clock = when.clock
    if args.speed != 1:
        clock = SpeedClock(args.speed, when.clock)
    book = (journal, loaded.file, loaded.text)
    kitchen = in_kitchen(loaded.plan)
    if kitchen.trouble:
        say(kitchen.trouble)
    session = CookSession.begin(
        loaded.plan,
        clock,
        serve=when.serve,
        book=book,
        scale=args.unit or first_unit(loaded.plan.chart),
        kitchen=kitchen.habits,
    )
    session.notices += kitchen.notes
    session.notices += () if args.plain else made.full  # --plain has read it on stderr
    assert session.record is not None
    return session, journal.claim(session.record.run)


def _offered(row: RunRow) -> bool:
    """Whether to go on with an unfinished cook; without a terminal it is gone on with."""
    began = local_time(row.meta.started_utc)
    if not sys.stdin.isatty():
        say(f"going on with the cook begun at {began} (--new starts anew)")
        return True
    question = f"A cook of this plan, begun at {began}, is not finished. Go on with it? [Y/n] "
    return not input(question).strip().casefold().startswith("n")


def _show(args: argparse.Namespace, session: CookSession, *, first: bool) -> int:
    """The cook itself; before the first of all come the cautions."""
    if args.plain:
        from passbell.cli.cook_plain import run_plain  # noqa: PLC0415

        session.notices[:0] = ALL if first else ()
        return run_plain(session)
    from passbell.tui.run import run_cook  # noqa: PLC0415 - imports the screen

    return run_cook(session, home(), muted=args.mute, far=args.far, first=first)


def _farewell(session: CookSession, run: int) -> None:
    if session.record is not None and session.record.trouble:
        say(session.record.trouble)
    if session.state.served is not None:
        print(f"dished up; the record: passbell runs show {run}")
    else:
        print("the cook can be gone on with, where it stands, by the same command")
