"""A cook in progress: reads the clock it is given, drives the engine, writes; never sleeps."""

import math
from dataclasses import replace
from typing import Literal, NamedTuple, Self

from passbell.clock import Clock, Drift, Instant, SpeedClock, elapsed, next_local
from passbell.cook.cards import is_due
from passbell.cook.commands import Command
from passbell.cook.cues import cues
from passbell.cook.engine import Outcome, advance, begin, tell
from passbell.cook.events import Event, Started
from passbell.cook.fold import fold
from passbell.cook.kitchen import Habit, adjusted
from passbell.cook.prepare import prepared
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.journal import Entry, Journal
from passbell.plan.model import Plan
from passbell.plan.read import read_plan
from passbell.session.record import GONE_ON, Record, counted, read_events, run_meta
from passbell.units import ClockTime

LONG_SLEEP = 2.0
"""A gap between two looks, in real seconds, after which what fell due meanwhile is listed."""
_MANY_FELL = 3
"""So many that have fallen due are told in one line."""

_BRISK = 2.0
"""A speed beyond which nobody follows single seconds."""

_COUNTED = "the timers have counted it."


class Book(NamedTuple):
    """Where a cook is written down.

    Attributes:
        journal: the record.
        file: the plan's file, as the record names it.
        text: the plan's whole text.
        rehearsal: whether it is one although the clock runs at no other speed.
    """

    journal: Journal
    file: str
    text: str
    rehearsal: bool = False


