"""A plan being revised, as the screen sees it."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from passbell.clock import SystemClock, local_datetime
from passbell.cook.kept import Kept
from passbell.cook.revise import Proposal
from passbell.journal import Journal, JournalError
from passbell.kitchen import KitchenError
from passbell.pen import PenError
from passbell.plan.problem import PlanError
from passbell.planfiles import LoadedPlan, PlanFileError, load
from passbell.session.kitchen import in_kitchen, learn_all
from passbell.session.revise import plan_now, revision, take
from passbell.session.runs import UnreadableRun
from passbell.tui.views.revise import Asked, ReviseView


class LiveRevising:
    """What the runs of a plan ask for, worked out anew when a change was taken.

    Args:
        journal: the record.
        loaded: the plan and its file.
    """

    def __init__(self, journal: Journal, loaded: LoadedPlan) -> None:
        self._journal = journal
        self._loaded = loaded
        self._message = ""
        self._taken = 0
        self._proposals: tuple[Proposal, ...] = ()
        try:
            learn_all(journal)
        except (KitchenError, PenError, JournalError) as error:
            self._message = str(error)
        self._view = self._worked_out()

    def look(self) -> ReviseView:
        """What is to be shown."""
        message, self._message = self._message, ""
        return replace(self._view, message=message)

    def take(self, asked: Asked) -> None:
        """Write one change into the plan's file; the view says what came of it."""
        chosen = next((p for p in self._proposals if p.change == asked.change), None)
        if chosen is None:
            return
        try:
            done = take(self._loaded, (chosen,), self._today())
            self._loaded = load(done.path)
        except (PenError, PlanFileError, PlanError) as error:
            self._message = f"not written: {error}"
            return
        self._taken += 1
        self._view = self._worked_out()
        self._message = f"taken; the plan as it was is kept: {done.kept.name}"

    def _today(self) -> str:
        return f"{local_datetime(SystemClock().now().utc):%Y-%m-%d}"

    def _worked_out(self) -> ReviseView:
        plan = self._loaded.plan
        try:
            found = revision(self._journal, self._loaded)
        except JournalError as error:
            self._message = str(error)
            return ReviseView(plan.title, self._loaded.file, 0, ())
        self._proposals = found.proposals
        kitchen = in_kitchen(plan)
        wrote = next(
            (
                f"after run {k.source.run} you wrote for next time: {k.account.change}"
                for k in reversed(found.runs)
                if k.account.change
            ),
            "",
        )
        return ReviseView(
            title=plan.title,
            file=str(Path(self._loaded.file)),
            cooks=len(found.runs),
            asked=tuple(Asked(p.change, p.because) for p in found.proposals),
            taken=self._taken,
            notes=(*kitchen.notes, *((kitchen.trouble,) if kitchen.trouble else ())),
            wrote=wrote,
            unheard=found.unheard,
            ready=found.ready,
        )


def revising_of(journal: Journal, read: Callable[[], Kept]) -> LiveRevising | str:
    """What the runs of a run's plan ask for; text: why that cannot be told.

    Args:
        journal: the record.
        read: reads the run.
    """
    try:
        kept = read()
    except (JournalError, UnreadableRun) as error:
        return str(error)
    loaded = plan_now(kept)
    if loaded is None:
        return f"{kept.source.plan_file} is gone; its text is kept with the run"
    return LiveRevising(journal, loaded)
