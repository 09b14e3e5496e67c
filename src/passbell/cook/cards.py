"""Cues as the cook meets them: what belongs to one opening of an appliance stands together."""

from dataclasses import dataclass

from passbell.cook.cue import (
    HARM_ORDER,
    OF_ONE_FOOD,
    OPENING_ORDER,
    TIME_ORDER,
    Cue,
    CueKey,
    CueKind,
    standing_as,
)
from passbell.cook.cues import can_be_done, cues
from passbell.cook.latest import of_latest
from passbell.cook.state import CookState

ONE_OPENING = 60
"""Cues at one appliance within this time, in seconds, are done in one opening."""


@dataclass(frozen=True, slots=True)
class Card:
    """Cues of one moment at one place, in the order to do them.

    Attributes:
        place: the appliance, "hands" or "table".
        lines: the cues; the first is what Done does.
        at: when the first of them is due.
        due: whether one of them is due.
    """

    place: str
    lines: tuple[Cue, ...]
    at: int
    due: bool


@of_latest
def cards(state: CookState) -> tuple[Card, ...]:
    """All open cues as cards: what is due first, the one whose delay harms most at the head."""
    grouped: list[list[Cue]] = []
    for cue in cues(state):
        home = next((g for g in grouped if _together(state, g[0], cue)), None)
        if home is None:
            grouped.append([cue])
        else:
            home.append(cue)
    return tuple(
        sorted((_card(state, group) for group in grouped), key=lambda card: _urgency(state, card))
    )


def first_cue(state: CookState) -> Cue | None:
    """The cue that Done does; None: nothing is left to do."""
    found = cards(state)
    return found[0].lines[0] if found else None


def is_due(state: CookState, cue: Cue) -> bool:
    """Whether a cue has fallen due and is neither done nor put off."""
    known = state.cue(cue.key.id)
    return known is not None and known.until is None


def waits_for_heat(state: CookState, cue: Cue) -> str:
    """Until when an act not yet due waits at an appliance whose heat is off; empty: it does not."""
    stopped = {
        state.appliance(n).name for n, a in enumerate(state.appliances) if a.stopped is not None
    }
    waits = cue.place in stopped and not is_due(state, cue)
    return f"once the {cue.place} is on again" if waits else ""


def place_of(state: CookState, key: CueKey) -> str:
    """Where the act of a cue happens: an appliance, "hands" or "table"."""
    if key.of_meal:
        return "table"
    if key.of_appliance:
        return state.appliance(key.owner).name
    return state.component(key.owner).steps[key.item].on or "hands"


def _together(state: CookState, first: Cue, cue: Cue) -> bool:
    return (
        can_be_done(state, first.key)
        and can_be_done(state, cue.key)
        and first.place == cue.place
        and first.key.kind in OPENING_ORDER
        and cue.key.kind in OPENING_ORDER
        and cue.at - first.at <= ONE_OPENING
    )


def _card(state: CookState, group: list[Cue]) -> Card:
    lines = tuple(sorted(group, key=lambda cue: _in_opening(cue, group)))
    return Card(group[0].place, lines, group[0].at, any(is_due(state, c) for c in group))


def _in_opening(cue: Cue, group: list[Cue]) -> tuple[int, bool, int, int]:
    kind, stands = cue.key.kind, standing_as(cue.key.kind, _with_it(cue, group))
    place = OPENING_ORDER.index(stands or kind) if kind in OPENING_ORDER else 0
    own = 0 if stands is None else OF_ONE_FOOD.index(kind)
    return place, stands is not None, cue.key.owner, own


def _with_it(cue: Cue, group: list[Cue]) -> set[CueKind]:
    """What is done to the same food in the same opening, but for what is due after it leaves."""
    own = [c for c in group if c.key.kind in OF_ONE_FOOD and _food(c.key) == _food(cue.key)]
    leaves = [c.at for c in own if c.key.kind == "take_out"]
    return {c.key.kind for c in own if not leaves or c.at <= leaves[0]}


def _food(key: CueKey) -> tuple[int, int]:
    return key.owner, key.item


def _harm(key: CueKey) -> int:
    """Food that came out too early is as urgent as food that has to come out."""
    return HARM_ORDER.index("take_out" if key.goes_back else key.kind)


def _urgency(state: CookState, card: Card) -> tuple[int, int, int]:
    """Due before coming; a silent expectation never stands before a cue that is due."""
    harm = min(_harm(c.key) for c in card.lines)
    if card.due and not card.lines[0].silent:
        return 0, harm, card.at
    order = min(TIME_ORDER.index(c.key.kind) for c in card.lines)
    order += 0 if can_be_done(state, card.lines[0].key) else len(TIME_ORDER)
    return (1, 0, card.at) if card.due else (2, card.at, order)
