"""An act in words and in block letters: what to do, and how it stands."""

from passbell.tui.letters import spelled, spelled_act
from passbell.tui.paint import Line, Run, cells_in, span
from passbell.tui.views.model import CueLine

LEAST_LETTERS = 3
"""Lines that block letters need."""

Widths = tuple[int, int, int]
"""Cells beside the digits, how many lines the digits have, cells beneath them."""


def countdown(cue: CueLine) -> str:
    """The countdown in signs for block digits; a plus: it has been due so long; empty: none."""
    if cue.waits:
        return ""
    return ("+" if cue.due_in < 0 else "") + span(cue.due_in)


def label(cue: CueLine) -> str:
    """The state of a cue in words: "in 4:10", "DUE now", "DUE 0:40 ago", "DUE, LATE 1:40"."""
    if cue.waits:
        words = cue.waits
    elif cue.under_way:
        words = f"about {span(cue.due_in)} left"
    elif cue.tone == "coming" and cue.due_in > 0:
        words = f"in {span(cue.due_in)}"
    elif cue.tone == "late":
        words = f"DUE {span(cue.due_in)} ago, LATE"
    else:
        words = f"DUE {span(cue.due_in)} ago" if cue.due_in < 0 else "DUE now"
    return f"{words}, {cue.standing}" if cue.standing != "new" else words


def short_label(cue: CueLine, room: int) -> Run:
    """The state of a cue in so many cells; the digits beneath say how long."""
    run = label_run(cue)
    if cells_in(run.text) <= room:
        return run
    return run._replace(
        text={
            "coming": "waits" if cue.waits else span(cue.due_in),
            "due": " DUE ",
            "late": " LATE ",
        }[cue.tone]
    )


def label_run(cue: CueLine) -> Run:
    """The state of a cue as it stands on the screen."""
    role = {"coming": "now.soft", "due": "due", "late": "late"}[cue.tone]
    words = label(cue)
    return Run(words if cue.tone == "coming" else f" {words} ", role)


def title(cue: CueLine) -> Line:
    """The act itself; a click on it does it."""
    return Run(f"{cue.verb} ", "now.strong", "key:done"), Run(cue.what, "now.strong", "key:done")


def act_letters(cue: CueLine, widths: Widths, above: int, rows: int) -> list[Line]:
    """The act in block letters beside the digits; where it does not fit there, beneath them.

    Args:
        cue: the act.
        widths: the room.
        above: how many lines stand above.
        rows: lines to draw in.
    """
    beside, digits, beneath_them = widths
    drawn = spelled_cue(cue, beside, rows)
    skipped = max(0, digits - above)
    if any(drawn) or skipped >= rows:
        return drawn
    return [*[()] * skipped, *spelled_cue(cue, beneath_them, rows - skipped)]


def spelled_cue(cue: CueLine, width: int, rows: int) -> list[Line]:
    """So many lines with the act in block letters, where there is room for them."""
    above = 1 if rows > LEAST_LETTERS else 0
    role = {"coming": "now.letters", "due": "due.letters", "late": "late.letters"}[cue.tone]
    if cue.banner:
        letters, role = spelled(cue.banner, width, rows - above), "due.letters"
    else:
        letters = spelled_act(cue.verb, cue.what, width, rows - above)
    drawn: list[Line] = [(Run(line, role),) for line in letters]
    above = above if letters else 0
    return [*[()] * above, *drawn, *[()] * (rows - len(drawn) - above)]
