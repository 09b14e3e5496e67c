"""What the engine answers to a command."""

from dataclasses import dataclass

from passbell.cook.events import Event


@dataclass(frozen=True, slots=True)
class Decision:
    """A command accepted: how the record names it, and what comes of it."""

    words: str
    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class Refusal:
    """A command refused: it changes nothing. `why` is a sentence without its full stop."""

    why: str
