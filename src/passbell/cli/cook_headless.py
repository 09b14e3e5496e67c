"""A cook without a screen, at once, through the same engine: for scripts and tests."""

import argparse
import contextlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from passbell.cli.parser import say
from passbell.cli.times import Timing
from passbell.clock import HandClock, local_time
from passbell.files import read_small
from passbell.journal import Journal
from passbell.planfiles import LoadedPlan
from passbell.safety.chart import first_unit
from passbell.session import CookSession
from passbell.session.cook import Book
from passbell.session.headless import Headless, ScriptError, ScriptLine, read_script
from passbell.session.kitchen import in_kitchen, learn

LONGEST_SCRIPT = 1_000_000
"""The longest script that is read, in bytes."""


def run_headless(args: argparse.Namespace, loaded: LoadedPlan, when: Timing) -> int:
    """Cook to the end, printing every cue and event; the exit code."""
    try:
        script = _script(args.script)
        with contextlib.ExitStack() as stack:
            book = None
            if args.keep:
                journal = stack.enter_context(Journal.open())
                book = Book(journal, loaded.file, loaded.text, rehearsal=not script)
            kitchen = in_kitchen(loaded.plan)
            clock = HandClock(utc=when.start.utc)
            session = CookSession.begin(
                loaded.plan,
                clock,
                serve=when.serve,
                book=book,
                scale=args.unit or first_unit(loaded.plan.chart),
                kitchen=kitchen.habits,
            )
            headless = Headless(session, clock, script, _printer(args.json, when))
            headless.run()
            _learn(session)
    except ScriptError as error:
        say(f"{args.script}: {error}")
        return 2
    return 1 if headless.refused else 0


def _learn(session: CookSession) -> None:
    record = session.record
    trouble = learn(record.journal, record.run) if record is not None else ""
    if trouble:
        say(trouble)


def _script(name: str | None) -> tuple[ScriptLine, ...]:
    if name is None:
        return ()
    data = read_small(Path(name), LONGEST_SCRIPT)
    if len(data) > LONGEST_SCRIPT:
        raise ScriptError("it is longer than a million bytes; no cook says that much")
    return read_script(data.decode("utf-8", "replace"))


def _printer(as_json: bool, when: Timing) -> Callable[[dict[str, Any]], None]:
    def print_json(found: dict[str, Any]) -> None:
        print(json.dumps(found, ensure_ascii=False))

    def print_words(found: dict[str, Any]) -> None:
        if found["type"] == "end":
            print(f"{local_time(when.start.utc + found['dish_up'])}  the end")
        elif found["text"]:
            sign = "•" if found["type"] == "cue" else " "
            print(
                f"{local_time(when.start.utc + found['at'], seconds=True)} {sign} {found['text']}"
            )

    return print_json if as_json else print_words
