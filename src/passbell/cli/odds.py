"""`timeplan --odds`: how likely the meal is on time, in lines and as JSON."""

import argparse
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from typing import Any

from passbell.cli.parser import say, whole
from passbell.cook.state import CookState
from passbell.odds.luck import WORDS
from passbell.odds.matter import Matter, matters
from passbell.odds.odds import WITHIN, Draws, Odds
from passbell.odds.say import matter_line, odds_line
from passbell.session.crew import Crew

RUNS = 60
"""Cooks made up where `--runs` does not say: the chance is then known to about 6 in 100."""

MOST_RUNS = 100_000


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked and what was found.

    Attributes:
        draws: seed, runs and spread.
        odds: how the cooks ended.
        matter: the steps that matter most.
    """

    draws: Draws
    odds: Odds
    matter: tuple[Matter, ...]


def add_odds_options(parser: argparse.ArgumentParser) -> None:
    """Add the options; `odds_asked` reads them."""
    parser.add_argument(
        "--odds", action="store_true", help="how likely it is on time, by many made-up cooks of it"
    )
    parser.add_argument(
        "--runs", type=_runs, default=RUNS, metavar="N", help=f"so many cooks ({RUNS})"
    )
    parser.add_argument(
        "--seed",
        type=whole,
        default=1,
        metavar="N",
        help="the same number gives the same cooks",
    )


def _runs(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= MOST_RUNS:
        raise argparse.ArgumentTypeError(f"write a whole number from 1 to {MOST_RUNS}")
    return int(text)


def odds_asked(args: argparse.Namespace, state: CookState) -> Asked | None:
    """The odds of a cook that has not begun; None: they were not asked for."""
    if not args.odds:
        return None
    draws = Draws(args.seed, args.runs)
    say(f"making up {args.runs} cooks, and as many for each step tried: 60 take a minute or two")
    with Crew() as crew:
        base = crew.odds(state, draws)
        found = matters(state, base, draws, lambda cook, leads: crew.odds(cook, draws, leads))
    return Asked(draws, base, found)


def odds_json(state: CookState, asked: Asked | None) -> dict[str, Any]:
    """The odds as a part of the time plan; nothing where they were not asked for."""
    if asked is None:
        return {}
    found = {
        "wanted": asked.odds.wanted,
        "within": WITHIN,
        "chance": round(asked.odds.chance, 4),
        "error": round(asked.odds.error, 4),
        "late_90": asked.odds.late_90,
        "runs": asked.draws.runs,
        "seed": asked.draws.seed,
        "spread": asdict(asked.draws.spread),
        "note": WORDS,
        "matter": [_matter_json(state, matter) for matter in asked.matter],
    }
    return {"odds": found}


def _matter_json(state: CookState, matter: Matter) -> dict[str, Any]:
    component = state.component(matter.component)
    return {
        "component": component.name,
        "index": matter.step,
        "text": component.steps[matter.step].text,
        "change": matter.change,
        "by": matter.by,
        "chance": round(matter.after, 4),
    }


def odds_lines(state: CookState, asked: Asked | None, local: Callable[[int], str]) -> Iterator[str]:
    """The odds in lines; none where they were not asked for."""
    if asked is None:
        return
    yield ""
    line = odds_line(asked.odds, local)
    give = max(1, round(200 * asked.odds.error))
    yield f"Odds, by {asked.draws.runs} made-up cooks: {line} (give or take {give} in 100)"
    for matter in asked.matter:
        yield f"  {matter_line(state, matter)}"
    if not asked.matter:
        yield "  no single step that is begun earlier would raise them much"
    yield f"  {WORDS}"
