"""The file under the journal: transactions, and mending it when it is damaged or gone."""

import os
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from passbell.journal.claim import Claim
from passbell.journal.errors import Damaged, JournalError, file_trouble, is_damage, sqlite_trouble
from passbell.journal.folder import make_file, make_folder
from passbell.journal.rows import RUN, Cell, Table
from passbell.journal.salvage import salvage
from passbell.journal.schema import HASTE, check, connect, migrate

Row = tuple[Cell, ...]
T = TypeVar("T")


class JournalFile:
    """A SQLite file that is mended where it can be, and says what is wrong where not.

    Args:
        path: the file; it and its folder are made when they are not there.

    Attributes:
        path: the file.
        notices: sentences for the cook about damage that was found and mended.

    Raises:
        JournalError: when it cannot be opened.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.notices: tuple[str, ...] = ()
        try:
            make_folder(path.parent)
            make_file(path)
            self._connection = self._opened()
            self._stat = path.stat()
        except OSError as error:
            raise file_trouble(error, path) from error

    def close(self) -> None:
        """Let go of the file."""
        self._connection.close()

    def write(self, work: Callable[[sqlite3.Connection], T]) -> T:
        """Do `work` as one transaction, on the disk before this returns, or not at all.

        Raises:
            JournalError: when it cannot be written.
        """
        self._same_file()
        return self._guarded(lambda connection: _transaction(connection, work))

    def rows(self, table: Table, narrowed: str = "", *values: int) -> tuple[Row, ...]:
        """The rows of a table, each proved whole by its mark.

        Args:
            table: which.
            narrowed: WHERE and ORDER BY.
            values: for the places in `narrowed`.

        Raises:
            JournalError: when it cannot be read.
        """

        def work(connection: sqlite3.Connection) -> tuple[Row, ...]:
            stored = connection.execute(table.select + narrowed, values).fetchall()
            rows = tuple(row for row in map(table.opened, stored) if row is not None)
            if len(rows) != len(stored):
                raise Damaged(f"a row of {table.name} is not what was written")
            return rows

        return self._guarded(work)

    def plain(self, query: str, *values: int) -> list[Row]:
        """What a query gives, unproved; for counts.

        Raises:
            JournalError: when it cannot be read.
        """
        return self._guarded(lambda connection: connection.execute(query, values).fetchall())

    def _opened(self) -> sqlite3.Connection:
        try:
            return _ready(self.path)
        except sqlite3.Error as error:
            return self._mended(error)

    def _mended(self, error: sqlite3.Error) -> sqlite3.Connection:
        if not is_damage(error):
            raise sqlite_trouble(error, self.path) from error
        try:
            with Claim.take(self.path.with_name("mending.lock"), "the damaged journal"):
                self.notices += salvage(self.path)
            connection = _ready(self.path)
            self._stat = self.path.stat()
        except sqlite3.Error as again:
            raise sqlite_trouble(again, self.path) from again
        except OSError as again:
            raise file_trouble(again, self.path) from again
        return connection

    def _guarded(self, work: Callable[[sqlite3.Connection], T]) -> T:
        try:
            return work(self._connection)
        except sqlite3.Error as error:
            if not is_damage(error):
                raise sqlite_trouble(error, self.path) from error
            self._connection.close()
            self._connection = self._mended(error)
        try:
            return work(self._connection)
        except sqlite3.Error as error:
            raise sqlite_trouble(error, self.path) from error

    def _same_file(self) -> None:
        """Notice a journal that was removed or replaced while it is open.

        SQLite would go on without an error, into a file that has no name any more.
        """
        try:
            if os.path.samestat(self.path.stat(), self._stat):
                return
        except FileNotFoundError:
            self._write_again()
            return
        except OSError as error:
            raise file_trouble(error, self.path) from error
        raise JournalError(
            f"The journal {self.path} was replaced by another program",
            "close passbell and start it again",
        )

    def _write_again(self) -> None:
        fresh = self.path.with_name(f"{self.path.name}.new")
        try:
            make_folder(self.path.parent)
            make_file(fresh)
            _copy(self._connection, fresh)
            fresh.replace(self.path)
            self._stat = self.path.stat()
            self._connection.close()
            self._connection = _ready(self.path)
        except sqlite3.Error as error:
            raise sqlite_trouble(error, self.path) from error
        except OSError as error:
            raise file_trouble(error, self.path) from error
        self.notices += (f"The journal {self.path} had been removed; it was written again.",)


def _ready(path: Path) -> sqlite3.Connection:
    connection = connect(path)
    try:
        migrate(connection)
        check(connection)
        _prove_runs(connection)
        connection.execute(f"PRAGMA busy_timeout = {HASTE * 1000:.0f}")
    except BaseException:
        connection.close()
        raise
    return connection


def _prove_runs(connection: sqlite3.Connection) -> None:
    if any(RUN.opened(row) is None for row in connection.execute(RUN.select)):
        raise Damaged("the start of a run is not what was written")


def _transaction(connection: sqlite3.Connection, work: Callable[[sqlite3.Connection], T]) -> T:
    connection.execute("BEGIN IMMEDIATE")
    try:
        result = work(connection)
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
    return result


def _copy(source: sqlite3.Connection, path: Path) -> None:
    target = connect(path)
    try:
        source.backup(target)
    finally:
        target.close()
