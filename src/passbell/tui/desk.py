"""What a screen may ask of the cook in progress: one narrow door, so that tests can stand in."""

from typing import Literal, Protocol

from passbell.tui.views.model import CookView

Action = Literal[
    "done",  # the first line of the first card
    "earlier",  # the last Done a minute earlier
    "put_off",  # the cue in Now again in a minute
    "away",  # hands-on work stops; the same key ends it
    "heat_off",  # all heat, or the selected appliance's; the same key ends it
    "longer",
    "shorter",
    "ready",  # preheat or boil-up is over
    "not_ready",  # two minutes more
    "begin",  # the prep or finish of the selected row, else the next that can be begun
    "take_out",
    "together",  # two acts that are near each other in one opening, as proposed
    "take_back",
    "redo",
    "quiet",  # 30, 60, 90 seconds, off
    "volume",  # one step softer, from the softest back to the loudest
    "speak",  # the line of Now is spoken after its sound, or no more
    "say_all",
    "mark",
    "drop",  # Esc: drop what is pending or being asked
    "silence",  # any other key: the cue shown has been seen
]


class Desk(Protocol):
    """The cook in progress, as the screens see it."""

    def tick(self) -> CookView:
        """Move the cook to the present moment and give what is to be shown."""
        ...

    def pause(self) -> float:
        """Seconds until the next look is worth while because every figure changes; may be inf."""
        ...

    def press(self, action: Action) -> None:
        """Do what a key stands for; what comes of it is in the next view."""
        ...

    def choose(self, digit: int) -> bool:
        """Answer a question or take a way out by its number; False: there is nothing to choose."""
        ...

    def enter(self, text: str) -> bool:
        """Judge a line typed into the probe box; False: refused, the view says why."""
        ...

    def ask(self, kind: Literal["serve_at", "note", "display"], text: str) -> bool:
        """Enter the text of a one-line question; False: refused, the view says why."""
        ...

    def select(self, row: int | None) -> None:
        """Select a component by its place in file order, or none."""
        ...

    def bells(self) -> int:
        """How many times the terminal bell is to ring now."""
        ...

    def everything(self) -> tuple[str, ...]:
        """What is in and since when, the next three acts, what is still raw: lines to read."""
        ...

    def leave(self) -> str:
        """What is on the heat now, as a question before quitting; empty: nothing is."""
        ...

    def close(self) -> None:
        """Let go of the cook; it can be resumed where it stood."""
        ...
