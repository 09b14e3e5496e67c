"""What Now shows of the whole view."""

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from passbell.cook.wording import later
from passbell.tui.paint import span
from passbell.tui.views.model import Card, CookView, CueLine, DishUp, Pending


class Pause(NamedTuple):
    """Something that stands still until the cook says that it goes on.

    Attributes:
        words: what, and since when ("oven: NO HEAT for 2:10").
        ends: how it is said that it goes on ("h: on again"); empty: no key does it.
        key: the function of that key.
        banner: what it is, for block letters.
    """

    words: str
    ends: str
    key: str
    banner: str


class NowPart(NamedTuple):
    """What Now shows.

    Attributes:
        cards, following, pending, interruption, over, flash, together: as in the view.
        paused: what stands still, and the key that lets it go on.
        after: once the meal is on the table: when it was, and what is left to do.
        in_rows: whether each row of a component says what a pending change does to it.
    """

    cards: tuple[Card, ...]
    following: tuple[CueLine, ...]
    pending: Pending | None
    interruption: tuple[str, ...]
    over: bool
    flash: bool
    together: str = ""
    paused: tuple[Pause, ...] = ()
    after: tuple[str, ...] = ()
    in_rows: bool = False


def _no_key(function: str) -> str:
    return ""


def now_part(view: CookView, key: Callable[[str], str] = _no_key) -> NowPart:
    """The part of the view that Now shows; `key`: the key to show for a function, or none."""
    paused = _paused(view, key)
    proposed = view.together if not paused else ""  # what stands still cannot be joined
    return NowPart(
        _under_banner(_answered(view.cards, key), paused),
        view.following,
        view.pending,
        view.interruption,
        view.over,
        view.flash,
        _keyed(key("together"), proposed) if proposed else "",
        paused,
        _after(view.dish_up, key("leave")) if view.over else (),
    )


def _answered(cards: tuple[Card, ...], key: Callable[[str], str]) -> tuple[Card, ...]:
    """The cards, a question whether something is hot with the keys that answer it."""
    if not any(cue.cue.startswith("ready.") for card in cards for cue in card.lines):
        return cards
    yes, no = key("done"), key("not_ready")
    if not yes or not no:
        return cards
    return tuple(
        replace(card, lines=tuple(
            replace(cue, how=f"up to heat? {yes}: yes, {no}: not yet")
            if cue.cue.startswith("ready.") else cue
            for cue in card.lines
        ))
        for card in cards
    )  # fmt: skip


def _under_banner(cards: tuple[Card, ...], paused: tuple[Pause, ...]) -> tuple[Card, ...]:
    """While something stands still, that is what the block letters say until an act is due."""
    if not paused or not cards or cards[0].lines[0].tone != "coming":
        return cards
    first, *others = cards[0].lines
    lines = (replace(first, banner=paused[0].banner), *others)
    return (replace(cards[0], lines=lines), *cards[1:])


def _keyed(key: str, words: str) -> str:
    return f"{key}: {words}" if key else words


def _paused(view: CookView, key: Callable[[str], str]) -> tuple[Pause, ...]:
    found = [
        Pause(
            f"{a.name}: {a.alert}",
            _ends(key("heat_off"), "it's on"),
            "heat_off",
            "NO HEAT",
        )
        for a in view.appliances
        if a.standing == "stopped"
    ]
    if view.hands.away is not None:
        words = f"AWAY, gone {span(view.hands.away)}"
        found.append(Pause(words, _ends(key("away"), "I am back"), "away", "AWAY"))
    return tuple(found)


def _ends(key: str, words: str) -> str:
    return f"{key}: {words}" if key else ""


def _after(dish_up: DishUp, key: str) -> tuple[str, ...]:
    off = dish_up.minutes * 60
    when = f"at {dish_up.expected}, {later(off)} than planned" if off else "as planned"
    return (when, f"{key}: say how it went") if key else (when,)
