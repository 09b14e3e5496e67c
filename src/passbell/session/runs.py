"""Runs read back from the journal: each with its account."""

from collections.abc import Callable

from passbell.cook.account import account
from passbell.cook.events import Started
from passbell.cook.kept import Kept, Source
from passbell.cook.openings import openings
from passbell.cook.prepare import prepared
from passbell.journal import Journal, JournalError, RunRow
from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan
from passbell.session.cook import refold
from passbell.session.record import read_events


class UnreadableRun(ValueError):
    """A run that is in the journal but cannot be told.

    Args:
        what: what is wrong.
        mend: what to do.
    """

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(f"{what}; {mend}")
        self.what = what
        self.mend = mend


def load_run(journal: Journal, run: int) -> Kept:
    """One run with its account. Its plan file is not needed: the text is kept with the run.

    Args:
        journal: the record.
        run: its number.

    Raises:
        JournalError: when it is not there or cannot be read.
        UnreadableRun: when what is kept of it can no longer be understood.
    """
    return kept_run(journal, journal.run(run))


def kept_run(journal: Journal, row: RunRow) -> Kept:
    """The same for a row of the list.

    Args:
        journal: the record.
        row: the run in the list.

    Raises:
        JournalError: when it cannot be read.
        UnreadableRun: when what is kept of it can no longer be understood.
    """
    entries = journal.entries(row.id)
    lost = len(journal.missing(row.id))
    try:
        plan = read_plan(row.meta.plan_text, row.meta.plan_file)
        events = read_events(entries)
        if not events:
            raise ValueError("nothing of it was written down")
        state = refold(plan, events)
        first = events[0]
        assert isinstance(first, Started)
    except PlanError as error:
        what = f"the plan kept with run {row.id} cannot be read: {error.problems[0]}"
        raise UnreadableRun(what, _MEND) from None
    except JournalError as error:
        raise UnreadableRun(f"run {row.id} cannot be told: {error.what}", _MEND) from None
    except (ValueError, AssertionError, LookupError) as error:
        why = str(error) or "a piece of it is missing"
        raise UnreadableRun(f"run {row.id} cannot be told: {why}", _MEND) from None
    plan = prepared(plan.model_copy(update={"chart": first.chart}))
    found = account(state, openings(state, events))
    return Kept(_source(row), plan, found, first.kitchen, lost)


_MEND = "it stays in the journal as it is; see the others with: passbell runs"


def _source(row: RunRow) -> Source:
    meta = row.meta
    return Source(
        run=row.id,
        plan_file=meta.plan_file,
        plan_text=meta.plan_text,
        version=meta.version,
        started_utc=meta.started_utc,
        offset=meta.offset,
        speed=meta.speed,
        rehearsal=meta.rehearsal,
        state=row.state,
    )


def finished_runs(
    journal: Journal, wanted: Callable[[RunRow], bool] = lambda _: True
) -> tuple[Kept, ...]:
    """Every finished run that can be told, the oldest first.

    Args:
        journal: the record.
        wanted: which of them; only those are read.

    Raises:
        JournalError: when the record cannot be read.
    """
    found = []
    for row in reversed(journal.runs()):
        if row.state == "finished" and wanted(row):
            try:
                found.append(kept_run(journal, row))
            except UnreadableRun:
                continue
    return tuple(found)
