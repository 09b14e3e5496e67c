"""`passbell probe`: one verdict, from a shell."""

import argparse
import json
import re
import sys
from collections.abc import Iterable
from typing import Any, get_args

from passbell.cli.parser import CommandParser
from passbell.plan.model import ChartKey
from passbell.safety.cautions import PACKAGE, PUBLIC, REACHED
from passbell.safety.chart import first_unit
from passbell.safety.foods import known_foods, nearest_food
from passbell.safety.model import Verdict
from passbell.safety.reading import Reading, Setup, Typed, parse_reading
from passbell.safety.table import Scale
from passbell.safety.verdict import judge
from passbell.units import Temperature, UnitError, clean_text, quoted

_MANY = 200
_VALUED = ("--chart", "--ice", "--spots", "--pieces", "--unit")
_EPILOG = """\
Readings: 147F, 63C, place=147F, place=147F@4min (minutes after it left the heat; @-6min before
it). A number without a unit is in the unit of --unit, else in the one the chart prints first.
The verdict says which published minimum was reached, where, and by whose chart; no more.
"""


class ReadingParser(CommandParser):
    """A parser that takes options anywhere among the readings, and readings below zero."""

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        """Put the options first; what is left is food and readings, "-40F" among them."""
        return super().parse_known_args(_options_first(args or ()), namespace)


def _options_first(args: Iterable[str]) -> list[str]:
    options: list[str] = []
    others: list[str] = []
    left = iter(args)
    for word in left:
        if word == "--":
            others += left
        elif word in _VALUED:
            value = next(left, None)
            options.append(word if value is None else f"{word}={value}")
        elif re.match(r"-[^\d.,]", word):
            options.append(word)
        else:
            others.append(word)
    return [*options, "--", *others]


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `probe` to the command's subcommands; its `func` returns the exit code."""
    listed = subparsers.add_parser("probe", help="judge probe readings by a published chart")
    parser = ReadingParser(
        prog=listed.prog,
        description="Judge probe readings of one food by a published chart of minimums.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    subparsers.choices["probe"] = parser
    parser.add_argument("food", metavar="FOOD", help="food key, or several: ground_red,stuffing")
    parser.add_argument(
        "readings", metavar="READING", nargs="*", default=[], help="what the probe showed"
    )
    parser.add_argument("--chart", choices=get_args(ChartKey), default="us", help="whose minimums")
    parser.add_argument("--ice", metavar="T", help="what the thermometer shows in ice water: 34F")
    parser.add_argument("--spots", metavar="N", type=_count, help="spots of a piece to ask for")
    parser.add_argument("--pieces", metavar="N", type=_count, default=1, help="pieces to probe")
    parser.add_argument("--unit", choices=("F", "C"), help="unit of numbers typed without one")
    parser.add_argument("--json", action="store_true", help="figures for another program")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Judge and print; 0 for `met`, 1 for every other verdict, 2 when not understood."""
    try:
        verdict, notes = _verdict(args)
    except UnitError as error:
        print(f"passbell probe: {error.what}; {error.mend}", file=sys.stderr)
        return 2
    if args.json:
        print(json.dumps(verdict.as_json(), ensure_ascii=False))
    else:
        print("\n".join(_lines(verdict)))
    for note in notes:
        print(note, file=sys.stderr)
    return 0 if verdict.verdict == "met" else 1


def _verdict(args: argparse.Namespace) -> tuple[Verdict, list[str]]:
    food = _foods(args.food)
    unit = args.unit or first_unit(args.chart)
    typed = [parse_reading(text, unit) for text in args.readings]
    ice = _ice(args.ice, unit)
    setup = Setup(pieces=args.pieces, spots=args.spots, ice=ice, removed_at=0)
    verdict = judge(food, [_reading(one) for one in typed], chart=args.chart, setup=setup)
    bare = [one for one in typed if not one.unit_said] if args.unit is None else []
    return verdict, [f"{one.temperature.value:g} was read as {one.temperature}." for one in bare]


def _foods(text: str) -> tuple[str, ...]:
    keys = tuple(key for part in text.split(",") if (key := clean_text(part)))
    if not keys:
        raise UnitError("no food is named", f"name one of {', '.join(known_foods())}")
    for key in keys:
        if key not in known_foods():
            near = nearest_food(key)
            mend = f"perhaps {near}" if near else f"the foods are {', '.join(known_foods())}"
            raise UnitError(f"{quoted(key)} is no known food", mend)
    return keys


def _ice(text: str | None, unit: Scale) -> Temperature | None:
    if text is None:
        return None
    typed = parse_reading(text, unit)
    if typed.place is not None or typed.at is not None:
        raise UnitError(f"{quoted(text)} is no temperature", "write --ice 34F")
    return typed.temperature


def _reading(typed: Typed) -> Reading:
    at = typed.at or 0
    return Reading(typed.place, typed.temperature.value, typed.temperature.scale, at, at > 0)


def _count(text: str) -> int:
    if not text.isascii() or not text.isdecimal() or not 1 <= int(text) <= _MANY:
        raise argparse.ArgumentTypeError(f"{quoted(text)} is no whole number from 1 to {_MANY}")
    return int(text)


def _lines(verdict: Verdict) -> Iterable[str]:
    word = verdict.verdict.replace("_", " ").upper()
    yield f"{verdict.sign} {word}  {verdict.sentence}"
    row = f"Its line in the chart: {verdict.row_name} ({verdict.covers})." if verdict.covers else ""
    for line in (*verdict.advice, *verdict.beside, *((row,) if row else ())):
        yield f"  {line}"
    if verdict.verdict == "met":
        yield REACHED
    yield f"{PACKAGE} {PUBLIC}"
