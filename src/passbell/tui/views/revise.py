"""What the runs of a plan ask for, as plain data."""

from dataclasses import dataclass

from passbell.cook.ready import Ready


@dataclass(frozen=True, slots=True)
class Asked:
    """One change that is asked for: what, and why with its figures and runs."""

    change: str
    reason: str


@dataclass(frozen=True, slots=True)
class ReviseView:
    """A plan and what its runs ask for.

    Attributes:
        title: the plan's title.
        file: its file.
        cooks: how many finished runs it has.
        asked: the changes.
        taken: how many were taken since this page was opened.
        notes: what is known of the kitchen.
        wrote: what the cook wrote for next time, and after which run; may be empty.
        unheard: what was said of the runs that asks for nothing, and why.
        ready: whether it is ready to be published.
        message: what came of the last key; may be empty.
    """

    title: str
    file: str
    cooks: int
    asked: tuple[Asked, ...]
    taken: int = 0
    notes: tuple[str, ...] = ()
    wrote: str = ""
    unheard: tuple[str, ...] = ()
    ready: Ready | None = None
    message: str = ""
