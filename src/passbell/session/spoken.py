"""What is said aloud when a cue has rung: the line of Now, in words."""

from collections.abc import Iterable

from passbell.cook.cards import cards, is_due
from passbell.cook.cue import Cue
from passbell.cook.state import CookState
from passbell.sound.pattern import LATE_AFTER

MOST = 2
"""Cues said at once at most: more than that nobody keeps in mind."""


def now_line(state: CookState, now: int, rung: Iterable[str]) -> str:
    """What to say for the alarms that have just rung; empty: they are dealt with already.

    Args:
        state: the cook.
        now: the engine instant.
        rung: the ids of the alarms.
    """
    names = {name.partition("/")[0] for name in rung}
    wanted = [cue for card in cards(state) for cue in card.lines if cue.key.id in names]
    return ". ".join(cue_words(state, cue, now) for cue in wanted[:MOST])


def cue_words(state: CookState, cue: Cue, now: int) -> str:
    """One line of Now as it is spoken: the act, how, and since or until when."""
    act = f"{cue.verb.casefold()} {cue.what}"
    return ", ".join(part for part in (act, cue.how, _when(state, cue, now)) if part)


def _when(state: CookState, cue: Cue, now: int) -> str:
    past = now - cue.at
    if not is_due(state, cue):
        return f"in {_length(max(0, -past))}"
    if past >= LATE_AFTER:
        return f"due {_length(past)} ago, late"
    return "due now"


def _length(seconds: int) -> str:
    """A length of time as one says it: "40 seconds", "1 minute", "1 hour 5 minutes"."""
    if seconds < 60:
        return _counted(seconds, "second")
    hours, minutes = divmod(round(seconds / 60), 60)
    parts = [_counted(hours, "hour")] if hours else []
    return " ".join([*parts, *([_counted(minutes, "minute")] if minutes else [])])


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"
