"""The plans there are, as the plan list sees them."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from passbell.clock import SystemClock, local_time
from passbell.cook.check import examine
from passbell.cook.engine import begin
from passbell.editor import EditorError, named_editor
from passbell.journal import Claim, Journal, JournalError
from passbell.pen import PenError
from passbell.plan.model import Plan
from passbell.plan.problem import PlanError
from passbell.planfiles import (
    Listed,
    LoadedPlan,
    PlanFileError,
    bundled_folder,
    list_plans,
    own_folder,
)
from passbell.schedule.model import Contradiction
from passbell.session import CookSession
from passbell.session.revise import to_edit
from passbell.tui.desk import Desk
from passbell.tui.live_before import LivePreparation, short
from passbell.tui.live_runs import LiveRecords
from passbell.tui.views.plans import PlanSummary, PlansView

MakeDesk = Callable[[CookSession], Desk]
"""Gives a cook its desk, with its bell."""


class LiveShelf:
    """Every plan, read anew when its file has changed.

    Args:
        journal: where cooks are recorded.
        desk: gives a cook its desk.
    """

    def __init__(self, journal: Journal, desk: MakeDesk) -> None:
        self._journal = journal
        self._desk = desk
        self._known: dict[str, tuple[str, PlanSummary]] = {}
        self._claims: list[Claim] = []
        self._message = ""

    def look(self) -> PlansView:
        """What is to be shown."""
        message, self._message = self._message, ""
        places = (str(own_folder()), str(bundled_folder()))
        return PlansView(tuple(self._summary(p) for p in list_plans()), places, message)

    def open(self, key: str) -> LivePreparation | None:
        """Make a plan ready; None: it cannot be, the view says why."""
        listed = next((p for p in list_plans() if str(p.path) == key), None)
        if listed is None or listed.loaded is None:
            why = listed.problems[0] if listed is not None and listed.problems else "it is gone"
            self._message = short(why, Path(key))
            return None
        return LivePreparation(listed.loaded, self._journal, self._start)

    def resume(self, key: str) -> Desk | None:
        """Take up an unfinished cook of a plan where it stood; None: there is none."""
        rows = self._journal.unfinished(key)
        if not rows:
            self._message = "there is no unfinished cook of it"
            return None
        try:
            self._claims.append(self._journal.claim(rows[0].id))
            return self._desk(CookSession.resume(self._journal, rows[0].id, SystemClock()))
        except (JournalError, PlanError, ValueError) as error:
            self._message = str(error)
            return None

    def to_edit(self, key: str) -> Path | None:
        """A plan's file, of a bundled one a copy; None: no editor is named, or it cannot be."""
        try:
            named_editor()
            path, self._message = to_edit(Path(key))
        except (EditorError, PenError, PlanFileError) as error:
            self._message = str(error)
            return None
        return path

    def records(self) -> LiveRecords:
        """The runs of all plans."""
        return LiveRecords(self._journal)

    def _start(self, session: CookSession) -> Desk:
        if session.record is not None:
            self._claims.append(self._journal.claim(session.record.run))
        return self._desk(session)

    def _summary(self, listed: Listed) -> PlanSummary:
        key = str(listed.path)
        if listed.loaded is None:
            wrong = tuple(short(text, listed.path) for text in listed.problems)
            return PlanSummary(key, listed.path.stem, "", 0, 0, (), (), wrong, readable=False)
        known = self._known.get(key)
        if known is None or known[0] != listed.loaded.text:
            known = (listed.loaded.text, summary(key, listed.loaded))
            self._known[key] = known
        return _with_unfinished(replace(known[1], own=not listed.bundled), self._journal)


def summary(key: str, loaded: LoadedPlan) -> PlanSummary:
    """A plan in a few lines, with what is wrong with it."""
    plan = loaded.plan
    total = 0
    try:
        schedule = begin(plan).state.schedule
        total = schedule.dish_up - schedule.start
    except Contradiction:
        pass
    bad = [f for f in examine(plan, text=loaded.text) if f.severity != "note"]
    return PlanSummary(
        key=key,
        title=plan.title,
        serves=str(plan.serves),
        total=total,
        hands=sum(step.hands_time for c in plan.components for step in c.steps),
        temperatures=tuple(_temperatures(plan)),
        components=tuple(c.name for c in plan.components),
        problems=tuple(f"{f.component + ': ' if f.component else ''}{f.text}" for f in bad),
    )


def _temperatures(plan: Plan) -> list[str]:
    found = []
    for appliance in plan.appliances:
        temps = [str(stage.temp) for stage in appliance.stages if stage.temp is not None]
        found.append(f"{appliance.name} {', '.join(temps)}" if temps else appliance.name)
    return found


def _with_unfinished(found: PlanSummary, journal: Journal) -> PlanSummary:
    rows = journal.unfinished(found.key)
    if not rows:
        return found
    return replace(found, unfinished=f"begun at {local_time(rows[0].meta.started_utc)}")
