"""What the screens before and after the cook may ask: narrow doors, like the desk of the cook."""

from pathlib import Path
from typing import Literal, Protocol

from passbell.tui.desk import Desk
from passbell.tui.views.after import AfterView, Score
from passbell.tui.views.before import BeforeView
from passbell.tui.views.plans import PlansView
from passbell.tui.views.revise import Asked, ReviseView
from passbell.tui.views.runs import RunsView

PrepareKind = Literal["serve", "size", "mode", "thermometer", "people"]
"""Questions before the start: when to serve ("now", "19:00", "in 90 min"), what the thermometer
shows in ice water ("33F") or where water boils ("211F at 300 m"), and for how many, with a way out
of a full tray ("4", "4 way 1")."""

AfterKind = Literal["note", "change", "yield", "leftovers"]
"""Questions after the cook; a note belongs to the chosen component, the others to the meal."""


class Preparation(Protocol):
    """One plan made ready to be cooked."""

    def look(self) -> BeforeView:
        """What is to be shown now; asked once a second."""
        ...

    def ask(self, kind: PrepareKind, text: str) -> bool:
        """Enter the answer to a question; False: refused, the view says why."""
        ...

    def press(self, action: Literal["chart", "unit"]) -> None:
        """The next chart of minimum temperatures, or the thermometer's other unit."""
        ...

    def tick_off(self, item: int) -> None:
        """Tick a thing gathered, or untick it."""
        ...

    def to_edit(self) -> Path | None:
        """The plan's file, to be opened in an editor; None: it cannot be, the view says why."""
        ...

    def start(self) -> Desk | None:
        """Begin the cook; None: it cannot begin, the view says why."""
        ...

    def close(self) -> None:
        """Let go of the plan."""
        ...


class Revising(Protocol):
    """A plan and what its runs ask for."""

    def look(self) -> ReviseView:
        """What is to be shown."""
        ...

    def take(self, asked: Asked) -> None:
        """Write one change into the plan's file; the view says what came of it."""
        ...


class Records(Protocol):
    """The runs there are."""

    def look(self, chosen: int | None) -> RunsView:
        """What is to be shown while this run is chosen; None: the newest."""
        ...

    def pick(self, run: int) -> None:
        """Put a run beside the others, or take it away again."""
        ...

    def alone(self) -> None:
        """Take all away that was put side by side."""
        ...

    def revise(self, run: int) -> Revising | None:
        """What the runs of its plan ask for; None: it cannot be said, the view says why."""
        ...


class Shelf(Protocol):
    """The plans there are."""

    def look(self) -> PlansView:
        """What is to be shown."""
        ...

    def open(self, key: str) -> Preparation | None:
        """Make a plan ready; None: it cannot be, the view says why."""
        ...

    def resume(self, key: str) -> Desk | None:
        """Take up an unfinished cook of a plan where it stood; None: there is none."""
        ...

    def to_edit(self, key: str) -> Path | None:
        """A plan's file, to be opened in an editor; None: it cannot be, the view says why."""
        ...

    def records(self) -> Records:
        """The runs of all plans."""
        ...


class Aftermath(Protocol):
    """The cook just ended, and what is written down about it."""

    def look(self) -> AfterView:
        """What is to be shown now; asked once a second."""
        ...

    def judge(self, row: int, score: Score) -> None:
        """Say how a component turned out; the same word again takes it back."""
        ...

    def ask(self, kind: AfterKind, text: str, row: int | None) -> bool:
        """Enter a line; False: refused, the view says why."""
        ...

    def revise(self) -> Revising | None:
        """What the runs of its plan ask for; None: it cannot be said, the view says why."""
        ...

    def close(self) -> None:
        """Let go of the record; all of it is kept already."""
        ...
