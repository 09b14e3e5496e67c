"""The tables of the journal and the steps from one version of them to the next."""

import sqlite3
from collections.abc import Sequence
from pathlib import Path

from passbell.journal.errors import Damaged, JournalError
from passbell.journal.rows import TABLES

PAGE = 4096
"""Size of a page in bytes, fixed so that the pages of a damaged file can be told apart."""

CACHE = 256
"""KiB of pages that are kept in memory."""

PATIENCE = 2.0
"""How long to wait for another program that is writing, in seconds."""

HASTE = 0.25
"""The same while a cook runs: the screen waits too, and what is not written is tried again."""

_OURS = int.from_bytes(b"pb", "big") << 16  # with the version added, the file's application id

STEPS: tuple[str, ...] = (
    """
    CREATE TABLE run (
        id INTEGER PRIMARY KEY, title TEXT NOT NULL, plan_file TEXT NOT NULL,
        plan_text TEXT NOT NULL, started_utc REAL NOT NULL, boot TEXT NOT NULL,
        awake REAL NOT NULL, zone TEXT NOT NULL, zone_offset INTEGER NOT NULL,
        rehearsal INTEGER NOT NULL, version TEXT NOT NULL, speed REAL NOT NULL,
        mark TEXT NOT NULL);
    CREATE TABLE entry (
        run INTEGER NOT NULL REFERENCES run (id), seq INTEGER NOT NULL, at INTEGER NOT NULL,
        utc REAL NOT NULL, kind TEXT NOT NULL, command TEXT NOT NULL, events TEXT NOT NULL,
        mark TEXT NOT NULL, UNIQUE (run, seq));
    CREATE TABLE ending (
        run INTEGER NOT NULL REFERENCES run (id), at INTEGER NOT NULL, state TEXT NOT NULL,
        mark TEXT NOT NULL);
    CREATE INDEX ending_run ON ending (run);
    """,
)
"""Each step brings the tables from the version that is its place in the list to the next."""


def connect(path: Path) -> sqlite3.Connection:
    """Open the file so that what is committed is on the disk.

    A rollback journal that is truncated, with `synchronous = FULL`, is chosen over a write-ahead
    log: a commit returns only after the pages and the emptied rollback journal are synced, which
    holds against a power cut; all that counts is one file, so a copy of it is complete; it can
    be read from a full or read-only disk and lies on network folders, where a write-ahead log
    cannot keep its shared memory. The log would save a sync or two per commit; a cook presses a
    key every few seconds.

    Raises:
        sqlite3.Error: when it cannot be opened, or is no journal.
    """
    connection = sqlite3.connect(path, timeout=PATIENCE, isolation_level=None)
    # Bytes that are no UTF-8 are damage, which the mark of the row then shows.
    connection.text_factory = lambda content: content.decode("utf-8", "replace")
    try:
        for pragma in (f"page_size = {PAGE}", "journal_mode = TRUNCATE", "synchronous = FULL"):
            connection.execute(f"PRAGMA {pragma}")
        # On macOS a plain fsync leaves the data in the drive's cache.
        connection.execute("PRAGMA fullfsync = ON")
        connection.execute("PRAGMA foreign_keys = ON")
        # A day of entries would fill the usual 2 MB with pages that are never read again.
        connection.execute(f"PRAGMA cache_size = -{CACHE}")
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def migrate(connection: sqlite3.Connection, steps: Sequence[str] = STEPS) -> None:
    """Bring the tables to the newest version, each step whole or not at all.

    Raises:
        JournalError: when a newer passbell wrote the journal.
        Damaged: when no passbell can have written its version.
        sqlite3.Error: when a step fails; the tables are then as they were.
    """
    version = _version(connection)
    if version > len(steps):
        raise JournalError(
            "The journal was written by a newer passbell",
            "update passbell, or name another folder in PASSBELL_HOME",
        )
    while version < len(steps):
        _step(connection, steps, version)
        version = _version(connection)


def check(connection: sqlite3.Connection) -> None:
    """Prove that the structure of the file is whole.

    Raises:
        Damaged: when it is not.
        sqlite3.Error: when it cannot even be read.
    """
    (answer,) = connection.execute("PRAGMA quick_check(1)").fetchone()
    if answer != "ok":
        raise Damaged(answer)
    there = {name for (name,) in connection.execute("SELECT name FROM sqlite_schema")}
    if lost := {table.name for table in TABLES} - there:
        raise Damaged(f"tables are lost: {sorted(lost)}")


def _step(connection: sqlite3.Connection, steps: Sequence[str], version: int) -> None:
    connection.execute("BEGIN IMMEDIATE")
    try:
        # Another program may have done the step while this one waited for its turn.
        if _version(connection) == version:
            for statement in steps[version].split(";"):
                connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {version + 1}")
            connection.execute(f"PRAGMA application_id = {_OURS + version + 1}")
        connection.execute("COMMIT")
    except sqlite3.Error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _version(connection: sqlite3.Connection) -> int:
    """The version of the tables, which is written twice: a damaged one must not look newer."""
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    if application != (_OURS + version if version else 0):
        raise Damaged(f"version {version} of application {application:x} is not ours")
    return int(version)
