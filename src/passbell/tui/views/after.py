"""The cook just ended as plain data."""

from dataclasses import dataclass

from passbell.cook.scores import Score

__all__ = ["AfterRow", "AfterView", "Score"]


@dataclass(frozen=True, slots=True)
class AfterRow:
    """One component as planned and as cooked.

    Attributes:
        name: as in the plan.
        planned: when it was to be ready ("18:40").
        cooked: when it was; "" if it never was.
        drift: seconds later (positive) or earlier than planned.
        verdict: the verdict in words ("MET, 168 °F"); "" where none was asked.
        score: how it turned out; None: not said.
        note: a note; may be empty.
    """

    name: str
    planned: str
    cooked: str
    drift: int
    verdict: str = ""
    score: Score | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class AfterView:
    """The record of one cook.

    Attributes:
        title: the plan's title.
        date: when it was cooked.
        planned, cooked: dish-up time as planned and as cooked.
        drift: seconds later or earlier.
        rows: in file order.
        notes: what was noted on the way, with its time.
        change: one change for next time; may be empty.
        made: the yield; may be empty.
        leftovers: what is left and where it went; may be empty.
        reminder: until when leftovers must be cold; may be empty.
        rehearsal: whether it was a rehearsal.
        message: what came of the last answer; may be empty.
    """

    title: str
    date: str
    planned: str
    cooked: str
    drift: int
    rows: tuple[AfterRow, ...]
    notes: tuple[str, ...] = ()
    change: str = ""
    made: str = ""
    leftovers: str = ""
    reminder: str = ""
    rehearsal: bool = False
    message: str = ""
