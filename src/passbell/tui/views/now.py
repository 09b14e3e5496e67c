"""Now and the next: cues as cards, from the state."""

from collections.abc import Container
from dataclasses import replace

from passbell.cook.cards import Card as CookCard
from passbell.cook.cards import cards, is_due, waits_for_heat
from passbell.cook.cue import Cue
from passbell.cook.state import CookState
from passbell.tui.views.model import Card, CueLine, CueTone
from passbell.tui.views.rest import rest_words

LATE = 60
"""Seconds past due from which a cue is late."""

AT_WORK = {"PREPARED?": "PREPARING", "FINISHED?": "FINISHING"}
"""What stands in Now for a question while the work it asks about goes on."""

PROBE_AGAIN = "odd reading: probe again first"

FOLLOWING = 6
"""How many of the acts after Now are handed to the screen."""


def now_cards(
    state: CookState, now: int, fresh: str | None, doubted: Container[int] = ()
) -> tuple[Card, ...]:
    """What Now shows: the first card; a second one when both are due at different places.

    Args:
        state: the cook.
        now: the engine instant.
        fresh: the cue that has just become first and takes Done only in a moment; None: none.
        doubted: the components whose last reading showed more than can well be.
    """
    found = cards(state)
    shown = [c for place, c in enumerate(found[:2]) if place == 0 or c.due]
    made = tuple(_card(state, card, now, fresh) for card in shown)
    return tuple(_in_doubt(one, card, doubted) for one, card in zip(made, shown, strict=True))


def following(state: CookState, now: int) -> tuple[CueLine, ...]:
    """The next acts after those in Now, in order of time."""
    found = cards(state)
    shown = sum(1 for place, c in enumerate(found[:2]) if place == 0 or c.due)
    lines = [cue for card in found[shown:] for cue in card.lines]
    lines.sort(key=lambda cue: 0 if is_due(state, cue) else cue.at)
    return tuple(cue_line(state, cue, now, None) for cue in lines[:FOLLOWING])


def _in_doubt(made: Card, card: CookCard, doubted: Container[int]) -> Card:
    """A card that says to probe again before food comes out by a reading that can hardly be."""
    lines = tuple(
        replace(line, how=f"{PROBE_AGAIN}; {line.how}" if line.how else PROBE_AGAIN)
        if cue.key.kind == "take_out" and cue.key.owner in doubted
        else line
        for line, cue in zip(made.lines, card.lines, strict=True)
    )
    return replace(made, lines=lines)


def _card(state: CookState, card: CookCard, now: int, fresh: str | None) -> Card:
    """The lines of one card; the first counts down to when the earliest of them is due."""
    first, *others = (_at_work(cue_line(state, cue, now, fresh), cue) for cue in card.lines)
    soonest = min((first, *others), key=lambda line: line.due_in)
    first = replace(first, due_in=soonest.due_in, tone=soonest.tone)
    return Card(card.place, bool(others), (first, *others))


def _at_work(line: CueLine, cue: Cue) -> CueLine:
    """What the hands are at is no question before its time is up: "PREPARING", not "PREPARED?"."""
    verb = AT_WORK.get(cue.verb, "")
    return replace(line, verb=verb, under_way=True) if verb and line.due_in > 0 else line


def cue_line(state: CookState, cue: Cue, now: int, fresh: str | None) -> CueLine:
    """One cue as a line of the screen."""
    known = state.cue(cue.key.id)
    return CueLine(
        cue=cue.key.id,
        verb=cue.verb,
        what=cue.what,
        how=_how(state, cue, now),
        due_in=cue.at - now,
        tone=_tone(state, cue, now),
        standing=known.standing if known else "new",
        ready=cue.key.id != fresh,
        waits=waits_for_heat(state, cue),
    )


def _how(state: CookState, cue: Cue, now: int) -> str:
    """How it is done; of food that rests, first how long it still does."""
    index = cue.key.owner
    if cue.component is None or cue.key.kind not in ("finish", "rest_over"):
        return cue.how
    rests = rest_words(state, index, now)
    return "; ".join(text for text in (rests, cue.how) if text)


def _tone(state: CookState, cue: Cue, now: int) -> CueTone:
    if cue.silent or not is_due(state, cue):
        return "coming"
    return "late" if now - cue.at >= LATE else "due"
