"""`passbell runs compare`: two or more runs side by side, a component at a time."""

import argparse
import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from passbell.cli.parser import say, whole
from passbell.cli.ready_text import ready_lines, ready_object
from passbell.clock import local_datetime
from passbell.cook.compare import Comparison, Side, Went, compared
from passbell.cook.kept import Kept
from passbell.cook.wording import minutes, spoken
from passbell.journal import Journal
from passbell.session.revise import readiness
from passbell.session.runs import load_run
from passbell.tui.views.runs import timelines

MOST = 6
"""The most runs that stand side by side."""

MARKS = {"prep": "·", "cook": "█", "rest": "░", "finish": "+"}
LEGEND = "· prep   █ on the heat   ░ rest   + finish   ≠ differs"


def add_kind(kinds: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `compare` to the kinds of `runs`."""
    parser = kinds.add_parser("compare", help="two or more cooks side by side")
    parser.add_argument("run", metavar="NUMBER", type=whole, nargs="+", help="numbers in the list")
    parser.add_argument("--json", action="store_true", help="for other programs")
    parser.set_defaults(func=_run)


def _run(args: argparse.Namespace) -> int:
    numbers = list(dict.fromkeys(args.run))
    if not 2 <= len(numbers) <= MOST:
        say(f"name two to {MOST} different runs; see them with: passbell runs")
        return 2
    with Journal.open() as journal:
        runs = tuple(load_run(journal, number) for number in numbers)
        ready, _ = readiness(journal, runs[-1])
    found = compared(runs)
    if args.json:
        print(json.dumps(_object(found) | {"ready": ready_object(ready)}, ensure_ascii=False))
        return 0
    for line in (*_lines(found), "", *ready_lines(ready)):
        print(line)
    return 0


def _object(found: Comparison) -> dict[str, Any]:
    return {
        "runs": [kept.source.run for kept in found.runs],
        "dish_up": found.dish_up,
        "dish_up_differs": found.dish_up_differs,
        "same_text": found.same_text,
        "components": [asdict(side) | {"differs": sorted(side.differs)} for side in found.sides],
    }


def _lines(found: Comparison) -> Iterator[str]:
    yield f"{found.runs[-1].account.title}: instants from the first food on the heat"
    yield _row("", [_head(kept) for kept in found.runs])
    texts = "the same text" if found.same_text else "≠ not from the same text"
    yield f"  {texts}"
    if any(kept.source.rehearsal for kept in found.runs):
        yield "  * a rehearsal: nothing was cooked"
    yield _row("dish-up", [_time(at) for at in found.dish_up], differs=found.dish_up_differs)
    for side in found.sides:
        yield ""
        yield from _side(side)
    yield ""
    yield from _drawn(found)


def _head(kept: Kept) -> str:
    began = local_datetime(kept.source.started_utc)
    kind = " *" if kept.source.rehearsal else ""
    return f"run {kept.source.run}{kind} {began:%d %b}"


def _row(name: str, cells: list[str], differs: bool = False, why: str = "") -> str:
    row = f"  {name:<18}" + "".join(f"{cell:<20}" for cell in cells)
    return f"{row}{'≠ ' if differs else ''}{why}".rstrip()


def _time(seconds: int | None) -> str:
    return "–" if seconds is None else minutes(seconds)


def _side(side: Side) -> Iterator[str]:
    yield side.name
    went = side.went
    whole = all(w.went_in is not None and w.came_out is not None for w in went)
    within = f"more than {spoken(side.tolerance)} apart" if whole else "not in all of them"
    if any(w.time is not None or w.planned_time is not None for w in went):
        rows = (
            ("in", "in", [_time(w.went_in) for w in went]),
            ("out", "out", [_time(w.came_out) for w in went]),
            ("on the heat", "time", [_on_heat(w) for w in went]),
        )
        for name, key, cells in rows:
            differs = key in side.differs
            yield _row(name, cells, differs, within if differs else "")
        yield _row("opened", [f"{w.openings} times" if w.present else "–" for w in went])
    if any(w.readings for w in went):
        yield _row("readings", [_readings(w) for w in went])
    if any(w.verdict for w in went):
        yield _row("minimum", [w.verdict or "–" for w in went], "verdict" in side.differs)
    if any(w.score for w in went):
        yield _row("turned out", [w.score or "not said" for w in went], "score" in side.differs)
    for place, w in enumerate(went):
        for note in w.notes:
            yield f"  note of column {place + 1}: {note}"


def _on_heat(went: Went) -> str:
    if went.time is None:
        return "–"
    return f"{minutes(went.time)} (plan {_time(went.planned_time)})"


def _readings(went: Went) -> str:
    return ", ".join(f"{r.shown:g} °{r.scale}" for r in went.readings[-3:]) or "–"


def _drawn(found: Comparison) -> Iterator[str]:
    """The time lines of each component, one above the other."""
    lines = timelines(found)
    first = min((s.start for line in lines for s in line.segments), default=0)
    last = max((s.end for line in lines for s in line.segments), default=1)
    room, name = 60, ""
    for line in lines:
        cells = [" "] * room
        for segment in line.segments:
            begin = (segment.start - first) * room // max(1, last - first)
            end = (segment.end - first) * room // max(1, last - first)
            for column in range(begin, min(room, max(end, begin + 1))):
                cells[column] = MARKS.get(segment.kind, " ")
        shown = line.component if line.component != name else ""
        name = line.component
        yield f"  {shown[:14]:<14} {line.run:>3} {''.join(cells).rstrip()}"
    yield f"  {'':<14}     {LEGEND}"
