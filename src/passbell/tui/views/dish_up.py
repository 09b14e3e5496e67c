"""Dish-up: planned, expected, and what the difference comes from."""

from collections.abc import Callable, Iterator

from passbell.cook.cards import is_due
from passbell.cook.cues import cues
from passbell.cook.state import CookState
from passbell.cook.wording import spoken, to_the_minute
from passbell.tui.views.model import DishUp

DAY = 24 * 60
"""Minutes."""

NOTABLE = 30
"""A difference below this, in seconds, needs no reason."""


def dish_up(state: CookState, now: int, local: Callable[[int], str]) -> DishUp:
    """Dish-up as planned and as expected.

    Until it is served, what is expected is told in whole minutes from what was planned, rounded
    as each component's are, so that the top line and the rows say the same.

    Args:
        state: the cook.
        now: the engine instant.
        local: from an engine instant to the local time ("18:45").
    """
    planned = state.first.dish_up
    expected = state.served if state.served is not None else state.schedule.dish_up
    drift = expected - planned
    told = expected if state.served is not None else planned + to_the_minute(drift)
    shown = local(planned), local(told)
    return DishUp(
        planned=shown[0],
        expected=shown[1],
        expected_in=expected - now,
        served=state.served is not None,
        minutes=_apart(*shown, drift),
        drift=drift,
        reason=reason(state, now, sooner=drift < 0) if abs(drift) >= NOTABLE else "",
    )


def _apart(planned: str, expected: str, drift: int) -> int:
    """Minutes between two local times, that nearest to the drift in seconds: as a cook reckons."""
    hours, minutes = (
        int(b) - int(a) for a, b in zip(planned.split(":"), expected.split(":"), strict=True)
    )
    shown = hours * 60 + minutes
    return shown + round((drift / 60 - shown) / DAY) * DAY


def reason(state: CookState, now: int, *, sooner: bool = False) -> str:
    """What cost most time, or what saved most, in a few words; empty: nothing is known."""
    found = max(_gains(state) if sooner else _causes(state, now), default=(0, ""))
    return found[1] if found[0] >= NOTABLE else ""


def _causes(state: CookState, now: int) -> Iterator[tuple[int, str]]:
    if state.serve is not None and state.serve > state.first.dish_up:
        yield state.serve - state.first.dish_up, "served later as you asked"
    if state.away is not None:
        yield now - state.away, f"away for {spoken(now - state.away)}"
    for index, appliance in enumerate(state.appliances):
        if appliance.stopped is not None:
            off = now - appliance.stopped
            yield off, f"{state.appliance(index).name}: heat off for {spoken(off)}"
    for cue in cues(state):
        if is_due(state, cue) and now > cue.at and not cue.silent:
            late = now - cue.at
            yield late, f"{cue.verb} {cue.what} is {spoken(late)} late"
    yield from _overruns(state, now)


def _overruns(state: CookState, now: int) -> Iterator[tuple[int, str]]:
    for index, component in enumerate(state.plan.components):
        for place, real in enumerate(state.steps[index]):
            if real.began is None:
                continue
            taken = (real.ended if real.ended is not None else now) - real.began
            over = max(taken - component.steps[place].time, real.extra)
            if over > 0 and component.steps[place].kind != "rest":
                yield over, f"{component.name} took {spoken(over)} longer"


def _gains(state: CookState) -> Iterator[tuple[int, str]]:
    """What lets the meal be served sooner than planned."""
    if state.serve is not None and state.serve < state.first.dish_up:
        yield state.first.dish_up - state.serve, "served sooner as you asked"
    for index, component in enumerate(state.plan.components):
        for place, real in enumerate(state.steps[index]):
            if real.ended is None or component.steps[place].kind == "rest":
                continue
            under = state.first.ends[index][place] - real.ended
            if under > 0:
                yield under, f"{component.name}: ready {spoken(under)} sooner"
