"""Ways to lay food that does not fit one layer: on a second tray, or in two rounds, as a plan."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from passbell.plan.model import LONGEST_LINE, Appliance, Component, Plan, Stage, Step
from passbell.plan.room import room_of
from passbell.units import Duration, scaled_line

FIRST, SECOND = "first round", "second round"
HALF = Fraction(1, 2)


def second_tray(plan: Plan, component: int) -> Plan:
    """The plan with a component on a tray of its own."""
    own = plan.components[component]
    placed = [(component, own, 1)]
    return _laid(plan, placed, 2).plan


@dataclass(frozen=True, slots=True)
class Laid:
    """A plan whose food is laid on more trays.

    Attributes:
        plan: it.
        moved: what lies on the further trays, by name.
        trays: how many trays there are of the one that was too small.
    """

    plan: Plan
    moved: tuple[str, ...]
    trays: int


def on_trays(plan: Plan, components: Sequence[int], room: float) -> Laid:
    """The plan with these components on as many trays as they need, the largest laid first.

    What is larger than a tray is shared out in equal parts, each a component of its own; a round
    or a schedule is not changed.

    Args:
        plan: the plan.
        components: their places; all lie on one tray now, and what they take is known.
        room: what one tray takes, in cm².
    """
    return _on_trays(plan, (tuple(components),), room)


def rounds_on_trays(plan: Plan, components: Sequence[int], room: float) -> Laid:
    """A plan of two rounds with these components on trays; both rounds lie on the same ones.

    Args:
        plan: one of `two_rounds`.
        components: their places; all lie on one tray now, and what they take is known.
        room: what one tray takes, in cm².
    """
    late = tuple(c for c in components if plan.components[c].name.endswith(f", {SECOND}"))
    early = tuple(c for c in components if plan.components[c].name.endswith(f", {FIRST}"))
    both = tuple(c for c in components if c not in (*late, *early))
    return _on_trays(plan, (both, early, late), room)


def _on_trays(plan: Plan, groups: Sequence[tuple[int, ...]], room: float) -> Laid:
    """The first group lies there all the time, of the others one at a time."""
    placed: list[tuple[int, Component, int]] = []
    always: list[float] = []
    most = 0
    for number, group in enumerate(groups):
        filled = list(always)
        placed += _filled(filled, _parts(plan, group, room), room)
        most = max(most, len(filled))
        always = always if number else filled
    return _laid(plan, placed, most)


def _parts(plan: Plan, group: tuple[int, ...], room: float) -> list[tuple[int, Component]]:
    """What lies on trays, the largest first; what is larger than a tray in equal parts."""
    parts: list[tuple[int, Component]] = []
    for index in group:
        own = plan.components[index]
        count = max(1, math.ceil(_cm2(own) / room))
        while count < own.pieces and _cm2(_share(own, own.name, Fraction(1, count))) > room:
            count += 1
        names = [f"{own.name}, part {n}" for n in range(1, count + 1)]
        parts += [(index, _share(own, n, Fraction(1, count))) for n in names if count > 1]
        parts += [(index, own)] if count == 1 else []
    return sorted(parts, key=lambda part: -_cm2(part[1]))


def _filled(
    filled: list[float], parts: list[tuple[int, Component]], room: float
) -> Iterator[tuple[int, Component, int]]:
    """Each part with the first tray that has room for it; `filled` grows."""
    for index, part in parts:
        size = _cm2(part)
        tray = next((t for t, full in enumerate(filled) if full + size <= room), len(filled))
        if tray == len(filled):
            filled.append(0.0)
        filled[tray] += size
        yield index, part, tray


def _laid(plan: Plan, placed: list[tuple[int, Component, int]], count: int) -> Laid:
    taken = {c.shares for c in plan.components}
    free = (f"tray {n}" for n in range(2, 2 + count + len(taken)))
    names = [None, *[name for name in free if name not in taken][: count - 1]]
    instead: dict[int, list[Component]] = {}
    moved = []
    for index, part, tray in placed:
        if tray:
            part = part.model_copy(update={"shares": names[tray]})  # noqa: PLW2901
            moved.append(part.name)
        instead.setdefault(index, []).append(part)
    rows = [sorted(instead.get(n, [c]), key=_name) for n, c in enumerate(plan.components)]
    components = tuple(part for row in rows for part in row)
    return Laid(plan.model_copy(update={"components": components}), tuple(moved), count)


def _name(component: Component) -> str:
    return component.name


def _cm2(component: Component) -> float:
    room = room_of(component)
    return room.cm2 if room else 0.0


def two_rounds(plan: Plan, components: Sequence[int]) -> Iterator[Plan]:
    """Plans in which components are cooked in two rounds, one after the other on their appliance.

    Each round is a component of its own, with its own readings and verdict. The appliance's
    program runs the stages of the round twice, which is what keeps the rounds apart; with their
    written times, and with as long as the food needs.
    """
    places = {step.on for c in components for step in plan.components[c].steps if step.on}
    if len(places) != 1:
        return
    place = plan.appliance_index(places.pop() or "")
    appliance = _staged(plan, place)
    count = len(appliance.stages)
    for first in range(count):
        for last in range(first, count):
            for timed in (True, False):
                if timed or any(s.time is not None for s in appliance.stages[first : last + 1]):
                    yield _in_rounds(plan, components, (place, appliance), (first, last), timed)


def _staged(plan: Plan, place: int) -> Appliance:
    """The appliance with at least one stage: one without a program cooks as its food asks."""
    appliance = plan.appliances[place]
    if appliance.stages:
        return appliance
    asked = [s for c in plan.components for s in c.steps if s.on == appliance.name]
    temp = next((s.temp for s in asked if s.temp), None)
    mode = next((s.mode for s in asked if s.mode), None)
    stage = Stage(name="cook", temp=temp, mode=mode)
    return appliance.model_copy(update={"stages": (stage,)})


def _in_rounds(
    plan: Plan,
    chosen: Sequence[int],
    where: tuple[int, Appliance],
    span: tuple[int, int],
    timed: bool,
) -> Plan:
    place, appliance = where
    stages = appliance.stages
    inner = stages[span[0] : span[1] + 1]
    doubled = (
        *stages[: span[0]],
        *(_round(stage, FIRST, timed) for stage in inner),
        *(_round(stage, SECOND, timed) for stage in inner),
        *stages[span[1] + 1 :],
    )
    names = [stage.name for stage in stages]
    components: list[Component] = []
    for n, own in enumerate(plan.components):
        if n not in chosen:
            components.append(_moved(own, appliance.name, names, span))
            continue
        halves = ((_share(own, f"{own.name}, {word}", HALF), word) for word in (FIRST, SECOND))
        components += [_within(half, appliance.name, names, span, w) for half, w in halves]
    appliances = list(plan.appliances)
    appliances[place] = appliance.model_copy(update={"stages": doubled})
    update = {"appliances": tuple(appliances), "components": tuple(components)}
    return plan.model_copy(update=update)


def _round(stage: Stage, word: str, timed: bool) -> Stage:
    update: dict[str, object] = {"name": f"{stage.name}, {word}"}
    return stage.model_copy(update=update if timed else update | {"time": None})


def _moved(component: Component, on: str, names: list[str], span: tuple[int, int]) -> Component:
    """Another component of the appliance: in whichever round it may be, its heat stays its own."""
    return component.model_copy(
        update={"steps": tuple(_restaged(s, on, names, span) for s in component.steps)}
    )


def _restaged(step: Step, on: str, names: list[str], span: tuple[int, int]) -> Step:
    if step.on != on or not step.stage:
        return step
    first, last = names.index(step.stage[0]), names.index(step.stage[-1])
    if last < span[0] or first > span[1]:
        return step
    word = FIRST if span[0] == span[1] else SECOND
    begin = names[first] if first < span[0] else f"{names[first]}, {word}"
    end = names[last] if last > span[1] else f"{names[last]}, {SECOND}"
    return step.model_copy(update={"stage": (begin, end)})


def _within(
    half: Component, on: str, names: list[str], span: tuple[int, int], word: str
) -> Component:
    """One round: every time on the appliance within the stages of that round."""
    steps = []
    for step in half.steps:
        if step.on == on:
            asked = [names.index(name) for name in step.stage if name in names]
            first = max(span[0], min(asked, default=span[0]))
            last = max(first, min(span[1], max(asked, default=span[1])))
            stage = (f"{names[first]}, {word}", f"{names[last]}, {word}")
            steps.append(step.model_copy(update={"stage": stage}))
        else:
            steps.append(step)
    return half.model_copy(update={"steps": tuple(steps)})


def _share(component: Component, name: str, share: Fraction) -> Component:
    """A share of a component: of its amounts, pieces, tray and hands-on time; its heat stays.

    Args:
        component: the whole.
        name: what to call it.
        share: which part of it.
    """
    lines = tuple(scaled_line(line, share) or line for line in component.ingredients)
    return component.model_copy(
        update={
            "name": name[:LONGEST_LINE],
            "ingredients": lines,
            "area": component.area.times(share) if component.area else None,
            "pieces": math.ceil(component.pieces * share),
            "steps": tuple(_share_step(step, share) for step in component.steps),
        }
    )


def _share_step(step: Step, share: Fraction) -> Step:
    if step.kind not in ("prep", "finish"):
        return step
    time = Duration(math.ceil(step.time * share / 30) * 30)
    hands = None if step.hands is None else Duration(min(time, math.ceil(step.hands * share)))
    return step.model_copy(update={"time": time, "hands": hands})
