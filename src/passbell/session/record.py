"""Writing a cook down, and reading it back."""

import json
import zlib
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import asdict

from pydantic import ValidationError

from passbell import __version__
from passbell.clock import Instant, local_datetime
from passbell.cook.commands import COMMANDS, Command
from passbell.cook.events import EVENTS, Event
from passbell.journal import Entry, Journal, JournalError, Missing, RunMeta
from passbell.plan.model import Plan

AGAIN = 3.0
"""Seconds between two tries to write what could not be written."""

GONE_ON = "gone_on"
"""The kind of entry that says: what is lost is lost, from here on it counts again.

Its command is how many entries count before it.
"""

_ANEW = "start it anew: passbell cook PLAN --new"


def run_meta(plan: Plan, source: tuple[str, str], start: Instant, speed: float) -> RunMeta:
    """What the journal keeps of a cook from its start.

    Args:
        plan: the plan as read.
        source: its file's name and its whole text.
        start: the clock at engine second 0.
        speed: seconds of the cook in one real second.
    """
    local = local_datetime(start.utc)
    offset = local.utcoffset()
    return RunMeta(
        title=plan.title,
        plan_file=source[0],
        plan_text=source[1],
        started_utc=start.utc,
        boot=start.boot,
        awake=start.awake,
        zone=local.tzname() or "",
        offset=int(offset.total_seconds()) if offset else 0,
        rehearsal=speed != 1,
        version=__version__,
        speed=speed,
    )


class Record:
    """The written record of one run.

    What cannot be written (a full disk) is kept and tried again, so that a cook in a hot kitchen
    goes on; `trouble` says so meanwhile. Every entry is kept small in memory too: a file that is
    damaged under the cook loses nothing of it.

    Args:
        journal: where it is written.
        run: its number.
        meta: its start.
        entries: what is written already.

    Attributes:
        trouble: why something is not written; empty: all is.
    """

    def __init__(
        self, journal: Journal, run: int, meta: RunMeta, entries: Iterable[Entry] = ()
    ) -> None:
        self.journal = journal
        self.run = run
        self.trouble = ""
        self._meta = meta
        self._known = [_packed(entry) for entry in entries]
        self._seq = max((_unpacked(known).seq for known in self._known[-1:]), default=-1) + 1
        self._waiting: deque[Entry] = deque()
        self._ending: tuple[int, bool] | None = None
        self._told = len(journal.notices)
        self._again = float("-inf")

    @classmethod
    def begin(cls, journal: Journal, meta: RunMeta, events: tuple[Event, ...]) -> "Record":
        """The record of a new cook, its start written with its first events, or not at all.

        Raises:
            JournalError: when it cannot be written.
        """
        first = _entry(0, None, events, (0, meta.started_utc))
        return cls(journal, journal.new_run(meta, first), meta, (first,))

    def write(
        self, command: Command | None, events: tuple[Event, ...], now: tuple[int, float]
    ) -> None:
        """Write a command (None: only time passed) and what came of it, committed on return.

        Args:
            command: what was said.
            events: what came of it; nothing is written when there are none.
            now: engine second and wall clock (UTC seconds).
        """
        if events:
            self._add(_entry(self._seq, command, events, now))
            self._write_all()

    def go_on(self, counted: int, now: tuple[int, float]) -> None:
        """Write down that a cook with lost entries goes on from those before the first of them."""
        self._add(Entry(self._seq, now[0], now[1], GONE_ON, str(counted), ()))
        self._write_all()

    def finish(self, at: int, again: bool = False) -> None:
        """Write down that the cook has ended; `again`: that it goes on after all."""
        self._ending = (at, again)
        self._write_all()

    def retry(self, now: float) -> None:
        """Try again to write what is waiting, now and then: each try may keep the screen waiting.

        Args:
            now: real seconds.
        """
        if self.trouble and now >= self._again:
            self._again = now + AGAIN
            self._write_all()

    def take_notices(self) -> tuple[str, ...]:
        """What the journal has to say that was not yet said during this cook."""
        told, self._told = self._told, len(self.journal.notices)
        return self.journal.notices[told:]

    def _add(self, entry: Entry) -> None:
        self._seq += 1
        self._waiting.append(entry)
        self._known.append(_packed(entry))

    def _write_all(self) -> None:
        notices = len(self.journal.notices)
        try:
            self._write_waiting()
            if len(self.journal.notices) != notices:
                self._refill()
            if self._ending is not None:
                at, again = self._ending
                self.journal.finish(self.run, at, "open" if again else "finished")
                self._ending = None
            self.trouble = ""
        except JournalError as error:
            self.trouble = f"not recorded: {error.what}; {error.mend}"

    def _write_waiting(self) -> None:
        try:
            while self._waiting:
                self.journal.append(self.run, self._waiting[0])
                self._waiting.popleft()
        except Missing:
            self._refill()

    def _refill(self) -> None:
        self.journal.refill(self.run, self._meta, map(_unpacked, self._known))
        self._waiting.clear()


def _entry(
    seq: int, command: Command | None, events: tuple[Event, ...], now: tuple[int, float]
) -> Entry:
    return Entry(
        seq=seq,
        at=now[0],
        utc=now[1],
        kind=command.do if command is not None else "time",
        command="" if command is None else COMMANDS.dump_json(command).decode(),
        events=tuple(EVENTS.dump_json(e).decode() for e in events),
    )


def _packed(entry: Entry) -> bytes:
    return zlib.compress(json.dumps(asdict(entry)).encode("utf-8", "surrogatepass"), 9)


def _unpacked(known: bytes) -> Entry:
    values = json.loads(zlib.decompress(known).decode("utf-8", "surrogatepass"))
    return Entry(**values | {"events": tuple(values["events"])})


def counted(entries: Iterable[Entry]) -> Iterator[Entry]:
    """The entries that count: those before the first that is lost, and on from a `GONE_ON`.

    An entry after a lost one cannot be trusted to mean what it meant: what was taken out may
    never have been put in.
    """
    whole, following, number = True, 0, 0
    for entry in entries:
        if entry.kind == GONE_ON:
            whole = entry.command == str(number)
        else:
            whole = whole and entry.seq == following
            if whole:
                number += 1
                yield entry
        following = entry.seq + 1


def read_events(entries: Iterable[Entry]) -> tuple[Event, ...]:
    """The events of a run that count, in order.

    Raises:
        JournalError: when its start is lost, or it was written by a program that knew other
            events.
    """
    try:
        events = tuple(
            EVENTS.validate_json(text) for entry in counted(entries) for text in entry.events
        )
    except ValidationError:
        raise JournalError("Another version of passbell wrote this cook", _ANEW) from None
    if not events or events[0].type != "started":
        raise JournalError("The start of this cook is lost", _ANEW)
    return events
