"""A cook in progress: its clock, its record, its resume."""

import sqlite3
from pathlib import Path

import pytest

from passbell.clock import HandClock, SpeedClock
from passbell.cook import commands as cm
from passbell.cook.cues import cues
from passbell.journal import Journal, JournalError
from passbell.plan.read import read_plan
from passbell.session import CookSession
from passbell.session.cook import refold
from passbell.session.record import AGAIN, read_events

PLAN = """
title = "Invented eggs"
serves = 1
[[appliance]]
name = "pan"
[[component]]
name = "eggs"
food = "egg_dish"
steps = [
  { prep = "whisk", time = "2 min" },
  { cook = "stir", on = "pan", time = "5 min" },
  { finish = "onto toast", time = "1 min" },
]
"""

BARE = """
title = "Invented bread and butter"
serves = 1
[[component]]
name = "bread"
steps = [{ finish = "on the table", time = "1 min" }]
"""


@pytest.fixture
def clock() -> HandClock:
    return HandClock(utc=1_800_000_000.0, awake=500.0, boot="one")


def begun(journal: Journal, clock: HandClock) -> CookSession:
    return CookSession.begin(read_plan(PLAN, "eggs"), clock, book=(journal, "eggs", PLAN))


def say_done(session: CookSession, text: str) -> None:
    cue = next(c for c in cues(session.state) if text in c.text)
    assert session.tell(cm.Done(cue=cue.key.id)) is None


def test_what_is_shown_is_on_the_disk_before(tmp_path: Path, clock: HandClock) -> None:
    with Journal.open(tmp_path) as journal:
        session = begun(journal, clock)
        clock.move(3)
        say_done(session, "PREPARE")
        entries = journal.entries(1)
        assert refold(session.state.plan, read_events(entries)) == session.state
        assert [e.kind for e in entries] == ["time", "done"]
        assert entries[-1].at == 3
        assert entries[-1].utc == 1_800_000_003.0


def test_a_resumed_cook_stands_where_the_clock_says(tmp_path: Path, clock: HandClock) -> None:
    with Journal.open(tmp_path) as journal:
        session = begun(journal, clock)
        clock.move(10)
        say_done(session, "PREPARE")
    clock.move(50)
    with Journal.open(tmp_path) as journal:
        again = CookSession.resume(journal, 1, clock)
        assert again.state == session.state
        again.tick()
        session.tick()
        assert again.state == session.state
        assert again.now() == 60


def test_after_a_restart_of_the_computer_the_wall_clock_counts(
    tmp_path: Path, clock: HandClock
) -> None:
    with Journal.open(tmp_path) as journal:
        begun(journal, clock)
        clock.move(100)
        clock.restart("two")
        again = CookSession.resume(journal, 1, clock)
        assert again.now() == 100
        assert again.awake_at(100) == pytest.approx(clock.now().awake)


def test_a_rehearsal_goes_on_at_its_own_speed(tmp_path: Path, clock: HandClock) -> None:
    with Journal.open(tmp_path) as journal:
        fast = SpeedClock(60, clock)
        plan = read_plan(PLAN, "eggs")
        CookSession.begin(plan, fast, book=(journal, "eggs", PLAN))
        clock.move(2)
        again = CookSession.resume(journal, 1, clock)
        assert again.now() == 120
        assert again.speed == 60
        assert journal.run(1).meta.rehearsal
        assert again.awake_at(60) == pytest.approx(501.0)


def test_a_full_disk_stops_no_cook_and_is_said(
    tmp_path: Path, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Journal.open(tmp_path) as journal:
        session = begun(journal, clock)
        record = session.record
        assert record is not None

        def full(run: int, entry: object) -> None:
            raise JournalError("the disk is full", "make room on it")

        monkeypatch.setattr(journal, "append", full)
        clock.move(5)
        say_done(session, "PREPARE")
        assert session.state.steps[0][0].began == 5
        assert record.trouble == "not recorded: the disk is full; make room on it"
        monkeypatch.undo()
        clock.move(AGAIN)
        session.tick()
        assert record.trouble == ""
        assert refold(session.state.plan, read_events(journal.entries(1))) == session.state


def test_what_fell_due_in_a_sleep_is_listed(clock: HandClock) -> None:
    session = CookSession.begin(read_plan(PLAN, "eggs"), clock)
    session.tick()
    say_done(session, "PREPARE")
    clock.sleep(600)
    session.tick()
    assert session.now() == 600
    assert "slept" in session.notices[0]
    assert any("ADD eggs" in line for line in session.notices[1:])


def test_a_wall_clock_set_by_hand_moves_no_countdown(clock: HandClock) -> None:
    session = CookSession.begin(read_plan(PLAN, "eggs"), clock)
    clock.move(30)
    clock.set_wall(clock.now().utc + 7200)
    session.tick()
    assert session.now() == 30
    assert len(session.notices) == 1


def test_a_foreseen_command_leaves_no_trace(tmp_path: Path, clock: HandClock) -> None:
    with Journal.open(tmp_path) as journal:
        session = begun(journal, clock)
        before, entries = session.state, journal.entries(1)
        foreseen = session.foresee(cm.ExtendStep(component=0, by=300))
        assert foreseen.state.schedule != before.schedule
        assert session.state == before
        assert journal.entries(1) == entries
        assert session.tell(cm.ExtendStep(component=0, by=300)) is None
        assert session.state == foreseen.state


def test_dishing_up_finishes_the_run(tmp_path: Path, clock: HandClock) -> None:
    with Journal.open(tmp_path) as journal:
        session = begun(journal, clock)
        for text in ("PREPARE", "ADD"):
            clock.move(10)
            say_done(session, text)
        clock.move(300)
        session.tell(cm.Probe(component=0, shown=165.0, scale="F"))
        for text in ("TAKE OUT", "FINISH eggs", "SWITCH OFF", "DISH UP"):
            say_done(session, text)
        assert journal.run(1).state == "finished"
        assert journal.unfinished() == ()


def test_dish_up_taken_back_opens_the_run_again(tmp_path: Path, clock: HandClock) -> None:
    with Journal.open(tmp_path) as journal:
        session = CookSession.begin(read_plan(BARE, "bread"), clock, book=(journal, "bread", BARE))
        say_done(session, "DISH UP")
        assert journal.run(1).state == "finished"
        clock.move(5)
        assert session.tell(cm.TakeBack()) is None
        assert journal.run(1).state == "open"
        assert [row.id for row in journal.unfinished()] == [1]
        say_done(session, "DISH UP")
        assert journal.run(1).state == "finished"


def test_the_journal_holds_only_text(tmp_path: Path, clock: HandClock) -> None:
    with Journal.open(tmp_path) as journal:
        begun(journal, clock)
        file = journal.path
    with sqlite3.connect(file) as connection:
        kinds = connection.execute("SELECT DISTINCT typeof(events) FROM entry").fetchall()
    connection.close()
    assert kinds == [("text",)]