class CookSession:
    """One cook: its state, its clock, its record.

    Args:
        state: where the cook stands.
        clock: tells the time; a rehearsal's runs faster.
        start: the clock at engine second 0.
        record: where it is written down; None: nowhere.
    """

    def __init__(
        self, state: CookState, clock: Clock, start: Instant, record: Record | None = None
    ) -> None:
        self.state = state
        self.clock = clock
        self.start = start
        self.record = record
        self.speed = clock.factor if isinstance(clock, SpeedClock) else 1.0
        self._awake_zero = self._zero()
        self.notices: list[str] = []
        self.begun: tuple[Event, ...] = ()
        """The events of its start; empty where it was taken up again."""
        self.resumed_at: int | None = None
        """The engine instant of its last entry, where it was taken up again; None: begun now."""
        self._looked = clock.now()
        self._drift = Drift(self._looked)
        self._finished = state.served is not None

    @classmethod
    def begin(
        cls,
        plan: Plan,
        clock: Clock,
        *,
        serve: int | None = None,
        book: tuple[Journal, str, str] | Book | None = None,
        scale: Literal["F", "C"] = "F",
        kitchen: tuple[Habit, ...] = (),
    ) -> Self:
        """Start a cook now.

        Args:
            plan: as read from its file.
            clock: tells the time.
            serve: wanted dish-up, in seconds from now; None: as soon as possible.
            book: the journal, the plan's file name and text; None: nothing is recorded.
            scale: the thermometer's unit.
            kitchen: what this kitchen makes of the plan's times.

        Raises:
            Contradiction: when no schedule can satisfy the plan.
            JournalError: when the start cannot be written down.
        """
        start = clock.now()
        outcome = begin(plan, serve, scale=scale, kitchen=kitchen)
        record = None
        if book is not None:
            speed = clock.factor if isinstance(clock, SpeedClock) else 1.0
            journal, file, text, rehearsal = Book(*book)
            meta = run_meta(plan, (file, text), start, speed)
            if rehearsal:
                meta = replace(meta, rehearsal=True)
            record = Record.begin(journal, meta, outcome.events)
        session = cls(outcome.state, clock, start, record)
        session.begun = outcome.events
        return session

    @classmethod
    def resume(cls, journal: Journal, run: int, clock: Clock) -> Self:
        """Take up a cook where it stands: everything is where the clock says.

        Args:
            journal: holds the run.
            run: its number.
            clock: the system's clock; a rehearsal goes on at its own speed.

        Raises:
            JournalError: when the run cannot be read.
            PlanError: when its plan text can no longer be read.
        """
        row = journal.run(run)
        meta = row.meta
        start = Instant(meta.started_utc, meta.awake, meta.boot)
        if meta.speed != 1:
            clock = SpeedClock(meta.speed, clock, start)
        entries = journal.entries(run)
        events = read_events(entries)
        plan = read_plan(meta.plan_text, meta.plan_file)
        state = refold(plan, events)
        session = cls(state, clock, start, Record(journal, run, meta, entries))
        session.resumed_at = row.last_at
        session._own_up(entries, clock.now().utc)
        return session

    def _own_up(self, entries: tuple[Entry, ...], utc: float) -> None:
        """Say what was lost, and that the wall clock cannot be right."""
        holds = tuple(counted(entries))
        if entries[-1].kind != GONE_ON and holds[-1] != entries[-1]:
            assert self.record is not None
            self.record.go_on(len(holds), (self.now(), utc))
            ago = spoken(self.now() - holds[-1].at)
            self.notices.append(f"What was done in the last {ago} is lost: look at every dish.")
        if self.clock.now().boot != self.start.boot and utc < entries[-1].utc - LONG_SLEEP:
            self.notices.append("The computer's clock is behind; set it, the timers go by it.")

    def now(self) -> int:
        """Engine seconds since the start, sleep included."""
        return self._at(self.clock.now())

    def _at(self, instant: Instant) -> int:
        return max(self.state.at, int(elapsed(self.start, instant)))

    def pause(self) -> float:
        """Real seconds until the next whole second of the cook, when every figure changes.

        At a speed at which they change all the time it is endless: there is nothing to wait for.
        """
        gone = elapsed(self.start, self.clock.now())
        return math.inf if self.speed > _BRISK else (math.floor(gone) + 1 - gone) / self.speed

    def _zero(self) -> float:
        """What the awake clock of the computer read, or would have read, at engine second 0.

        A rehearsal's clock agrees with the real one at its start and runs on faster.
        """
        now = self.clock.now()
        if now.boot == self.start.boot:
            return self.start.awake
        return now.awake - elapsed(self.start, now)

    def awake_at(self, at: int) -> float:
        """The computer's own clock that counts sleep at an engine instant, for alarms."""
        return self._awake_zero + at / self.speed

    def utc_at(self, at: int) -> float:
        """The wall clock at an engine instant, by the wall clock and the engine's time of now."""
        now = self.clock.now()
        return now.utc + (at - elapsed(self.start, now))

    def serve_in(self, clock: ClockTime) -> int:
        """The engine instant of the next such local time."""
        now = self.clock.now()
        return round(elapsed(self.start, now) + next_local(clock, now.utc) - now.utc)

    def tick(self) -> tuple[Event, ...]:
        """Move the cook to the present moment."""
        return self._tick(self.clock.now())

    def _tick(self, instant: Instant) -> tuple[Event, ...]:
        """Move the cook to an instant just read.

        It is read once: a program stopped between two readings would move on without noticing.
        """
        before, now = self.state, self._at(instant)
        outcome = self._take(None, advance(self.state, now), now)
        slips = self._drift.look(instant)
        self.notices.extend(slip.text for slip in slips)
        gap = self._gap(instant)
        self._looked = instant
        if gap > LONG_SLEEP:
            fallen = fallen_due(before, self.state)
            if fallen and not any(slip.kind == "slept" for slip in slips):
                self.notices.append(f"passbell stood still {spoken(round(gap))}; {_COUNTED}")
            self.notices.extend(fallen)
        if self.record is not None:
            self.record.retry(instant.awake / self.speed)
            self.notices.extend(self.record.take_notices())
        return outcome.events

    def _gap(self, instant: Instant) -> float:
        """Real seconds since the last look."""
        return elapsed(self._looked, instant) / self.speed

    def tell(self, command: Command) -> str | None:
        """Carry out a command now; the reason when it is refused."""
        return self.tell_events(command)[1]

    def tell_events(self, command: Command) -> tuple[tuple[Event, ...], str | None]:
        """Carry out a command now; what came of it, and the reason when it is refused."""
        instant = self.clock.now()
        passed = self._tick(instant) if self._gap(instant) > LONG_SLEEP else ()
        now = self._at(instant)
        outcome = self._take(command, tell(self.state, command, now), now)
        return (*passed, *outcome.events), outcome.refusal

    def foresee(self, command: Command) -> Outcome:
        """What a command would lead to, without doing it."""
        return tell(self.state, command, self.now())

    def _take(self, command: Command | None, outcome: Outcome, now: int) -> Outcome:
        """Write first, then show; `now` is the instant the engine was told, not a later one."""
        if self.record is not None:
            accepted = command if outcome.refusal is None else None
            self.record.write(accepted, outcome.events, (now, self.clock.now().utc))
        self.state = outcome.state
        if command is not None:
            self.notices.extend(program_flags(outcome.events))
        served = self.state.served
        if (served is not None) != self._finished:
            self._finished = served is not None
            if self.record is not None:
                self.record.finish(served if served is not None else self.state.at, served is None)
        return outcome


def refold(plan: Plan, events: tuple[Event, ...]) -> CookState:
    """The state a recorded cook leads to; its first event holds its chart and its kitchen."""
    first = events[0]
    if isinstance(first, Started):
        plan = adjusted(plan.model_copy(update={"chart": first.chart}), first.kitchen)
    return fold(prepared(plan), events)


def program_flags(events: tuple[Event, ...]) -> list[str]:
    """What the program remarks on a command: it stands in the record, and the cook is told."""
    return [e.text for e in events if e.type == "noted" and e.of == "program"]


def fallen_due(before: CookState, after: CookState) -> list[str]:
    """What fell due between two states, oldest first, in words; of many, each in few words."""
    fell = [c for c in cues(after) if is_due(after, c) and before.cue(c.key.id) is None]
    if len(fell) < _MANY_FELL:
        return [f"fell due {spoken(after.at - cue.at)} ago: {cue.text}" for cue in fell]
    told = (f"{cue.verb} {cue.what} {spoken(after.at - cue.at)} ago" for cue in fell)
    return [f"fell due: {', '.join(told)}"]
