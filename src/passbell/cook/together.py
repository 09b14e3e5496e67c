"""Acts at one appliance a little apart that could share one opening: a proposal, never a must."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from passbell.cook.cards import ONE_OPENING, Card, cards
from passbell.cook.commands import Together
from passbell.cook.cue import OPENING_ORDER, Cue
from passbell.cook.cues import can_be_done
from passbell.cook.preview import Effect, preview
from passbell.cook.state import NEAR, CookState
from passbell.cook.wording import spoken

AHEAD = 300
"""How long before the first of them it is proposed, in seconds."""


@dataclass(frozen=True, slots=True)
class Joint:
    """Two openings of one appliance that could be one.

    Attributes:
        place: the appliance.
        at: when both would be done.
        acts: every act of it, in the order they are planned now.
        kept: the first of those that stay where they are.
        losses: what each that moves loses ("TURN carrots 1:30 earlier").
        command: what taking it says.
        effects: what it does to everything.
        delay: by how many seconds dish-up moves.
    """

    place: str
    at: int
    acts: tuple[str, ...]
    kept: str
    losses: tuple[str, ...]
    command: Together
    effects: tuple[Effect, ...]
    delay: int


def joint_openings(state: CookState, now: int, ahead: int = AHEAD) -> tuple[Joint, ...]:
    """The openings that could be one, the next first.

    Args:
        state: the cook, time having passed up to `now`.
        now: the engine instant.
        ahead: how long before the first of them it is proposed, in seconds.
    """
    found = []
    for first, second in _neighbours(state, now, ahead):
        ways = [j for j in _both_ways(state, first, second, now) if j is not None]
        if ways:
            found.append(min(ways, key=_cost))
    return tuple(sorted(found, key=lambda joint: joint.at))


def _cost(joint: Joint) -> tuple[int, int, int]:
    """Dish-up first, then how much longer anything waits, then how many acts move."""
    held = sum(max(0, effect.held) for effect in joint.effects)
    return max(0, joint.delay), held, len(joint.losses)


def _neighbours(state: CookState, now: int, ahead: int) -> Iterator[tuple[Card, Card]]:
    by_place: dict[str, list[Card]] = {}
    for card in sorted(cards(state), key=lambda card: card.at):
        if all(_at_an_opening(state, cue) for cue in card.lines):
            by_place.setdefault(card.place, []).append(card)
    for row in by_place.values():
        for first, second in pairwise(row):
            near = ONE_OPENING < second.at - max(first.at, now) <= NEAR
            if near and first.at - now <= ahead:
                yield first, second


def _at_an_opening(state: CookState, cue: Cue) -> bool:
    fit = cue.key.kind in OPENING_ORDER and not cue.key.goes_back
    return fit and can_be_done(state, cue.key)


def _both_ways(state: CookState, first: Card, second: Card, now: int) -> Iterator[Joint | None]:
    acts = (*first.lines, *second.lines)
    yield _joint(state, (first.lines, acts), second.at, now)
    yield _joint(state, (second.lines, acts), max(first.at, now), now)


def _joint(
    state: CookState, of: tuple[tuple[Cue, ...], tuple[Cue, ...]], at: int, now: int
) -> Joint | None:
    moved, acts = of
    command = Together(cues=tuple(cue.key.id for cue in moved), at=at)
    seen = preview(state, command, now)
    if seen.refusal:
        return None
    return Joint(
        place=acts[0].place,
        at=at,
        acts=tuple(f"{cue.verb} {cue.what}" for cue in acts),
        kept=next(f"{cue.verb} {cue.what}" for cue in acts if cue not in moved),
        losses=tuple(_loss(cue, at) for cue in moved),
        command=command,
        effects=seen.effects,
        delay=seen.delay,
    )


def _loss(cue: Cue, at: int) -> str:
    by = spoken(at - cue.at)
    if cue.key.kind == "take_out":
        return f"{cue.what} cooks {by} longer"
    if cue.key.kind == "add" and at < cue.at:
        return f"{cue.what} goes in {by} earlier and is held {by} longer"
    return f"{cue.verb} {cue.what} {by} {'later' if at > cue.at else 'earlier'}"
