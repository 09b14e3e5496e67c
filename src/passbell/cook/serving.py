"""Serving at another time, mid-cook: what can still be held back, what cannot, and until when."""

from dataclasses import dataclass
from typing import Literal

from passbell.cook.commands import ServeAt
from passbell.cook.neighbours import on_the_heat
from passbell.cook.preview import preview, wait_of
from passbell.cook.state import CookState

Where = Literal["free", "hot", "out"]


@dataclass(frozen=True, slots=True)
class Share:
    """What another serving time means for one component.

    Attributes:
        name: the component.
        where: free: not yet on the heat, it can be held back; hot: on the heat, it cannot; out:
            off the heat already.
        later: by how many seconds it goes on the heat later (free only).
        wait: how long it would wait between the heat and the plate, in seconds.
        over: by how many seconds that is beyond what it bears.
    """

    name: str
    where: Where
    later: int
    wait: int
    over: int


@dataclass(frozen=True, slots=True)
class ServingLater:
    """What another serving time means before it is taken.

    Attributes:
        shares: every component that is not left out and goes on the heat, in file order.
        free_until: the last instant at which everything held back here still can be: then the
            first of it goes on the heat by the present schedule; None: nothing can be any more.
        first: the component that goes on the heat then; empty: none.
    """

    shares: tuple[Share, ...]
    free_until: int | None
    first: str


def serving_later(state: CookState, command: ServeAt, now: int) -> ServingLater:
    """What serving at another time would hold back, and how long the rest would wait.

    Args:
        state: the cook.
        command: the wanted serving time.
        now: the engine instant.
    """
    seen = preview(state, command, now)
    shares = tuple(
        share
        for index in range(len(seen.before.steps))
        if (share := _share(seen.before, seen.after, index)) is not None
    )
    first = _next_in(seen.before)
    if first is None:
        return ServingLater(shares, None, "")
    index, at = first
    return ServingLater(shares, max(at, now), seen.before.component(index).name)


def _share(before: CookState, after: CookState, index: int) -> Share | None:
    component = before.component(index)
    first, last = component.first_cook, component.last_cook
    if first is None or last is None or index in before.skipped:
        return None
    wait = wait_of(after, index)
    over = max(0, wait - component.hold)
    if before.steps[index][first].began is None:
        later = after.schedule.starts[index][first] - before.schedule.starts[index][first]
        return Share(component.name, "free", later, wait, over)
    hot = on_the_heat(before, index) is not None or before.steps[index][last].ended is None
    return Share(component.name, "hot" if hot else "out", 0, wait, over)


def _next_in(state: CookState) -> tuple[int, int] | None:
    """The next component to go on the heat, and when."""
    found = [
        (state.schedule.starts[index][component.first_cook], index)
        for index, component in enumerate(state.plan.components)
        if component.first_cook is not None
        and index not in state.skipped
        and state.steps[index][component.first_cook].began is None
    ]
    return (min(found)[1], min(found)[0]) if found else None
