"""What a screen said and what a journal says, made comparable."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from passbell.cook.commands import COMMANDS
from passbell.cook.engine import Outcome, advance, begin, tell
from passbell.cook.events import EVENTS, Event, Started
from passbell.cook.state import CookState
from passbell.journal import Entry, Journal, RunRow
from passbell.plan.model import Plan
from passbell.plan.read import read_plan
from passbell.session.cook import refold
from passbell.session.record import counted, read_events
from passbell.tui.paint import span
from passbell.tui.views.cook import Beside, cook_view

_LEFT = re.compile(r"(\+?\d+(?::\d\d)+)(?:\s+>?\d+%)?\s+(?:on time|[+−-]\d+.*)?$")
_CLOCK = re.compile(r"^\s+(\d\d):(\d\d):(\d\d)\b")
_LAST = re.compile(r"(?<=  ) LAST (?!ACTS)")
_HEAD = re.compile(r" left(?=( +done)? +off by$)")
_DAY = 86400


@dataclass(frozen=True)
class Shown:
    """One look at a screen.

    Attributes:
        clock: seconds of the day that its clock read; None: it was no cook screen.
        rows: name and time left of each component, as drawn.
        acts: the last acts it listed, newest first, each perhaps cut short.
        notes: whether the line for a note stood open.
    """

    clock: int | None
    rows: tuple[tuple[str, str], ...]
    acts: tuple[str, ...]
    notes: bool


def read_screen(text: str, names: Sequence[str]) -> Shown:
    """Read the cook screen of 40 lines or more by 120 columns or more."""
    lines = text.split("\n")
    clock = _CLOCK.match(lines[0])
    seconds = None
    if clock is not None:
        hours, minutes, rest = map(int, clock.groups())
        seconds = hours * 3600 + minutes * 60 + rest
    return Shown(seconds, _rows(lines, names), _acts(lines), "a remark kept" in text)


def _rows(lines: list[str], names: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Name and time left, which ends farthest right: words may end in a time of day."""
    found = []
    for name in names:
        line = next((line for line in lines if line[3:].startswith(f"{name} ")), "")
        found.append((name, _LEFT.search(line.rstrip())))
    heads = (_HEAD.search(line.rstrip()) for line in lines)
    ends = [head.end() for head in heads if head] + [left.end(1) for _, left in found if left]
    column = max(ends, default=0)
    return tuple(
        (name, left.group(1) if left and left.end(1) == column else "") for name, left in found
    )


def _acts(lines: list[str]) -> tuple[str, ...]:
    found = ((y, _LAST.search(line)) for y, line in enumerate(lines))
    y, match = next(((y, match) for y, match in found if match), (0, None))
    if match is None:
        return ()
    x = match.start()
    acts = [lines[y][x + 6 :].strip()]
    for line in lines[y + 1 :]:
        if not line[x:].strip() or line[x : x + 5].strip():
            break
        acts.append(line[x:].strip())
    return tuple(act.removesuffix("…").rstrip() for act in acts)


@dataclass(frozen=True)
class Recorded:
    """What a journal says of one cook."""

    row: RunRow
    plan: Plan
    entries: tuple[Entry, ...]
    events: tuple[Event, ...]
    state: CookState


def recorded(home: Path, run: int | None = None) -> Recorded:
    """The newest cook of a journal, which must be whole."""
    with Journal.open(home) as journal:
        assert journal.notices == (), journal.notices
        row = journal.runs()[0] if run is None else journal.run(run)
        entries = journal.entries(row.id)
        assert journal.missing(row.id) == ()
    plan = read_plan(row.meta.plan_text, row.meta.plan_file)
    events = read_events(entries)
    return Recorded(row, plan, entries, events, refold(plan, events))


class Replay:
    """The engine, told again every command of a record at its instant, entry by entry."""

    def __init__(self) -> None:
        self._done: tuple[Entry, ...] = ()
        self._states: list[CookState] = []

    @property
    def length(self) -> int:
        """How many entries were told so far."""
        return len(self._states)

    def states(self, found: Recorded) -> list[CookState]:
        """The state after each entry that counts.

        Raises:
            AssertionError: when the engine makes other events than are recorded.
        """
        entries = tuple(counted(found.entries))
        if self._done != entries[: len(self._done)]:
            self._done, self._states = (), []
        for entry in entries[len(self._done) :]:
            outcome = self._again(found, entry)
            events = tuple(EVENTS.dump_json(event).decode() for event in outcome.events)
            assert events == entry.events, (entry.seq, entry.kind, entry.command)
            self._states.append(outcome.state)
        self._done = entries
        assert self._states[-1] == found.state
        return self._states

    def _again(self, found: Recorded, entry: Entry) -> Outcome:
        if not self._states:
            first = found.events[0]
            assert isinstance(first, Started)
            return begin(found.plan, first.serve, chart=first.chart, scale=first.scale)
        state = self._states[-1]
        if not entry.command:
            return advance(state, entry.at)
        return tell(state, COMMANDS.validate_json(entry.command), entry.at)


def second_shown(shown: Shown, started: float) -> list[int]:
    """The engine seconds that a clock on a screen may stand for, a day or less after the start."""
    assert shown.clock is not None
    local = datetime.fromtimestamp(started, UTC)
    begun = local.hour * 3600 + local.minute * 60 + local.second
    gone = (shown.clock - begun) % _DAY
    gone = gone - _DAY if gone > _DAY - 60 else gone
    return [at for at in (gone, gone - 1, gone + 1) if at >= 0]


def acts_of(state: CookState) -> list[str]:
    """What was done, newest first, as a screen lists it."""
    return [
        ("taken back: " if line.cancelled else "") + line.words
        for line in reversed(state.log)
        if not line.words.startswith("seen ")
    ]


def shows_no_more(shown: Shown, state: CookState) -> bool:
    """Whether every act on a screen, perhaps half drawn, is in the state, be it taken back since.

    Args:
        shown: the screen.
        state: the state.
    """
    known = [act.removeprefix("taken back: ") for act in acts_of(state)]
    shown_acts = [act.removeprefix("taken back: ") for act in shown.acts]
    return all(any(act.startswith(word[:24]) for act in known) for word in shown_acts)


def fits(shown: Shown, state: CookState, started: float) -> bool:
    """Whether a screen may be that of a state: its acts and its countdowns, to the second."""
    acts = acts_of(state)
    if len(shown.acts) > len(acts) or not all(map(str.startswith, acts, shown.acts)):
        return False
    return any(_fit_at(shown, state, at) for at in second_shown(shown, started))


def _fit_at(shown: Shown, state: CookState, at: int) -> bool:
    if at < state.at:
        return False
    state = advance(state, at).state
    view = cook_view(state, at, Beside(local=lambda at, seconds: "00:00"))
    rows = tuple(
        (row.name, "" if row.left is None else ("+" if row.left < 0 else "") + span(row.left))
        for row in view.rows
    )
    return rows == shown.rows
