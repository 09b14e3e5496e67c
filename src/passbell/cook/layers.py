"""Whether everything lies in one layer while it cooks, and the ways out where it does not."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice, zip_longest

from passbell.cook.check_times import spans_of
from passbell.cook.kitchen import Habit, adjusted
from passbell.cook.prepare import prepared
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.plan.layer import Spans, covered, layers
from passbell.plan.model import Plan
from passbell.plan.room import Room, rooms_of
from passbell.plan.rounds import (
    FIRST,
    SECOND,
    on_trays,
    rounds_on_trays,
    second_tray,
    two_rounds,
)
from passbell.schedule.model import Contradiction, Schedule
from passbell.schedule.problem import problem_of
from passbell.schedule.solve import solve
from passbell.schedule.wording import listed

TRIES = 12
"""How many schedules of rounds are worked out for one component at most."""

MOST = 6
"""How many components of a tray are tried."""

LEAST_TRIES, STEPS = 4, 400
"""Schedules of one kind that are worked out at least, and steps in all of them at most: the cook
waits for the answer."""

LEAST_NODES, NODES = 40, 3000
"""Nodes that the search of one schedule may open at least, and times its steps at most."""

TRAYS = 3
"""How many trays a home oven takes at once (common practice, no source)."""

HOT = "140 °F / 60 °C or above"
"""Hot holding as the shipped limits have it."""

_SWAP = "swap the trays halfway, and look later: two trays brown more slowly"
"""Common practice, no source."""


@dataclass(frozen=True, slots=True)
class WayOut:
    """A plan in which everything lies in one layer, worked out as a schedule.

    Attributes:
        text: what is done, and what it costs.
        plan: the plan to cook instead.
        cost: by which the ways are ordered: seconds beyond the holds, of later dish-up, of waits.
    """

    text: str
    plan: Plan
    cost: tuple[int, int, int]


def too_much(state: CookState) -> tuple[str, ...]:
    """What lies on top of each other in the schedule of a cook, a sentence each; empty: nothing.

    Only what a `tray` is known of, and how much of it the food takes (`plan/room.py`), is compared;
    the rest is "not checked" (`check` says so).
    """
    found = layers(state.plan, spans_of(state.plan, state.schedule))
    return tuple(f.text for f in found if f.severity == "warning")


def ways_out(
    plan: Plan, state: CookState, serve: int | None, kitchen: tuple[Habit, ...] = ()
) -> tuple[WayOut, ...]:
    """A second tray and two rounds, each the best there is, where something is too much.

    Where neither is enough, two rounds on more trays than one. Every way is a plan whose schedule
    was worked out, and in which nothing is too much.

    Args:
        plan: as read.
        state: a cook of it before its first act.
        serve: wanted dish-up instant; None: as soon as possible.
        kitchen: what the appliances of this kitchen make of the plan's times.
    """
    full = crowded(state)
    if full is None:
        return ()
    most = max(LEAST_TRIES, STEPS // _steps(plan))
    asked = (serve, kitchen)
    trays = _best(islice(_trays(plan, full), most), state.schedule, asked)
    rounds = _best(islice(_rounds(plan, full), most), state.schedule, asked)
    both = None
    if trays is None and rounds is None:
        both = _best(islice(_both(plan, full), most), state.schedule, asked)
    return tuple(way for way in (trays, rounds, both) if way is not None)


def crowded(state: CookState) -> tuple[tuple[int, ...], float] | None:
    """The first tray that holds too much: the places of what lies on it, the smallest first.

    Returns:
        the places, and what the tray takes in cm²; None: nothing is too much.
    """
    spans, rooms = spans_of(state.plan, state.schedule), rooms_of(state.plan.components)
    for appliance in state.plan.appliances:
        trays: dict[str | None, list[int]] = {}
        for c, i in spans:
            component = state.component(c)
            if component.steps[i].on == appliance.name and rooms[c] is not None:
                trays.setdefault(component.shares, []).append(c)
        for places in trays.values():
            if appliance.tray and _fullest(rooms, places, spans) > appliance.tray.cm2:
                smallest = sorted(dict.fromkeys(places), key=lambda c: covered(rooms, (c,)))
                return tuple(smallest), appliance.tray.cm2
    return None


def _fullest(rooms: tuple[Room | None, ...], places: list[int], spans: Spans) -> float:
    mine = {where: span for where, span in spans.items() if where[0] in places}
    return max(
        covered(rooms, tuple({c for (c, _), (a, b) in mine.items() if a <= at < b}))
        for at, _ in mine.values()
    )


_Try = tuple[str, Plan]
_Full = tuple[tuple[int, ...], float]
_Asked = tuple[int | None, tuple[Habit, ...]]


def _trays(plan: Plan, full: _Full) -> Iterator[_Try]:
    """As many trays as it takes; one component moved, the smallest that is enough."""
    places, room = full
    laid_out = on_trays(plan, places, room)
    if laid_out.trays <= TRAYS:
        moved = listed(laid_out.moved)
        which = "a second tray" if laid_out.trays == 2 else "a second and a third tray"
        yield f"{moved} on {which}: {_SWAP}", laid_out.plan
    for place in places[:MOST]:
        alone = covered(rooms_of(plan.components), (place,))
        if len(places) > 1 and alone <= room:
            laid = second_tray(plan, place)
            yield f"{plan.components[place].name} on a second tray: {_SWAP}", laid


def _rounds(plan: Plan, full: _Full) -> Iterator[_Try]:
    """The ways of two rounds, by turns one of each component, then of all of them."""
    singles = [(c,) for c in full[0][:MOST]]
    every = [full[0]] if 1 < len(full[0]) <= MOST else []
    rows = [
        [
            (f"{_names(plan, chosen)} in two rounds", p)
            for p in islice(two_rounds(plan, chosen), TRIES)
        ]
        for chosen in (*singles, *every)
    ]
    for turn in zip_longest(*rows):
        yield from (one for one in turn if one is not None)


def _both(plan: Plan, full: _Full) -> Iterator[_Try]:
    """Two rounds, each on as many trays as it takes."""
    lying = [plan.components[c].name for c in full[0]]
    for text, doubled in _rounds(plan, full):
        places = [c for c, own in enumerate(doubled.components) if _stem(own.name) in lying]
        laid = rounds_on_trays(doubled, places, full[1])
        if 1 < laid.trays <= TRAYS:
            yield f"{text}, each on {laid.trays} trays: {_SWAP}", laid.plan


def _stem(name: str) -> str:
    """The name of a component before it was shared out in rounds."""
    return name.removesuffix(f", {FIRST}").removesuffix(f", {SECOND}")


def _names(plan: Plan, chosen: tuple[int, ...]) -> str:
    return listed(plan.components[c].name for c in chosen)


def _best(tries: Iterable[_Try], old: Schedule, asked: _Asked) -> WayOut | None:
    """The way that costs least; of those that cost the same, the one said in fewest words."""
    found = [way for text, plan in tries if (way := _way(text, plan, old, asked)) is not None]
    return min(found, key=lambda way: (way.cost, len(way.text))) if found else None


def _way(text: str, plan: Plan, old: Schedule, asked: _Asked) -> WayOut | None:
    """The way with its schedule worked out; None: it cannot be, or something is too much still."""
    serve, kitchen = asked
    ready = prepared(adjusted(plan, kitchen))
    effort = max(LEAST_NODES, NODES // _steps(plan))
    try:
        schedule = solve(problem_of(ready, serve), effort=effort)
    except Contradiction:
        return None
    if any(f.severity == "warning" for f in layers(ready, spans_of(ready, schedule))):
        return None
    later = schedule.dish_up - old.dish_up
    costs = [f"dish-up {spoken(later)} later" if later > 0 else "dish-up as it was"]
    if later <= 0 and schedule.start < old.start:
        costs.append(f"begun {spoken(old.start - schedule.start)} earlier")
    if schedule.over_hold > old.over_hold:
        over = spoken(schedule.over_hold - old.over_hold)
        costs.append(
            f"{over} more waiting than the holds allow: keep it at 140 °F / 60 °C or above"
        )
    if schedule.late:
        costs.append(f"{spoken(schedule.late)} late")
    cost = (schedule.over_hold, schedule.dish_up - schedule.start, schedule.wait)
    return WayOut(f"{text}; {', '.join(costs)}", plan, cost)


def _steps(plan: Plan) -> int:
    return sum(len(component.steps) for component in plan.components)
