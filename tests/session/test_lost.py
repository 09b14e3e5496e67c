"""A journal that is damaged or locked under a cook, or between two programs that cook it."""

import sqlite3
from pathlib import Path

import pytest

from passbell.clock import HandClock
from passbell.cook import commands as cm
from passbell.journal import Entry, Journal, JournalError
from passbell.session import CookSession
from passbell.session.cook import refold
from passbell.session.record import AGAIN, counted, read_events
from tests.session.test_session import PLAN, begun, clock, say_done

__all__ = ["clock"]
NOISE = b"\x00\xff" * 2048


def cooked(journal: Journal, clock: HandClock) -> CookSession:
    """A cook with eight entries: its start, a Done, six notes."""
    session = begun(journal, clock)
    clock.move(3)
    say_done(session, "PREPARE")
    for number in range(6):
        clock.move(1)
        assert session.tell(cm.Note(text=f"note {number} {'x' * 300}")) is None
    return session


def without(path: Path, places: tuple[int, ...], table: str = "entry") -> None:
    """Take rows out of a journal as damage does."""
    with sqlite3.connect(path) as connection:
        if table == "entry":
            marks = ",".join("?" * len(places))
            connection.execute(f"DELETE FROM entry WHERE seq IN ({marks})", places)
        else:
            connection.execute("PRAGMA foreign_keys = OFF")
            connection.execute(f"DELETE FROM {table}")
    connection.close()


def test_the_start_of_a_cook_is_written_whole_or_not_at_all(
    tmp_path: Path, clock: HandClock
) -> None:
    with Journal.open(tmp_path) as journal:
        journal._file._connection.execute("PRAGMA max_page_count = 12")

        def many() -> None:
            for _ in range(40):
                begun(journal, clock)

        with pytest.raises(JournalError, match="the disk is full"):
            many()
        assert all(row.entries == 1 for row in journal.runs())


def test_a_file_destroyed_under_a_cook_costs_it_nothing(tmp_path: Path, clock: HandClock) -> None:
    with Journal.open(tmp_path) as journal:
        session = cooked(journal, clock)
        pages = journal.path.stat().st_size // 4096
        with journal.path.open("r+b") as file:
            for page in range(pages):
                file.seek(page * 4096)
                file.write(NOISE)
        clock.move(1)
        assert session.tell(cm.Note(text="after")) is None
        assert session.record is not None
        assert session.record.trouble == ""
        session.tick()
        assert "The journal was damaged" in session.notices[0]
    with Journal.open(tmp_path) as again:
        assert again.notices == ()
        entries = again.entries(1)
        assert [entry.seq for entry in entries] == list(range(9))
        assert refold(session.state.plan, read_events(entries)) == session.state
        assert again.run(1).meta.plan_text == PLAN
        assert again.run(1).state == "open"


@pytest.mark.parametrize("table", ["entry", "run"])
def test_rows_that_vanish_under_a_cook_are_written_again(
    tmp_path: Path, clock: HandClock, table: str
) -> None:
    with Journal.open(tmp_path) as journal:
        session = cooked(journal, clock)
        before = journal.entries(1)
        without(journal.path, (5, 6, 7), table)
        assert session.tell(cm.Note(text="after")) is None
        assert journal.entries(1)[:-1] == before
        assert journal.run(1).meta.title == "Invented eggs"


def test_a_cook_with_lost_entries_goes_on_from_before_them_and_says_so(
    tmp_path: Path, clock: HandClock
) -> None:
    with Journal.open(tmp_path) as journal:
        cooked(journal, clock)
        without(journal.path, (4,))
        clock.move(60)
        again = CookSession.resume(journal, 1, clock)
        assert len(again.state.remarks) == 2
        assert again.notices == ["What was done in the last 64 s is lost: look at every dish."]
        again.tell(cm.Note(text="goes on"))
        third = CookSession.resume(journal, 1, clock)
        assert third.notices == []
        assert third.state == again.state
        assert [remark.text for remark in third.state.remarks][2:] == ["goes on"]


def test_a_cook_whose_start_is_lost_is_refused_with_its_mend(
    tmp_path: Path, clock: HandClock
) -> None:
    with Journal.open(tmp_path) as journal:
        cooked(journal, clock)
        without(journal.path, (0,))
        with pytest.raises(JournalError, match="start of this cook is lost; start it anew"):
            CookSession.resume(journal, 1, clock)


def test_a_cook_of_another_version_is_refused_with_its_mend(
    tmp_path: Path, clock: HandClock
) -> None:
    with Journal.open(tmp_path) as journal:
        session = begun(journal, clock)
        assert session.record is not None
        journal.append(1, Entry(1, 5, 0.0, "x", "", ('{"type": "from the future", "at": 5}',)))
        with pytest.raises(JournalError, match="Another version of passbell wrote this cook"):
            CookSession.resume(journal, 1, clock)


def test_only_what_stands_before_a_gap_counts_and_what_comes_after_going_on() -> None:
    def entry(seq: int, kind: str = "time", command: str = "") -> Entry:
        return Entry(seq, seq, 0.0, kind, command, ())

    def places(*entries: Entry) -> list[int]:
        return [e.seq for e in counted(entries)]

    assert places(entry(0), entry(1), entry(3)) == [0, 1]
    mark = entry(4, "gone_on", "2")
    assert places(entry(0), entry(1), entry(3), mark, entry(5)) == [0, 1, 5]
    assert places(entry(0), entry(3), mark, entry(5)) == [0], "what it built on is lost too"
    assert places(entry(1), entry(2)) == []


def test_a_locked_journal_keeps_nobody_waiting_and_is_written_later(
    tmp_path: Path, clock: HandClock
) -> None:
    with Journal.open(tmp_path) as journal:
        session = begun(journal, clock)
        other = sqlite3.connect(journal.path, isolation_level=None)
        other.execute("BEGIN EXCLUSIVE")
        clock.move(1)
        session.tell(cm.Note(text="hot"))
        assert session.record is not None
        assert "another program is busy with it" in session.record.trouble
        tries = []
        for _ in range(8):
            clock.move(0.25)
            session.tick()
            tries.append(session.record._again)
        assert len(set(tries)) == 1, "not at every look"
        other.execute("COMMIT")
        other.close()
        clock.move(AGAIN)
        session.tick()
        assert session.record.trouble == ""
        assert refold(session.state.plan, read_events(journal.entries(1))) == session.state


def test_the_end_of_a_cook_is_written_once_there_is_room(
    tmp_path: Path, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Journal.open(tmp_path) as journal:
        session = begun(journal, clock)
        record = session.record
        assert record is not None

        def full(run: int, at: int, state: str) -> None:
            raise JournalError("the disk is full", "make room on it")

        monkeypatch.setattr(journal, "finish", full)
        record.finish(60)
        assert record.trouble
        monkeypatch.undo()
        clock.move(AGAIN)
        session.tick()
        assert record.trouble == ""
        assert journal.run(1).state == "finished"


def test_after_a_restart_a_wall_clock_that_is_behind_is_said(
    tmp_path: Path, clock: HandClock
) -> None:
    with Journal.open(tmp_path) as journal:
        cooked(journal, clock)
        clock.restart("two")
        clock.set_wall(clock.now().utc - 3600)
        again = CookSession.resume(journal, 1, clock)
        assert "clock is behind" in again.notices[0]
        assert again.now() == again.state.at
