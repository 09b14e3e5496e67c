"""Cooks of an invented meal, kept in a journal: what the tests of runs are made of."""

from pathlib import Path

from passbell.clock import HandClock
from passbell.cook.commands import Note
from passbell.journal import Journal
from passbell.plan.read import read_plan
from passbell.session import CookSession
from passbell.session.cook import Book
from passbell.session.headless import Headless, read_script

TEXT = """\
# A tray of two, invented for the tests; its figures rest on common practice, no source.
title  = "Thighs and beans"
serves = 2

[[appliance]]
name    = "oven"
preheat = "10 min"

[[component]]
name  = "thighs"
food  = "poultry_pieces"
doneness = "juices run clear"
steps = [
  { prep = "pat dry", time = "4 min" },
  { cook = "skin up", on = "oven", time = "30 min", until = "75 °C", during = [
    { at = "halfway", do = "turn" } ], check = "28 min" },  # on the rack
  { rest = "on a plate", time = "5 min" },
]

[[component]]
name  = "green beans"   # frozen ones need longer
food  = "plant"
steps = [
  { prep = "top and tail", time = "3 min" },
  { cook = "left side", on = "oven", time = "12 min" },
]
"""


def cook_it(
    journal: Journal,
    file: Path,
    script: str = "",
    notes: tuple[tuple[str, int | None], ...] = (),
    rehearsal: bool = False,
) -> CookSession:
    """Cook a plan file once, with a script, and say something about it."""
    text = file.read_text(encoding="utf-8")
    clock = HandClock(utc=1_800_000_000.0)
    session = CookSession.begin(
        read_plan(text, file.name), clock, book=Book(journal, str(file), text, rehearsal)
    )
    Headless(session, clock, read_script(script), lambda _: None).run()
    for words, component in notes:
        assert session.tell(Note(text=words, component=component)) is None
    return session
