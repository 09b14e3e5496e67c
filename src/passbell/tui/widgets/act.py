"""An act in words: what to do, and how it stands."""

from passbell.tui.paint import Line, Run, cells_in, span
from passbell.tui.views.model import CueLine


def countdown(cue: CueLine) -> str:
    """The countdown in signs for block digits; a plus: it has been due so long."""
    return ("+" if cue.due_in < 0 else "") + span(cue.due_in)


def label(cue: CueLine) -> str:
    """The state of a cue in words: "in 4:10", "DUE now", "DUE 0:40 ago", "DUE, LATE 1:40"."""
    if cue.tone == "coming" and cue.due_in > 0:
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
        text={"coming": span(cue.due_in), "due": " DUE ", "late": " LATE "}[cue.tone]
    )


def label_run(cue: CueLine) -> Run:
    """The state of a cue as it stands on the screen."""
    role = {"coming": "now.soft", "due": "due", "late": "late"}[cue.tone]
    words = label(cue)
    return Run(words if cue.tone == "coming" else f" {words} ", role)


def title(cue: CueLine) -> Line:
    """The act itself; a click on it does it."""
    return Run(f"{cue.verb} ", "now.strong", "key:done"), Run(cue.what, "now.strong", "key:done")
