"""The options that say when: `--now`, and one of `--serve`, `--serve-in` and `--asap`."""

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from passbell.clock import Clock, Instant, ShiftedClock, local_datetime, next_local, same_day
from passbell.units import ClockTime, Duration, UnitError

_LONG_WAIT = 12 * 3600
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Timing:
    """When the plan starts and when it is wanted.

    Attributes:
        clock: tells the time from now on; with `--now` its wall is moved.
        start: engine second 0, a whole second.
        at_start: the same as an aware local date and time.
        serve: engine second at which the meal is wanted; None is as soon as possible.
        notice: a sentence for the cook when the wanted time is not today; else None.
    """

    clock: Clock
    start: Instant
    at_start: datetime
    serve: int | None
    notice: str | None


def add_time_options(parser: argparse.ArgumentParser) -> None:
    """Add the options; `timing` reads them."""
    parser.add_argument(
        "--now", metavar="HH:MM[:SS]", type=_typed(ClockTime.parse), help="as if it were that time"
    )
    wanted = parser.add_mutually_exclusive_group()
    wanted.add_argument(
        "--serve", metavar="HH:MM", type=_typed(ClockTime.parse), help="when it is on the table"
    )
    wanted.add_argument(
        "--serve-in",
        metavar="DURATION",
        type=_typed(Duration.parse),
        help='how long until then: "90 min"',
    )
    wanted.add_argument("--asap", action="store_true", help="as soon as possible")


def timing(args: argparse.Namespace, serve_at: ClockTime | None, clock: Clock) -> Timing:
    """When the plan starts and when it is wanted, by the options and the plan.

    Args:
        args: parsed with `add_time_options`.
        serve_at: the plan's own serving time, which holds unless an option speaks.
        clock: the computer's clock.
    """
    moved = _moved(args.now, clock)
    start = _whole(moved.now())
    by_itself = args.asap or args.serve_in is not None
    wanted: ClockTime | None = None if by_itself else args.serve or serve_at
    serve = None if args.serve_in is None else int(args.serve_in)
    if wanted is not None:
        serve = round(next_local(wanted, start.utc) - start.utc)
    notice = _notice(wanted, start.utc, serve)
    return Timing(moved, start, local_datetime(start.utc), serve, notice)


def _moved(now: ClockTime | None, clock: Clock) -> Clock:
    if now is None:
        return clock
    utc = clock.now().utc
    return ShiftedClock(clock, same_day(now, utc) - utc)


def _whole(instant: Instant) -> Instant:
    part = instant.utc % 1
    return Instant(instant.utc - part, instant.awake - part, instant.boot, instant.running - part)


def _notice(wanted: ClockTime | None, utc: float, serve: int | None) -> str | None:
    if wanted is None or serve is None or serve < _LONG_WAIT:
        return None
    if local_datetime(utc).date() == local_datetime(utc + serve).date():
        return None
    return f"{wanted} has gone by today: the meal is planned for {wanted} tomorrow."


def _typed(parse: Callable[[str], T]) -> Callable[[str], T]:
    def read(text: str) -> T:
        try:
            return parse(text)
        except UnitError as error:
            raise argparse.ArgumentTypeError(str(error)) from None

    return read
