"""`passbell runs`: the record of cooks, as planned and as cooked."""

import argparse
import json
from collections.abc import Callable, Iterator
from dataclasses import asdict

from passbell.cli import runs_compare, runs_debrief, runs_revise
from passbell.cli.export import add_export_options, run_export
from passbell.cli.parser import say, whole
from passbell.cli.ready_text import ready_lines, ready_object
from passbell.clock import local_datetime, local_time
from passbell.cook.account import Account, ComponentAccount
from passbell.cook.kept import Kept
from passbell.cook.wording import minutes, spoken
from passbell.journal import Journal, RunRow
from passbell.planfiles import called
from passbell.session.revise import readiness
from passbell.session.runs import load_run


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `runs` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "runs", help="the record of your cooks", description="The record of your cooks."
    )
    parser.set_defaults(func=_list, json=False)
    kinds = parser.add_subparsers(metavar="list | show | compare | debrief | revise | export")
    listed = kinds.add_parser("list", help="every cook, the newest first")
    listed.add_argument("--json", action="store_true", help="for other programs")
    listed.set_defaults(func=_list)
    shown = kinds.add_parser("show", help="one cook, as planned and as cooked")
    shown.add_argument("run", metavar="NUMBER", type=whole, help="its number in the list")
    shown.add_argument("--json", action="store_true", help="for other programs")
    shown.set_defaults(func=_show)
    runs_compare.add_kind(kinds)
    runs_debrief.add_kind(kinds)
    runs_revise.add_kind(kinds)
    exported = kinds.add_parser("export", help="one cook, written out for other programs")
    exported.add_argument("run", metavar="NUMBER", type=whole, help="its number in the list")
    add_export_options(exported)
    exported.set_defaults(func=_export)


def _list(args: argparse.Namespace) -> int:
    with Journal.open() as journal:
        rows = journal.runs()
        for notice in journal.notices:
            say(notice)
    if args.json:
        print(json.dumps([row_object(row) for row in rows], ensure_ascii=False))
    elif not rows:
        print("no cook is recorded yet")
    else:
        for row in rows:
            print(_row_line(row))
    return 0


def _export(args: argparse.Namespace) -> int:
    args.what = str(args.run)
    return run_export(args)


def row_object(row: RunRow) -> dict[str, object]:
    """A run of the list for other programs."""
    return {
        "run": row.id,
        "title": row.meta.title,
        "plan": called(row.meta.plan_file),
        "started": local_datetime(row.meta.started_utc).isoformat(timespec="seconds"),
        "state": row.state,
        "ended_s": row.ended_at,
        "rehearsal": row.meta.rehearsal,
        "entries": row.entries,
    }


def _row_line(row: RunRow) -> str:
    began = local_datetime(row.meta.started_utc)
    kind = ", rehearsal" if row.meta.rehearsal else ""
    after = "" if row.ended_at is None else f" after {spoken(row.ended_at)}"
    return f"{row.id:>4}  {began:%Y-%m-%d %H:%M}  {row.state}{after}{kind}  {row.meta.title}"


def _show(args: argparse.Namespace) -> int:
    with Journal.open() as journal:
        row = journal.run(args.run)
        kept = load_run(journal, args.run)
        ready, loaded = readiness(journal, kept)
    if args.json:
        more = {
            "account": asdict(kept.account),
            "kitchen": [habit.model_dump(mode="json") for habit in kept.kitchen],
            "ready": ready_object(ready),
            "plan_text": kept.source.plan_text,
            "version": kept.source.version,
        }
        print(json.dumps(row_object(row) | more, ensure_ascii=False, default=str))
        return 0
    if kept.lost:
        say(f"{kept.lost} entries of this run were lost to damage; what is whole is shown")
    if loaded is None:
        say(f"the plan file {called(kept.source.plan_file)} is gone; its text is kept with the run")
    for line in (*_account_lines(row, kept), "", *ready_lines(ready)):
        print(line)
    return 0


def _account_lines(row: RunRow, kept: Kept) -> Iterator[str]:
    found = kept.account

    def local(at: int | None) -> str:
        if at is None:
            return "   –    "
        # A rehearsal's hours are those its screen showed, not those it was over in.
        return local_time(kept.source.started_utc + at, seconds=True)

    yield _row_line(row).strip()
    yield f"dish-up planned {local(found.planned)}, was {local(found.served)}"
    for machine in found.appliances:
        yield (
            f"  {machine.name}: on {local(machine.on)} (planned {local(machine.planned_on)}), "
            f"hot {local(machine.ready)} (planned {local(machine.planned_ready)})"
        )
    for appliance, stage, planned, real in found.stages:
        yield f"  {appliance}, {stage}: planned {local(planned)}, was {local(real)}"
    for component in found.components:
        yield ""
        yield from _component(component, local)
    yield ""
    yield from _meal(found, local)


def _component(component: ComponentAccount, local: Callable[[int | None], str]) -> Iterator[str]:
    score = f": {component.score}" if component.score else ""
    yield component.name + (" (left out)" if component.skipped else score)
    for step in component.steps:
        took = minutes(step.time) if step.time is not None else "–"
        yield (
            f"  {step.kind:<6} {local(step.start)} – {local(step.end)}  {took:>7}"
            f"  (planned {minutes(step.planned_time)})  {step.text}"
        )
    for reading in component.readings:
        where = f"{reading.place}: " if reading.place else ""
        heat = ", off the heat" if reading.off_heat else ""
        yield f"  reading {local(reading.at)}  {where}{reading.shown:g} °{reading.scale}{heat}"
    for reading in component.struck:
        yield f"  taken back: {reading.shown:g} °{reading.scale}"
    if component.sentence:
        yield f"  {component.verdict}: {component.sentence}"
    if component.doneness:
        yield f"  done when: {component.doneness}"
    for note in component.notes:
        yield f"  note: {note}"


def _meal(found: Account, local: Callable[[int | None], str]) -> Iterator[str]:
    for opening in found.openings:
        yield f"{opening.appliance} opened {local(opening.at)}: {', '.join(opening.acts)}"
    for name, text in (
        ("yield", found.made), ("leftovers", found.leftovers), ("next time", found.change)
    ):  # fmt: skip
        if text:
            yield f"{name}: {text}"
    for note in found.notes:
        yield f"note: {note}"
    for at, words, cancelled in found.log:
        yield f"  {local(at)}  {'taken back: ' if cancelled else ''}{words}"
