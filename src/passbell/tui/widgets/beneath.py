"""What stands beneath the cards of Now: what else is due, what was interrupted, what follows."""

from collections.abc import Sequence, Sized
from typing import Protocol

from passbell.tui.paint import Line, Run, cells_in, crop, packed, span, spread, width_of
from passbell.tui.views.model import CueLine
from passbell.tui.widgets.act import label
from passbell.tui.widgets.now_part import Pause

NARROW = 60
"""Cells beneath which the digits stand beneath the words."""
_LEGIBLE = 4
"""Rows of digits that are read at two metres."""
MOST_CARDS = 2
"""Cards that Now has room for at full size."""


class Beneath(Protocol):
    """What Now shows besides its cards; see NowPart."""

    @property
    def cards(self) -> Sized:
        """The cards at full size."""

    @property
    def following(self) -> tuple[CueLine, ...]:
        """The acts after those of the cards."""

    @property
    def interruption(self) -> tuple[str, ...]:
        """What was interrupted."""

    @property
    def paused(self) -> Sequence[Pause]:
        """What stands still until the cook says that it goes on."""

    @property
    def together(self) -> str:
        """Acts that could share one opening."""


def beneath(part: Beneath, width: int, room: int, more: bool) -> list[Line]:
    """What else is due, then what was interrupted, or else what follows."""
    coming = part.following
    due = also_due(len(part.cards), coming) if more else ()
    also = [_pause(pause, width) for pause in part.paused]
    also += [_due_as_well(due, width)] if due else []
    room -= len(also)
    told = _interruption(part.interruption, width, room)
    if not told:
        told = _together(part.together, width)
        if width < NARROW and room - len(told) == 1 and len(coming) > 1:
            told.append(_two_following(coming[0], coming[1], width))
        else:
            told += [line for cue in coming[len(due) :] for line in _following(cue, width)]
    return [*also, *told[: max(0, room)]]


def _pause(pause: Pause, width: int) -> Line:
    """What stands still, and the key that lets it go on; a click is that key."""
    tag = f"key:{pause.key}"
    ends = (Run(f" {pause.ends}", "now.strong", tag),) if pause.ends else ()
    return crop((Run(f" {pause.words} ", "due", tag), *ends), width)


def also_due(cards: int, following: tuple[CueLine, ...]) -> tuple[CueLine, ...]:
    """What is due besides the two cards there is room for."""
    if cards < MOST_CARDS:
        return ()
    return tuple(cue for cue in following if cue.tone != "coming")


def room_for_more(width: int, height: int) -> bool:
    """Whether Now can name what else is due and still draw both countdowns for two metres."""
    return width < NARROW or height > 2 * _LEGIBLE


def acts_due(cues: tuple[CueLine, ...]) -> str:
    """Acts that are due, each with for how long: "TURN potatoes +0:40 · CHECK rice now"."""
    return " · ".join(f"{cue.verb} {cue.what} {_since(cue)}" for cue in cues)


def _due_as_well(cues: tuple[CueLine, ...], width: int) -> Line:
    return crop((Run(" also DUE ", "due"), Run(f" {acts_due(cues)}", "now.strong")), width)


def _since(cue: CueLine) -> str:
    return f"+{span(cue.due_in)}" if cue.due_in < 0 else "now"


def _two_following(first: CueLine, second: CueLine, width: int) -> Line:
    """The next two in one line, each with half of it."""
    half = (width - 3) // 2
    one = _briefly(first, half)
    return *one, Run(" · ", "now.soft"), *_briefly(second, width - 3 - width_of(one))


def _briefly(cue: CueLine, width: int) -> Line:
    when = " waits" if cue.waits else f" {span(cue.due_in)}" if cue.due_in > 0 else " DUE"
    act = (Run(f"{cue.verb} ", "now.next"), Run(cue.what, "now"))
    return *crop(act, width - cells_in(when)), Run(when, "now")


def _following(cue: CueLine, width: int) -> list[Line]:
    when = label(cue) if cue.waits or cue.due_in <= 0 else f"in {span(cue.due_in)}"
    how = f", {cue.how}" if cue.how else ""
    left = (
        Run("then ", "now.soft"),
        Run(cue.verb, "now.next"),
        Run(f" {cue.what}", "now"),
        Run(how, "now.soft"),
    )
    return [spread(left, (Run(when, "now"), Run(" ", "now")), width, "now")]


def _together(text: str, width: int) -> list[Line]:
    """Acts that could share one opening; a click takes it, as its key does."""
    return [crop((Run(text, "now.strong", "key:together"),), width)] if text else []


def _interruption(texts: tuple[str, ...], width: int, room: int) -> list[Line]:
    if not texts or room < 1:
        return []
    if len(texts) > room:
        return [(Run(text, "now.strong"),) for text in packed(texts, width, room)]
    return [crop((Run(text, "now.strong"),), width) for text in texts]
