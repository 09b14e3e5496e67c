"""A cook line by line: for a screen reader, a pipe, a terminal that cannot draw."""

import queue
import sys
import threading
from collections.abc import Callable, Iterator

from passbell.clock import local_time
from passbell.cook.cards import is_due
from passbell.cook.commands import Probe
from passbell.cook.cues import cues
from passbell.cook.neighbours import on_the_heat
from passbell.cook.outlook import Outlook, outlook
from passbell.cook.outlook_words import expected, odd_line, once_out
from passbell.cook.state import LogLine
from passbell.cook.verdicts import has_minimum, may_leave, verdict
from passbell.cook.whose import NotUnderstood
from passbell.cook.wording import minutes
from passbell.cook.words import WORDS, read_words
from passbell.session import CookSession
from passbell.tui.views.cook import everything
from passbell.units import clean_text

LONGEST = 4000
"""Characters after which a line is taken as ended."""

MOST = 1000
"""Lines that may wait; whoever sends more has to wait for them."""

PAUSE = 0.25
"""Seconds between two looks at the clock."""


def run_plain(session: CookSession) -> int:
    """Cook to the end, or until there is nothing more to read; the exit code."""
    lines: queue.Queue[str | None] = queue.Queue(MOST)
    threading.Thread(target=_read, args=(lines,), daemon=True).start()
    said: set[str] = set()
    print(f"{session.state.plan.title}: type {WORDS}; what is in: all; leave: quit", flush=True)
    while session.state.served is None:
        session.tick()
        for text in _news(session, said):
            print(text, flush=True)
        try:
            line = lines.get(timeout=PAUSE)
        except queue.Empty:
            continue
        if line is None or clean_text(line).casefold() == "quit":
            break
        for text in _answer(session, line):
            print(text, flush=True)
    return 0


def _read(lines: "queue.Queue[str | None]") -> None:
    while line := sys.stdin.readline(LONGEST):
        lines.put(line)
    lines.put(None)


def _news(session: CookSession, said: set[str]) -> Iterator[str]:
    """Cues that have just fallen due, and notices."""
    yield from session.notices
    session.notices.clear()
    state = session.state
    due = {c.key.id: c for c in cues(state) if is_due(state, c) and not c.silent}
    for cue, found in due.items():
        if cue not in said:
            clock = local_time(session.utc_at(found.at), seconds=True)
            yield f"{clock} now: {found.text}"
    said.intersection_update(due)
    said.update(due)


def _answer(session: CookSession, line: str) -> Iterator[str]:
    """What comes of a typed line."""
    if clean_text(line).casefold() in ("all", "?"):
        yield from everything(session.state, session.now(), _local(session))
        return
    held, before = session.state.log, session.state.schedule.dish_up
    try:
        command = read_words(line, session.state, serve_in=session.serve_in)
    except NotUnderstood as error:
        yield f"{error}; all says what is in, what comes next and what is still raw"
        return
    refusal = session.tell(command)
    if refusal is not None:
        yield f"not done: {refusal}"
        return
    state = session.state
    yield _said(held, state.log)
    if isinstance(command, Probe) and has_minimum(state, command.component):
        judged = verdict(state, command.component)
        yield f"{judged.verdict}: {judged.sentence}"
        yield from judged.advice
    if isinstance(command, Probe):
        yield from _forecast(session, command.component)
    if state.schedule.dish_up != before:
        at = local_time(session.utc_at(state.schedule.dish_up))
        yield f"dish-up now at {at}, in {minutes(state.schedule.dish_up - session.now())}"


def _said(before: tuple[LogLine, ...], log: tuple[LogLine, ...]) -> str:
    """What a command did to the record, in words: a line more, one struck out, or one again."""
    for old, new in zip(before, log, strict=False):
        if old.cancelled != new.cancelled:
            return f"{'taken back' if new.cancelled else 'done again'}: {new.words}"
    return log[-1].words if log else "done"


def _forecast(session: CookSession, component: int) -> Iterator[str]:
    """When it is expected at its temperature, and when to look."""
    found = outlook(session.state, component)
    if isinstance(found, Outlook) and found.out is None:
        odd = odd_line(found)
        yield from ((odd,) if odd else ())
        step = on_the_heat(session.state, component)
        there = step is not None and may_leave(session.state, component, step)
        yield once_out(found) if there else expected(found, session.now(), None)


def _local(session: CookSession) -> Callable[[int, bool], str]:
    def local(at: int, seconds: bool) -> str:
        return local_time(session.utc_at(at), seconds=seconds)

    return local
