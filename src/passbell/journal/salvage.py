"""Keeping what is whole of a damaged journal, and setting the damaged file aside."""

import os
import shutil
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from itertools import groupby
from operator import itemgetter
from pathlib import Path

from passbell.journal.folder import make_file, sync_folder
from passbell.journal.pages import StoredRow, stored_rows
from passbell.journal.rows import ENDING, ENTRY, RUN, Cell, RunMeta, Table, run_values
from passbell.journal.schema import connect, migrate

_LOST = RunMeta(
    *("a cook whose plan is lost", "", "", 0.0, "", 0.0, "UTC", 0),
    rehearsal=False,
    version="",
)
Row = tuple[Cell, ...]


@dataclass(slots=True)
class Kept:
    """The rows found whole.

    Attributes:
        runs: starts of cooks by number.
        entries: entries by run and place.
        endings: ends of cooks by row number.
        lost: numbers of cooks whose start was not found.
    """

    runs: dict[int, Row] = field(default_factory=dict)
    entries: dict[tuple[int, int], Row] = field(default_factory=dict)
    endings: dict[int, Row] = field(default_factory=dict)
    lost: list[int] = field(default_factory=list)


def salvage(path: Path) -> tuple[str, ...]:
    """Write what is whole into a new journal in the place of the damaged one.

    The damaged file stays beside it under a dated name (the day it was last written). At no
    moment is there no file of the journal's name.

    Returns:
        Sentences that say what was kept and where the damaged file lies.

    Raises:
        OSError: when a file cannot be written.
        sqlite3.Error: when the new journal cannot be written.
    """
    kept = _gather(stored_rows(path.read_bytes()))
    fresh = path.with_name(f"{path.name}.new")
    fresh.unlink(missing_ok=True)
    make_file(fresh)
    _write(fresh, kept)
    aside = _set_aside(path)
    fresh.replace(path)
    sync_folder(path.parent)
    return _notices(kept, aside)


def _gather(rows: Iterable[StoredRow]) -> Kept:
    kept = Kept()
    for row in rows:
        if entry := ENTRY.opened(row.cells):
            kept.entries[int(entry[0]), int(entry[1])] = entry
        elif ending := ENDING.opened(row.cells):
            kept.endings[row.rowid] = ending
        elif start := RUN.opened((row.rowid, *row.cells[1:])):
            kept.runs[row.rowid] = start
    _stand_in(kept)
    return kept


def _stand_in(kept: Kept) -> None:
    ended = {int(ending[0]) for ending in kept.endings.values()}
    known = {run for run, _ in kept.entries} | ended
    kept.lost = sorted(known - kept.runs.keys())
    for run in kept.lost:
        kept.runs[run] = run_values(run, _LOST)
        if run not in ended:
            kept.endings[max(kept.endings, default=0) + 1] = (run, 0, "abandoned")


def _write(path: Path, kept: Kept) -> None:
    connection = connect(path)
    try:
        migrate(connection)
        connection.execute("BEGIN IMMEDIATE")
        _insert(connection, RUN, (kept.runs[run] for run in sorted(kept.runs)))
        _insert(connection, ENTRY, (kept.entries[key] for key in sorted(kept.entries)))
        _insert(connection, ENDING, (kept.endings[key] for key in sorted(kept.endings)))
        connection.execute("COMMIT")
    finally:
        connection.close()


def _insert(connection: sqlite3.Connection, table: Table, rows: Iterable[Row]) -> None:
    connection.executemany(table.insert, map(table.sealed, rows))


def _set_aside(path: Path) -> Path:
    written = datetime.fromtimestamp(path.stat().st_mtime, UTC).astimezone()
    stem = f"{path.stem}-damaged-{written:%Y-%m-%d-%H%M%S}"
    names = (path.with_name(f"{stem}{tail}{path.suffix}") for tail in ("", *map(_tail, range(99))))
    aside = next(name for name in names if not name.exists())
    rollback = path.with_name(f"{path.name}-journal")
    if rollback.exists():  # left there, it would be played back into the new journal
        rollback.replace(aside.with_name(f"{aside.name}-journal"))
    try:
        os.link(path, aside)
    except OSError:
        shutil.copy2(path, aside)
    return aside


def _tail(number: int) -> str:
    return f"-{number + 2}"


def _notices(kept: Kept, aside: Path) -> tuple[str, ...]:
    told = [
        f"The journal was damaged: {len(kept.runs) - len(kept.lost)} cooks and "
        f"{len(kept.entries)} entries were whole and are kept. The damaged file is {aside}."
    ]
    if kept.lost:
        told.append(f"The plan is lost of cook {', '.join(map(str, kept.lost))}.")
    told += [
        f"Of cook {run}, {kept.runs[run][1]}, some of what was done is lost."
        for run, places in groupby(sorted(kept.entries), key=itemgetter(0))
        if missing_places(place for _, place in places)
    ]
    return tuple(told)


def missing_places(places: Iterable[int]) -> tuple[int, ...]:
    """The places missing below the highest one, counted from 0."""
    there = set(places)
    return tuple(sorted(set(range(max(there, default=-1))) - there))
