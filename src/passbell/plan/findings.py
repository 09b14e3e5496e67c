"""What a cook would want to know about a plan that only the plan itself shows."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from passbell.plan.model import Appliance, Component, Plan, Step
from passbell.units import Temperature

Severity = Literal["error", "warning", "note"]
HOTTEST = 300
"""What ovens and grills of a home reach, in °C (common practice, no source)."""
Spans = Mapping[tuple[int, int], tuple[int, int]]
"""From when to when a step lasts, in seconds, by the places of its component and of itself."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something found in a plan.

    Attributes:
        severity: error (it cannot be cooked so), warning (it should not), note (good to know).
        component: whose; None: the whole plan's.
        text: what was found.
        mend: what to change; may be empty.
    """

    severity: Severity
    component: str | None
    text: str
    mend: str


def findings(plan: Plan) -> tuple[Finding, ...]:
    """What the plan shows without its times: order of steps, things never used, odd heat."""
    return (*_order(plan), *_finishes(plan), *_unused(plan), *_heat(plan))


def layers(plan: Plan, spans: Spans | None = None) -> tuple[Finding, ...]:
    """More on one tray at once than one layer takes; "not checked" where an area is absent.

    Args:
        plan: the plan.
        spans: when its cook steps are in; None: taken to be in all together.
    """
    found: list[Finding] = []
    for appliance in plan.appliances:
        trays: dict[str | None, list[tuple[int, int]]] = {}
        for c, component in enumerate(plan.components):
            on = [(c, i) for i, step in enumerate(component.steps) if step.on == appliance.name]
            trays.setdefault(component.shares, []).extend(on)
        for name, steps in trays.items():
            found += _tray(plan, appliance, name, _fullest(plan, steps, spans))
    return tuple(found)


def _fullest(
    plan: Plan, steps: list[tuple[int, int]], spans: Spans | None
) -> tuple[tuple[Component, ...], ...]:
    """The components that lie together: at the fullest moment, and at all others."""
    if spans is None:
        return (tuple(plan.components[c] for c in dict.fromkeys(c for c, _ in steps)),)
    moments = {spans[step][0] for step in steps}
    groups = {
        tuple(dict.fromkeys(c for c, i in steps if spans[c, i][0] <= at < spans[c, i][1]))
        for at in moments
    }
    together = [tuple(plan.components[c] for c in group) for group in groups]
    return tuple(sorted(together, key=_covered, reverse=True))


def _covered(together: tuple[Component, ...]) -> float:
    return sum(c.area.cm2 for c in together if c.area is not None)


def _tray(
    plan: Plan, appliance: Appliance, name: str | None, groups: tuple[tuple[Component, ...], ...]
) -> Iterator[Finding]:
    if appliance.tray is None or not groups:
        return
    what = f"tray “{name}” in {appliance.name}" if name else f"the tray of {appliance.name}"
    most = _covered(groups[0])
    if most > appliance.tray.cm2:
        names = ", ".join(c.name for c in groups[0] if c.area is not None)
        text = f"{what}: {most:.0f} cm² of {names} at once, and it has {appliance.tray.cm2:.0f}"
        mend = "a second tray, or two rounds: name it with `shares`"
        yield Finding("warning", None, f"{text}, more than one layer", mend)
    lying = {c.name for group in groups for c in group}
    missing = [c.name for c in plan.components if c.name in lying and c.area is None]
    if missing:
        text = f"{what}: one layer not checked, no `area` for {', '.join(missing)}"
        yield Finding("note", None, text, "")


def _order(plan: Plan) -> Iterator[Finding]:
    """A finish before the heat, a prep after it, a gap that nothing comes behind."""
    for component in plan.components:
        first, last = component.first_cook, component.last_cook
        for index, step in enumerate(component.steps):
            if step.kind == "finish" and last is not None and index < last:
                text = f"“{step.text}” is a finish and comes before the heat"
                yield Finding("warning", component.name, text, "write it as prep")
            if step.kind == "prep" and first is not None and last is not None and index > last:
                text = f"“{step.text}” is a prep and comes after the heat"
                yield Finding("warning", component.name, text, "write it as finish")
        if component.steps[-1].keep is not None:
            text = "`keep` of the last step says nothing: no step comes after it"
            yield Finding("note", component.name, text, "`hold` says how long it may wait")


def _finishes(plan: Plan) -> Iterator[Finding]:
    """Food that comes off the heat and that no step brings to the plate."""
    for component in plan.components:
        if component.last_cook is not None and component.steps[-1].kind in ("cook", "rest"):
            text = "no finish brings it to the plate"
            mend = 'add { finish = "onto the warm plates", time = "1 min" }'
            yield Finding("note", component.name, text, mend)


def _unused(plan: Plan) -> Iterator[Finding]:
    for appliance in plan.appliances:
        steps = [step for c in plan.components for step in c.steps if step.on == appliance.name]
        if not steps:
            text = f"nothing is cooked on “{appliance.name}”"
            yield Finding("warning", None, text, "leave it out, or name it in a step's `on`")
            continue
        names = [stage.name for stage in appliance.stages]
        used = {name for step in steps for name in _within(step, names)}
        for name in names:
            if name not in used:
                text = f"no food may be in {appliance.name} during its stage “{name}”"
                yield Finding("note", None, text, "leave it out, or name it in a step's `stage`")


def _within(step: Step, names: list[str]) -> list[str]:
    """The stages that a step may be in."""
    places = [names.index(name) for name in step.stage if name in names]
    return names[min(places) : max(places) + 1] if places else names


def _heat(plan: Plan) -> Iterator[Finding]:
    """A setting that few kitchens reach is most often one unit written for the other."""
    asked: list[tuple[str | None, str | None, Temperature | None]] = []
    asked += [(None, a.name, stage.temp) for a in plan.appliances for stage in a.stages]
    asked += [(c.name, step.on, step.temp) for c in plan.components for step in c.steps]
    for component, on, temp in asked:
        if temp is not None and temp.celsius > HOTTEST:
            text = f"{temp} on {on} is hotter than most kitchens get"
            mend = f"did you mean {temp.value:g} °F?" if temp.scale == "C" else ""
            yield Finding("note", component, text, mend)
