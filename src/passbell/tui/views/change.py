"""A change not yet taken, in few words: what it does to one thing."""

from passbell.cook.wording import to_the_minute
from passbell.tui.views.model import Effect


def moved(effect: Effect) -> str:
    """By how much it moves ("+3 min"), or else is held longer ("hold +3 min"); empty: neither."""
    return _signed(effect.change) or _held(effect)


def besides(effect: Effect) -> tuple[str, ...]:
    """What else the change does to it: its share, and how much longer it is held."""
    held = _held(effect) if _signed(effect.change) else ""
    return tuple(text for text in (effect.share, held) if text)


def briefly(effect: Effect) -> str:
    """All of it in one text; empty: nothing that has to be known."""
    return ", ".join(text for text in (moved(effect), *besides(effect)) if text)


def _held(effect: Effect) -> str:
    """How much longer it is held; to be held less long is no news."""
    return f"hold {_signed(effect.held)}" if to_the_minute(effect.held) > 0 else ""


def _signed(seconds: int) -> str:
    minutes = to_the_minute(seconds) // 60
    return f"{minutes:+d} min" if minutes else ""
