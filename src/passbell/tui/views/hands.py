"""What the cook's hands have to do, and how long she may leave."""

from typing import NamedTuple

from passbell.cook.cards import cards, waits_for_heat
from passbell.cook.cue import Cue
from passbell.cook.cues import cues
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.tui.views.model import Hands

SOON = 60
"""Seconds before its time from which it is no question whether there is time for a prep now."""


def hands(state: CookState, now: int, slack: int) -> Hands:
    """Free or busy, until what, and what to prepare meanwhile.

    Args:
        state: the cook.
        now: the engine instant.
        slack: seconds that may be lost before dish-up moves.
    """
    wanted = [cue for cue in cues(state) if not cue.silent]
    first = _first(state, wanted)
    busy = ", ".join(_busy_with(state))
    free = None if first is None else 0 if busy else max(0, wanted[0].at - now)
    ahead = [cue for cue in wanted if cue.at > now]  # what is due stands in Now
    here = state.away is None
    prep = next((c for c in ahead if here and c.key.kind in ("prep", "finish")), None)
    work = _prepare(state, now, prep, wanted)
    return Hands(
        free=free,
        until=f"{first.verb} {first.what}" if first is not None else "",
        waits=waits_for_heat(state, first) if first is not None else "",
        busy=busy,
        prepare=work.words,
        begin=work.begin,
        doing=work.doing,
        fits=work.fits,
        before=work.before,
        slack=slack,
        away=now - state.away if state.away is not None else None,
    )


def _first(state: CookState, wanted: list[Cue]) -> Cue | None:
    """What ends her freedom: of what is due, as in Now, the one whose delay harms most."""
    due = (cue for card in cards(state) if card.due for cue in card.lines)
    return next((cue for cue in due if not cue.silent), wanted[0] if wanted else None)


def _running(state: CookState) -> list[tuple[int, int]]:
    """The preps and finishes that the hands are at."""
    return [
        (c, index)
        for c, component in enumerate(state.plan.components)
        for index, real in enumerate(state.steps[c])
        if real.running and component.steps[index].kind in ("prep", "finish")
    ]


def _busy_with(state: CookState) -> list[str]:
    dishes = state.plan.components
    return [f"{dishes[c].name}: {dishes[c].steps[index].text}" for c, index in _running(state)]


class _Work(NamedTuple):
    words: str
    begin: int
    doing: str
    fits: bool | None
    before: str = ""


def _prepare(state: CookState, now: int, prep: Cue | None, wanted: list[Cue]) -> _Work:
    """The next prep or finish, in how long it is to be begun, and whether it fits before.

    A pair of hands that is at something begins with it only when that is done. What is to be
    begun before anything else, and lasts into that, is simply next.
    """
    if prep is None:
        return _Work("", 0, "", None)
    step = state.component(prep.key.owner).steps[prep.key.item]
    other = next((c for c in wanted if c is not prep), None)
    begin = prep.at - now
    running = [state.schedule.ends[c][index] for c, index in _running(state)]
    free = now if len(running) < state.plan.hands else max(now, min(running))
    takes_hands = state.problem.works[prep.key.owner][prep.key.item].hands
    fits = None if other is None or begin < SOON else free + takes_hands <= other.at
    if other is not None and prep.at < other.at:
        fits = fits or None
    takes = f", {spoken(step.time)}" if step.time else ""
    before = "" if other is None else f"{other.verb} {other.what}"
    return _Work(f"{prep.what}{takes}", begin, step.text, fits, before)
