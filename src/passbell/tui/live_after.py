"""The record of a cook that has been dished up, and what the cook says about it."""

from passbell.clock import local_datetime, local_time
from passbell.cook.account import LABELS, TURNED_OUT, ComponentAccount, account
from passbell.cook.commands import Note
from passbell.cook.scores import Score
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.safety.waiting import keeping_words, waiting_limit
from passbell.session import CookSession
from passbell.session.kitchen import learn
from passbell.session.runs import load_run
from passbell.tui.doors import AfterKind
from passbell.tui.live_revise import LiveRevising, revising_of
from passbell.tui.views.after import AfterRow, AfterView
from passbell.units import clean_text


class LiveAftermath:
    """What is written down after a cook; each line is in the journal before it is shown.

    Args:
        session: the cook.
    """

    def __init__(self, session: CookSession) -> None:
        self._session = session
        self._message = ""

    def look(self) -> AfterView:
        """The record as it stands."""
        state = self._session.state
        found = account(state)
        message, self._message = self._message, ""
        served = found.served if found.served is not None else state.at
        return AfterView(
            title=found.title,
            date=f"{local_datetime(self._session.start.utc):%Y-%m-%d}",
            planned=self._local(found.planned),
            cooked=self._local(served),
            drift=served - found.planned,
            rows=tuple(self._row(state, i, c) for i, c in enumerate(found.components)),
            notes=found.notes,
            change=found.change,
            made=found.made,
            leftovers=found.leftovers,
            reminder=self._reminder(state),
            rehearsal=self._session.speed != 1,
            message=message,
        )

    def judge(self, row: int, score: Score) -> None:
        """Say how a component turned out; the same word again takes it back."""
        same = account(self._session.state).components[row].score == score
        self._note(TURNED_OUT + ("not said" if same else score), row)

    def ask(self, kind: AfterKind, text: str, row: int | None) -> bool:
        """Enter a line; False: refused, the view says why."""
        if not clean_text(text):
            self._message = "nothing was typed"
            return False
        label = "" if kind == "note" else LABELS[kind]
        return self._note(label + text, row if kind == "note" else None)

    def revise(self) -> LiveRevising | None:
        """What the runs of this plan ask for; None: its file is gone."""
        record = self._session.record
        if record is None:
            self._message = "this cook was not recorded"
            return None
        found = revising_of(record.journal, lambda: load_run(record.journal, record.run))
        if isinstance(found, str):
            self._message = found
            return None
        return found

    def close(self) -> None:
        """Learn from it and let go; all of it is kept already."""
        record = self._session.record
        if record is not None:
            learn(record.journal, record.run)

    def _note(self, text: str, row: int | None) -> bool:
        refusal = self._session.tell(Note(text=text[:400], component=row))
        self._message = refusal or ""
        return refusal is None

    def _row(self, state: CookState, index: int, component: ComponentAccount) -> AfterRow:
        last = component.steps[-1]
        ready = last.end if last.end is not None else state.served
        lowest = f", {component.readings[-1].shown:g}" if component.readings else ""
        scale = f" °{component.readings[-1].scale}" if component.readings else ""
        return AfterRow(
            name=component.name,
            planned=self._local(last.planned_end),
            cooked="" if component.skipped or ready is None else self._local(ready),
            drift=ready - last.planned_end if ready is not None else 0,
            verdict=f"{component.verdict}{lowest}{scale}" if component.verdict else "",
            score=component.score,
            note="; ".join(component.notes),
        )

    def _reminder(self, state: CookState) -> str:
        """Until when leftovers must be cold, from when the first cooked component left the heat."""
        ended = [
            real.ended
            for c, row in enumerate(state.steps)
            for i, real in enumerate(row)
            if real.ended is not None and state.component(c).steps[i].kind == "cook"
        ]
        if not ended:
            return ""
        limit, now = waiting_limit(), self._session.now()
        hot = "one hour in a room over 90 °F / 32 °C"
        if now >= min(ended) + limit:
            return (
                f"throw away what left the heat by {self._local(now - limit)}: it is out for "
                f"{spoken(limit)} or longer (the limit is {hot}); the rest into the fridge now, "
                f"{keeping_words()}"
            )
        until = self._local(min(ended) + limit)
        return (
            f"leftovers into the fridge by {until}: {spoken(limit)} after the first left "
            f"the heat, {hot}; {keeping_words()}"
        )

    def _local(self, at: int) -> str:
        return local_time(self._session.utc_at(at))
