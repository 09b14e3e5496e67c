"""The runs in the journal, as the screens see them."""

from passbell.clock import local_datetime
from passbell.cook.compare import compared
from passbell.cook.kept import Kept
from passbell.cook.ready import Ready
from passbell.journal import Journal, JournalError, RunRow
from passbell.session.revise import readiness
from passbell.session.runs import UnreadableRun, kept_run
from passbell.tui.live_revise import LiveRevising, revising_of
from passbell.tui.views.runs import RunLine, RunsView, curves, letter_of, timelines

MOST = 4
"""The most runs that stand side by side on the screen."""


class LiveRecords:
    """Every run, and those that are looked at.

    Args:
        journal: the record.
    """

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self._picked: list[int] = []
        self._known: dict[tuple[int, int], Kept] = {}
        self._ready: tuple[tuple[tuple[int, int], ...], Ready | None] = ((), None)
        self._message = ""

    def look(self, chosen: int | None) -> RunsView:
        """The list, and the runs picked or else the chosen one.

        Args:
            chosen: the run that is chosen; None: the newest.
        """
        message, self._message = self._message, ""
        try:
            rows = self._journal.runs()
        except JournalError as error:
            return RunsView((), trouble=str(error), message=str(error))
        if not rows:
            return RunsView((), message=message)
        there = {row.id: row for row in rows}
        self._picked = [run for run in self._picked if run in there]
        wanted = self._picked or [chosen if chosen in there else rows[0].id]
        lines = tuple(self._line(row) for row in rows)
        try:
            kept = tuple(self._kept(there[run]) for run in wanted if run is not None)
            found = compared(kept)
            ready = self._readiness(kept[-1], rows)
        except (JournalError, UnreadableRun) as error:
            return RunsView(lines, trouble=str(error), message=message)
        return RunsView(
            runs=lines,
            beside=found,
            lines=timelines(found),
            curves=curves(found),
            ready=ready,
            message=message,
        )

    def pick(self, run: int) -> None:
        """Put a run beside the others, or take it away again."""
        if run in self._picked:
            self._picked.remove(run)
        elif len(self._picked) == MOST:
            self._message = f"{MOST} cooks stand side by side at most; take one away first"
        else:
            self._picked.append(run)

    def alone(self) -> None:
        """Take all away that was put side by side."""
        self._picked.clear()

    def revise(self, run: int) -> LiveRevising | None:
        """What the runs of the plan of this run ask for; None: the plan is gone."""
        found = revising_of(self._journal, lambda: self._kept(self._journal.run(run)))
        if isinstance(found, str):
            self._message = found
            return None
        return found

    def _line(self, row: RunRow) -> RunLine:
        began = local_datetime(row.meta.started_utc)
        state = "rehearsal" if row.meta.rehearsal else row.state
        picked = letter_of(self._picked.index(row.id)) if row.id in self._picked else ""
        return RunLine(row.id, row.meta.title, f"{began:%Y-%m-%d %H:%M}", state, picked)

    def _kept(self, row: RunRow) -> Kept:
        """A run, read once for as long as nothing is added to it."""
        key = (row.id, row.entries)
        if key not in self._known:
            self._known[key] = kept_run(self._journal, row)
        return self._known[key]

    def _readiness(self, kept: Kept, rows: tuple[RunRow, ...]) -> Ready | None:
        """Whether its plan is ready, worked out again when the record has grown."""
        key = ((kept.source.run, 0), *((row.id, row.entries) for row in rows))
        if self._ready[0] != key:
            self._ready = (key, readiness(self._journal, kept)[0])
        return self._ready[1]
