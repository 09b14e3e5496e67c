"""What is kept of a cook, and how it lies in rows that can prove they are whole.

Every row carries a mark over its own content. SQLite finds a page whose structure is broken; it
does not notice a flipped bit inside a text. The mark does, and it lets a row be recognised when
only the pages of a damaged file are left.
"""

import hashlib
import json
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, cast

RunState = Literal["open", "finished", "abandoned"]
"""A cook that goes on, came to its end, or was given up."""

Cell = str | int | float
"""What a column holds: text or a number, never a blob."""


@dataclass(frozen=True, slots=True)
class RunMeta:
    """What is known of a cook when it starts.

    Attributes:
        title: the meal.
        plan_file: where the plan was read from, as the caller names it.
        plan_text: the whole plan as it was, so that a run never depends on a file.
        started_utc: wall clock at engine second 0, seconds since 1970-01-01 UTC.
        boot: which run of the clock that counts sleep.
        awake: that clock at engine second 0, in seconds.
        zone: name of the local time zone at the start.
        offset: seconds of local time ahead of UTC at the start.
        rehearsal: not cooked in real time; teaches nothing.
        version: the program that wrote it.
        speed: seconds of the cook in one real second.
    """

    title: str
    plan_file: str
    plan_text: str
    started_utc: float
    boot: str
    awake: float
    zone: str
    offset: int
    rehearsal: bool
    version: str
    speed: float = 1.0


@dataclass(frozen=True, slots=True)
class Entry:
    """One command that was carried out and what came of it.

    Attributes:
        seq: place in the run, counted from 0 without a gap.
        at: engine seconds since the start of the cook.
        utc: wall clock when it happened, seconds since 1970-01-01 UTC.
        kind: the word for the command.
        command: the command as JSON.
        events: the events it gave, each as JSON.
    """

    seq: int
    at: int
    utc: float
    kind: str
    command: str
    events: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RunRow:
    """A run in the list of runs.

    Attributes:
        id: its number.
        meta: what was known at the start.
        state: how it stands.
        ended_at: engine seconds at its end; None while open.
        entries: how many entries are kept.
        last_at: engine seconds of the last entry; 0 without one.
    """

    id: int
    meta: RunMeta
    state: RunState
    ended_at: int | None
    entries: int
    last_at: int


@dataclass(frozen=True, slots=True)
class Table:
    """A table that is only ever added to, so that each row stands for itself.

    Attributes:
        name: its name.
        columns: column names in order, the mark left out.
        types: what reads each column back: str, int or float.
    """

    name: str
    columns: tuple[str, ...]
    types: tuple[Callable[[Cell], Cell], ...]

    @property
    def insert(self) -> str:
        """The statement that adds a sealed row."""
        places = ", ".join("?" * (len(self.columns) + 1))
        return f"INSERT INTO {self.name} ({self._stored}) VALUES ({places})"  # noqa: S608

    @property
    def select(self) -> str:
        """The statement that reads sealed rows, to be narrowed by the caller."""
        return f"SELECT {self._stored} FROM {self.name} "  # noqa: S608

    @property
    def _stored(self) -> str:
        return ", ".join((*self.columns, "mark"))

    def sealed(self, values: Sequence[Cell]) -> tuple[Cell, ...]:
        """The row as it is stored, its mark at the end."""
        row = self._typed(values)
        return (*row, self._mark(row))

    def opened(self, stored: Sequence[Cell | None]) -> tuple[Cell, ...] | None:
        """The values of a stored row without its mark; None when the row is not whole."""
        width = len(self.columns)
        cells = [cell for cell in stored[: width + 1] if cell is not None]
        if len(cells) != width + 1:
            return None
        try:
            row = self._typed(cells[:width])
        except (ValueError, TypeError, OverflowError):
            return None
        return row if cells[width] == self._mark(row) else None

    def _typed(self, values: Sequence[Cell]) -> tuple[Cell, ...]:
        return tuple(kind(v) for kind, v in zip(self.types, values, strict=True))

    def _mark(self, row: tuple[Cell, ...]) -> str:
        text = json.dumps([self.name, *row])
        return hashlib.blake2b(text.encode(), digest_size=8).hexdigest()


def _text(value: Cell) -> str:
    # UTF-8 cannot hold a lone surrogate, so it is written out as its code.
    return str(value).encode("utf-8", "backslashreplace").decode()


def _real(value: Cell) -> float:
    number = float(value) + 0.0  # SQLite keeps no negative zero
    if not math.isfinite(number):
        raise ValueError(f"{value!r} is no moment")
    return number


RUN = Table(
    "run",
    (
        *("id", "title", "plan_file", "plan_text", "started_utc", "boot", "awake"),
        *("zone", "zone_offset", "rehearsal", "version", "speed"),
    ),
    (int, _text, _text, _text, _real, _text, _real, _text, int, int, _text, _real),
)
ENTRY = Table(
    "entry",
    ("run", "seq", "at", "utc", "kind", "command", "events"),
    (int, int, int, _real, _text, _text, _text),
)
ENDING = Table("ending", ("run", "at", "state"), (int, int, _text))
TABLES = (RUN, ENTRY, ENDING)
"""Starts of cooks, what was done in them, and how they stand."""


def run_values(run: int, meta: RunMeta) -> tuple[Cell, ...]:
    """A run's start as the values of its row."""
    return (
        *(run, meta.title, meta.plan_file, meta.plan_text, meta.started_utc, meta.boot),
        *(meta.awake, meta.zone, meta.offset, meta.rehearsal, meta.version, meta.speed),
    )


def run_meta(values: Sequence[Cell]) -> RunMeta:
    """A run's start from the values of its row."""
    _, title, file, text, started, boot, awake, zone, offset, rehearsal, version, speed = values
    return RunMeta(
        *(str(title), str(file), str(text), float(started), str(boot), float(awake)),
        *(str(zone), int(offset)),
        rehearsal=bool(rehearsal),
        version=str(version),
        speed=float(speed),
    )


def entry_values(run: int, entry: Entry) -> tuple[Cell, ...]:
    """An entry as the values of its row; its events become one JSON list of texts."""
    events = json.dumps(entry.events)
    return (run, entry.seq, entry.at, entry.utc, entry.kind, entry.command, events)


def entry_of(values: Sequence[Cell]) -> Entry:
    """An entry from the values of its row."""
    _, seq, at, utc, kind, command, events = values
    texts = tuple(str(text) for text in json.loads(str(events)))
    return Entry(int(seq), int(at), float(utc), str(kind), str(command), texts)


def run_row(
    start: Sequence[Cell], end: Sequence[Cell] | None, last: Sequence[Cell] | None
) -> RunRow:
    """A run in the list, from its start, its last ending and (run, count, seq, at)."""
    meta = run_meta(start)
    state = cast(RunState, end[2]) if end else "open"
    _, count, _, at = last or (0, 0, 0, 0)
    ended = int(end[1]) if end and state != "open" else None
    return RunRow(int(start[0]), meta, state, ended, int(count), int(at))
