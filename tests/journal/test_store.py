"""What goes into the journal comes out of it, whoever opens it next."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from passbell.journal import Entry, Journal, JournalError, Missing, RunMeta, home, log_folder
from passbell.journal.schema import STEPS, connect, migrate
from tests.journal.conftest import entry, meta

TEXT = st.text(max_size=60)
MOMENT = st.floats(0, 4e9)
ENTRIES = st.builds(
    Entry,
    seq=st.just(0),
    at=st.integers(0, 10**6),
    utc=MOMENT,
    kind=TEXT,
    command=st.text(max_size=6000),
    events=st.lists(st.text(max_size=3000), max_size=4).map(tuple),
)
METAS = st.builds(
    RunMeta,
    *(TEXT, TEXT, st.text(max_size=9000), MOMENT, TEXT, MOMENT, TEXT, st.integers(-50400, 50400)),
    *(st.booleans(), TEXT, st.floats(0.1, 1e4)),
)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(METAS, ENTRIES)
def test_everything_comes_back_as_it_was(journal: Journal, start: RunMeta, first: Entry) -> None:
    run = journal.new_run(start)
    journal.append(run, first)
    assert journal.entries(run) == (first,)
    row = journal.run(run)
    assert row.meta == start
    assert (row.entries, row.last_at) == (1, first.at)
    assert journal.notices == ()


def test_the_next_program_reads_what_the_last_one_wrote(folder: Path) -> None:
    with Journal.open(folder) as first:
        run = first.new_run(meta())
        for seq in range(20):
            first.append(run, entry(seq))
    with Journal.open(folder) as second:
        assert second.entries(run) == tuple(entry(seq) for seq in range(20))
        assert second.missing(run) == ()


def test_runs_come_newest_first_with_their_state(journal: Journal) -> None:
    first, second, third = (journal.new_run(meta(name)) for name in "abc")
    journal.append(second, entry(0))
    journal.append(second, entry(1))
    journal.finish(first, 900, "finished")
    journal.finish(third, 60, "abandoned")
    rows = journal.runs()
    assert [(r.id, r.state, r.ended_at, r.entries, r.last_at) for r in rows] == [
        (third, "abandoned", 60, 0, 0),
        (second, "open", None, 2, 7),
        (first, "finished", 900, 0, 0),
    ]


def test_unfinished_runs_are_found_by_their_plan(journal: Journal) -> None:
    supper, lunch, again = (
        journal.new_run(meta(plan_file=name))
        for name in ("supper.toml", "lunch.toml", "supper.toml")
    )
    assert [row.id for row in journal.unfinished("supper.toml")] == [again, supper]
    assert [row.id for row in journal.unfinished()] == [again, lunch, supper]
    journal.finish(again, 1, "finished")
    assert [row.id for row in journal.unfinished("supper.toml")] == [supper]
    assert journal.unfinished("breakfast.toml") == ()


def test_a_run_that_was_ended_can_be_taken_up_again(journal: Journal) -> None:
    run = journal.new_run(meta())
    journal.finish(run, 5, "abandoned")
    journal.finish(run, 5, "open")
    assert (journal.run(run).state, journal.run(run).ended_at) == ("open", None)


def test_an_entry_out_of_turn_is_refused_and_changes_nothing(journal: Journal) -> None:
    run = journal.new_run(meta())
    journal.append(run, entry(0))
    with pytest.raises(ValueError, match=f"entry 0 of run {run} comes where 1 is due"):
        journal.append(run, entry(0))
    with pytest.raises(Missing, match=f"Entries from 1 on of cook {run} are lost"):
        journal.append(run, entry(2))
    assert journal.entries(run) == (entry(0),)
    journal.append(run, entry(1))


def test_a_moment_that_is_no_number_is_refused(journal: Journal) -> None:
    run = journal.new_run(meta())
    with pytest.raises(ValueError, match="no moment"):
        journal.append(run, replace(entry(0), utc=float("nan")))
    assert journal.entries(run) == ()


def test_an_unknown_run_is_an_error_with_its_mend(journal: Journal) -> None:
    for call in (
        lambda: journal.run(7),
        lambda: journal.append(7, entry(0)),
        lambda: journal.finish(7, 0, "finished"),
    ):
        with pytest.raises(JournalError, match="no cook 7 in the journal") as caught:
            call()
        assert "passbell runs" in caught.value.mend
    assert journal.entries(7) == ()


def test_text_that_utf8_cannot_hold_is_written_out(journal: Journal) -> None:
    run = journal.new_run(meta("half of a pair \ud83c"))
    assert journal.run(run).meta.title == "half of a pair \\ud83c"


def test_two_programs_write_different_runs_in_turn(folder: Path) -> None:
    with Journal.open(folder) as one, Journal.open(folder) as other:
        first, second = one.new_run(meta()), other.new_run(meta())
        for seq in range(10):
            one.append(first, entry(seq))
            other.append(second, entry(seq))
        assert one.entries(second) == other.entries(first)


def test_home_is_named_by_the_environment_or_the_platform(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    assert (home(), log_folder()) == (tmp_path, tmp_path / "log")
    with Journal.open() as journal:
        assert journal.folder == tmp_path
    monkeypatch.delenv("PASSBELL_HOME")
    assert home().name == "passbell"
    assert tmp_path not in log_folder().parents


def test_what_is_committed_is_on_the_disk(journal: Journal) -> None:
    connection = journal._file._connection
    # sqlite.org/pragma.html: synchronous 2 is FULL.
    asked = {name: connection.execute(f"PRAGMA {name}").fetchone()[0] for name in (
        "synchronous", "journal_mode", "foreign_keys", "user_version", "fullfsync"
    )}  # fmt: skip
    assert asked == {
        "synchronous": 2,
        "journal_mode": "truncate",
        "foreign_keys": 1,
        "user_version": len(STEPS),
        "fullfsync": 1,
    }


def test_only_text_and_numbers_are_stored(journal: Journal) -> None:
    run = journal.new_run(meta())
    journal.append(run, entry(0))
    journal.finish(run, 1, "finished")
    connection = journal._file._connection
    for table in ("run", "entry", "ending"):
        names = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
        kinds = ", ".join(f"typeof({name})" for name in names)
        (row,) = connection.execute(f"SELECT {kinds} FROM {table}").fetchall()
        assert set(row) <= {"text", "integer", "real"}


def test_a_later_version_of_the_tables_keeps_every_row(folder: Path) -> None:
    with Journal.open(folder) as journal:
        run = journal.new_run(meta())
        journal.append(run, entry(0))
        path = journal.path
    connection = connect(path)
    migrate(connection, (*STEPS, "ALTER TABLE run ADD COLUMN extra TEXT NOT NULL DEFAULT 'none'"))
    assert connection.execute("SELECT title, extra FROM run").fetchall() == [(meta().title, "none")]
    assert connection.execute("PRAGMA user_version").fetchone() == (len(STEPS) + 1,)
    connection.close()
    with pytest.raises(JournalError, match="newer passbell") as caught:
        Journal.open(folder)
    assert "update passbell" in caught.value.mend


def test_a_step_that_fails_half_way_leaves_the_tables_as_they_were(folder: Path) -> None:
    with Journal.open(folder) as journal:
        run = journal.new_run(meta())
    connection = connect(folder / "cooks.db")
    broken = "ALTER TABLE run ADD COLUMN extra TEXT; ALTER TABLE nowhere ADD COLUMN extra TEXT"
    with pytest.raises(Exception, match="no such table"):
        migrate(connection, (*STEPS, broken))
    connection.close()
    with Journal.open(folder) as journal:
        assert journal.run(run).meta == meta()
