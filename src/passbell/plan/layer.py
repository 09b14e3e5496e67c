"""Whether what lies on a tray at once lies in one layer."""

from collections.abc import Iterator, Mapping

from passbell.plan.findings import Finding
from passbell.plan.model import Appliance, Plan
from passbell.plan.room import Room, rooms_of

Spans = Mapping[tuple[int, int], tuple[int, int]]
"""From when to when a step lasts, in seconds, by the places of its component and of itself."""

_Group = tuple[int, ...]
_Rooms = tuple[Room | None, ...]

MEND = "a second tray, named with `shares`, or two rounds"


def layers(plan: Plan, spans: Spans | None = None) -> tuple[Finding, ...]:
    """More on one tray at once than one layer takes; "not checked" where nothing says how much.

    Args:
        plan: the plan.
        spans: when its cook steps are in; None: taken to be in all together.
    """
    found: list[Finding] = []
    rooms = rooms_of(plan.components)
    for appliance in plan.appliances:
        trays: dict[str | None, list[tuple[int, int]]] = {}
        for c, component in enumerate(plan.components):
            on = [(c, i) for i, step in enumerate(component.steps) if step.on == appliance.name]
            trays.setdefault(component.shares, []).extend(on)
        for name, steps in trays.items():
            what = f"tray “{name}” in {appliance.name}" if name else f"the tray of {appliance.name}"
            groups = sorted(_together(steps, spans), key=lambda g: covered(rooms, g), reverse=True)
            if groups and groups[0]:
                found += _tray(plan, appliance, what, groups)
    return tuple(found)


def covered(rooms: _Rooms, places: _Group) -> float:
    """What these components take together where they are spread out, in cm²."""
    return sum(room.cm2 for c in places if (room := rooms[c]) is not None)


def _together(steps: list[tuple[int, int]], spans: Spans | None) -> set[_Group]:
    """The components that lie together, at every moment at which one comes to it."""
    if spans is None:
        return {tuple(dict.fromkeys(c for c, _ in steps))}
    return {
        tuple(dict.fromkeys(c for c, i in steps if spans[c, i][0] <= at < spans[c, i][1]))
        for at in {spans[step][0] for step in steps}
    }


def _tray(plan: Plan, appliance: Appliance, what: str, groups: list[_Group]) -> Iterator[Finding]:
    if appliance.tray is None:
        return
    rooms = rooms_of(plan.components)
    if covered(rooms, groups[0]) > appliance.tray.cm2:
        yield _too_much(plan, rooms, groups[0], (what, appliance.tray.cm2))
    lying = dict.fromkeys(c for group in groups for c in group)
    missing = [plan.components[c].name for c in lying if rooms[c] is None]
    if missing:
        text = (
            f"{what}: one layer not checked, neither `area` nor a weight with `size` "
            f"for {', '.join(missing)}"
        )
        yield Finding("note", None, text, "")
    reckoned = [_words(plan, rooms, c) for c in lying if (r := rooms[c]) and r.grounds]
    if reckoned:
        text = f"{what}: room reckoned for {', '.join(reckoned)}"
        yield Finding("note", None, text, "`area` says it for certain")


def _too_much(plan: Plan, rooms: _Rooms, places: _Group, tray: tuple[str, float]) -> Finding:
    what, has = tray
    those = [(c, room) for c in places if (room := rooms[c]) is not None]
    about = "about " if any(room.grounds for _, room in those) else ""
    names = ", ".join(plan.components[c].name for c, _ in those)
    text = (
        f"{what}: {about}{covered(rooms, places):.0f} cm² of {names} at once, and it has {has:.0f}"
    )
    if sum(room.least for _, room in those) > has:
        return Finding("warning", None, f"{text}, more than one layer", MEND)
    close = "more than one layer unless laid closely, where it steams and browns less"
    return Finding("warning", None, f"{text}, {close}", MEND)


def _words(plan: Plan, rooms: _Rooms, place: int) -> str:
    room = rooms[place]
    assert room is not None
    return f"{plan.components[place].name} ({room.cm2:.0f} cm² from {room.grounds})"
