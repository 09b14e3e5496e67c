"""The journal: runs and their entries, one committed transaction for each command."""

import sqlite3
from collections.abc import Iterable
from pathlib import Path
from typing import Self

from passbell.journal.claim import Claim
from passbell.journal.errors import JournalError, Missing
from passbell.journal.file import JournalFile, Row
from passbell.journal.folder import home
from passbell.journal.rows import (
    ENDING,
    ENTRY,
    RUN,
    Entry,
    RunMeta,
    RunRow,
    RunState,
    entry_of,
    entry_values,
    run_row,
    run_values,
)
from passbell.journal.salvage import missing_places

NAME = "cooks.db"
"""The file's name inside its folder."""

# With max() SQLite takes the other columns from the row that has it (sqlite.org/quirks.html).
_LAST = "SELECT run, count(*), max(seq), at FROM entry GROUP BY run"


class Journal:
    """Every cook that was ever written down.

    Attributes:
        folder: where its file lies.
        path: the file.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.path = folder / NAME
        self._file = JournalFile(self.path)

    @classmethod
    def open(cls, folder: Path | None = None) -> Self:
        """Open the journal, making or mending it where needed.

        Args:
            folder: where it lies; None is `home()`.

        Raises:
            JournalError: when the folder cannot be written, the disk is full, another program
                is busy with it, or a newer passbell wrote it.
        """
        return cls(folder or home())

    @property
    def notices(self) -> tuple[str, ...]:
        """Sentences for the cook about damage that was found and mended."""
        return self._file.notices

    def new_run(self, meta: RunMeta, first: Entry | None = None) -> int:
        """Write down the start of a cook; returns its number.

        Args:
            meta: what is known of it.
            first: its first entry, in the same transaction: no crash comes between them.

        Raises:
            JournalError: when it cannot be written.
        """

        def work(connection: sqlite3.Connection) -> int:
            (run,) = connection.execute("SELECT coalesce(max(id), 0) + 1 FROM run").fetchone()
            connection.execute(RUN.insert, RUN.sealed(run_values(run, meta)))
            if first is not None:
                connection.execute(ENTRY.insert, ENTRY.sealed(entry_values(run, first)))
            return int(run)

        return self._file.write(work)

    def append(self, run: int, entry: Entry) -> None:
        """Write down one entry; it is on the disk before this returns.

        Raises:
            JournalError: when it cannot be written; nothing of it is then kept. `Missing`: when
                entries before it, or the run, are no longer there; see `refill`.
            ValueError: when its `seq` was written before.
        """

        def work(connection: sqlite3.Connection) -> None:
            _known(connection, run)
            following = "SELECT coalesce(max(seq), -1) + 1 FROM entry WHERE run = ?"
            (seq,) = connection.execute(following, (run,)).fetchone()
            if seq < entry.seq:
                raise Missing(f"Entries from {seq} on of cook {run} are lost", "they must be told")
            if seq > entry.seq:
                raise ValueError(f"entry {entry.seq} of run {run} comes where {seq} is due")
            connection.execute(ENTRY.insert, ENTRY.sealed(entry_values(run, entry)))

        self._file.write(work)

    def refill(self, run: int, meta: RunMeta, entries: Iterable[Entry]) -> None:
        """Write down a cook whose journal was damaged under it, from what its program still knows.

        Args:
            run: its number.
            meta: its start; it takes the place of what stands there.
            entries: its entries; those that are still there are left alone.

        Raises:
            JournalError: when it cannot be written; the journal is then as before.
        """

        def work(connection: sqlite3.Connection) -> None:
            found = connection.execute("SELECT seq FROM entry WHERE run = ?", (run,))
            there = {seq for (seq,) in found}
            connection.execute("PRAGMA defer_foreign_keys = ON")
            connection.execute("DELETE FROM run WHERE id = ?", (run,))
            connection.execute(RUN.insert, RUN.sealed(run_values(run, meta)))
            fresh = (entry_values(run, entry) for entry in entries if entry.seq not in there)
            connection.executemany(ENTRY.insert, map(ENTRY.sealed, fresh))
            connection.execute(ENDING.insert, ENDING.sealed((run, 0, "open")))

        self._file.write(work)

    def finish(self, run: int, at: int, state: RunState) -> None:
        """Write down how a cook stands; the last word counts, so "open" takes it up again.

        Args:
            run: its number.
            at: engine seconds of the end.
            state: how it stands from now on.

        Raises:
            JournalError: when it cannot be written, or there is no such run.
        """

        def work(connection: sqlite3.Connection) -> None:
            _known(connection, run)
            connection.execute(ENDING.insert, ENDING.sealed((run, at, state)))

        self._file.write(work)

    def entries(self, run: int) -> tuple[Entry, ...]:
        """Every whole entry of a run, in order.

        Raises:
            JournalError: when it cannot be read.
        """
        rows = self._file.rows(ENTRY, "WHERE run = ? ORDER BY seq", run)
        return tuple(map(entry_of, rows))

    def missing(self, run: int) -> tuple[int, ...]:
        """The places in a run whose entries were lost to damage.

        Raises:
            JournalError: when it cannot be read.
        """
        return missing_places(entry.seq for entry in self.entries(run))

    def runs(self) -> tuple[RunRow, ...]:
        """Every run, the newest first.

        Raises:
            JournalError: when it cannot be read.
        """
        starts = self._file.rows(RUN, "ORDER BY id DESC")
        ends: dict[int, Row] = {int(row[0]): row for row in self._file.rows(ENDING)}
        lasts = {int(row[0]): row for row in self._file.plain(_LAST)}
        return tuple(run_row(s, ends.get(int(s[0])), lasts.get(int(s[0]))) for s in starts)

    def run(self, run: int) -> RunRow:
        """One run.

        Raises:
            JournalError: when it cannot be read, or there is no such run.
        """
        found = next((row for row in self.runs() if row.id == run), None)
        if found is None:
            raise _no_run(run)
        return found

    def unfinished(self, plan_file: str | None = None) -> tuple[RunRow, ...]:
        """The runs still open, the newest first.

        Args:
            plan_file: only those of this plan; None is every plan.

        Raises:
            JournalError: when it cannot be read.
        """
        open_runs = (row for row in self.runs() if row.state == "open")
        return tuple(row for row in open_runs if plan_file in {None, row.meta.plan_file})

    def claim(self, run: int) -> Claim:
        """The sole right to write a run; it ends with `release` or with the program.

        Raises:
            JournalError: when another program has it; says which and since when.
        """
        return Claim.take(self.folder / f"run-{run}.lock", "this cook")

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _known(connection: sqlite3.Connection, run: int) -> None:
    if connection.execute("SELECT 1 FROM run WHERE id = ?", (run,)).fetchone() is None:
        raise _no_run(run)


def _no_run(run: int) -> JournalError:
    return Missing(f"There is no cook {run} in the journal", "see them with: passbell runs")
