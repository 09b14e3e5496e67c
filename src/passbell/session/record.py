"""Writing a cook down, and reading it back."""

from collections import deque

from passbell import __version__
from passbell.clock import Instant, local_datetime
from passbell.cook.commands import COMMANDS, Command
from passbell.cook.events import EVENTS, Event
from passbell.journal import Entry, Journal, JournalError, RunMeta
from passbell.plan.model import Plan


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

    What cannot be written (a full disk) is kept and tried again before the next entry, so that a
    cook in a hot kitchen goes on; `trouble` says so meanwhile.
    """

    def __init__(self, journal: Journal, run: int, entries: int = 0) -> None:
        self.journal = journal
        self.run = run
        self.trouble = ""
        self._seq = entries
        self._waiting: deque[Entry] = deque()

    def write(
        self, command: Command | None, events: tuple[Event, ...], now: tuple[int, float]
    ) -> None:
        """Write a command (None: only time passed) and what came of it, committed on return.

        Args:
            command: what was said.
            events: what came of it; nothing is written when there are none.
            now: engine second and wall clock (UTC seconds).
        """
        if not events:
            return
        entry = Entry(
            seq=self._seq,
            at=now[0],
            utc=now[1],
            kind=command.do if command is not None else "time",
            command="" if command is None else COMMANDS.dump_json(command).decode(),
            events=tuple(EVENTS.dump_json(e).decode() for e in events),
        )
        self._seq += 1
        self._waiting.append(entry)
        self.retry()

    def retry(self) -> None:
        """Write what is still waiting to be written."""
        try:
            while self._waiting:
                self.journal.append(self.run, self._waiting[0])
                self._waiting.popleft()
            self.trouble = ""
        except JournalError as error:
            self.trouble = f"not recorded: {error.what}; {error.mend}"

    def finish(self, at: int, again: bool = False) -> None:
        """Write down that the cook has ended; `again`: that it goes on after all."""
        self.retry()
        try:
            self.journal.finish(self.run, at, "open" if again else "finished")
        except JournalError as error:
            self.trouble = f"not recorded: {error.what}; {error.mend}"


def read_events(entries: tuple[Entry, ...]) -> tuple[Event, ...]:
    """The events of a run, in order.

    Raises:
        pydantic.ValidationError: when an entry was written by a program that knew other events.
    """
    return tuple(EVENTS.validate_json(text) for entry in entries for text in entry.events)
