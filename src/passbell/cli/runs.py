"""`passbell runs`: the record of cooks, as planned and as cooked."""

import argparse
import json
from collections.abc import Callable, Iterator
from dataclasses import asdict

from passbell.cli.parser import say
from passbell.clock import local_datetime, local_time
from passbell.cook.account import Account, ComponentAccount, account
from passbell.cook.wording import minutes
from passbell.journal import Journal, RunRow
from passbell.plan.read import read_plan
from passbell.session.cook import refold
from passbell.session.record import read_events


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `runs` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "runs", help="the record of your cooks", description="The record of your cooks."
    )
    parser.set_defaults(func=_list, json=False)
    kinds = parser.add_subparsers(metavar="list | show")
    listed = kinds.add_parser("list", help="every cook, the newest first")
    listed.add_argument("--json", action="store_true", help="for other programs")
    listed.set_defaults(func=_list)
    shown = kinds.add_parser("show", help="one cook, as planned and as cooked")
    shown.add_argument("run", metavar="NUMBER", type=int, help="its number in the list")
    shown.add_argument("--json", action="store_true", help="for other programs")
    shown.set_defaults(func=_show)


def _list(args: argparse.Namespace) -> int:
    with Journal.open() as journal:
        rows = journal.runs()
        for notice in journal.notices:
            say(notice)
    if args.json:
        print(json.dumps([_row_object(row) for row in rows], ensure_ascii=False))
    elif not rows:
        print("no cook is recorded yet")
    else:
        for row in rows:
            print(_row_line(row))
    return 0


def _row_object(row: RunRow) -> dict[str, object]:
    return {
        "run": row.id,
        "title": row.meta.title,
        "plan": row.meta.plan_file,
        "started": local_datetime(row.meta.started_utc).isoformat(timespec="seconds"),
        "state": row.state,
        "rehearsal": row.meta.rehearsal,
        "entries": row.entries,
    }


def _row_line(row: RunRow) -> str:
    began = local_datetime(row.meta.started_utc)
    kind = ", rehearsal" if row.meta.rehearsal else ""
    return f"{row.id:>4}  {began:%Y-%m-%d %H:%M}  {row.state}{kind}  {row.meta.title}"


def _show(args: argparse.Namespace) -> int:
    with Journal.open() as journal:
        row = journal.run(args.run)
        entries = journal.entries(args.run)
        lost = journal.missing(args.run)
    plan = read_plan(row.meta.plan_text, row.meta.plan_file)
    found = account(refold(plan, read_events(entries)))
    if args.json:
        print(json.dumps(_row_object(row) | {"account": asdict(found)}, ensure_ascii=False))
        return 0
    if lost:
        say(f"{len(lost)} entries of this run were lost to damage; what is whole is shown")
    for line in _account_lines(row, found):
        print(line)
    return 0


def _account_lines(row: RunRow, found: Account) -> Iterator[str]:
    def local(at: int | None) -> str:
        if at is None:
            return "   –    "
        return local_time(row.meta.started_utc + at / row.meta.speed, seconds=True)

    yield _row_line(row).strip()
    yield f"dish-up planned {local(found.planned)}, was {local(found.served)}"
    for appliance, stage, planned, real in found.stages:
        yield f"  {appliance}, {stage}: planned {local(planned)}, was {local(real)}"
    for component in found.components:
        yield ""
        yield component.name + (" (left out)" if component.skipped else "")
        for step in component.steps:
            took = minutes(step.time) if step.time is not None else "–"
            yield (
                f"  {step.kind:<6} {local(step.start)} – {local(step.end)}  {took:>7}"
                f"  (planned {minutes(step.planned_time)})  {step.text}"
            )
        yield from _component_lines(component, local)
    yield ""
    for note in found.notes:
        yield f"note: {note}"
    for at, words, cancelled in found.log:
        yield f"  {local(at)}  {'taken back: ' if cancelled else ''}{words}"


def _component_lines(
    component: ComponentAccount, local: Callable[[int | None], str]
) -> Iterator[str]:
    for reading in component.readings:
        where = f"{reading.place}: " if reading.place else ""
        heat = ", off the heat" if reading.off_heat else ""
        yield f"  reading {local(reading.at)}  {where}{reading.shown:g} °{reading.scale}{heat}"
    for reading in component.struck:
        yield f"  taken back: {reading.shown:g} °{reading.scale}"
    if component.sentence:
        yield f"  {component.verdict}: {component.sentence}"
    for note in component.notes:
        yield f"  note: {note}"
