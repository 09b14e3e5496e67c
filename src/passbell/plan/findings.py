"""What a cook would want to know about a plan that only the plan itself shows."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from passbell.plan.model import Plan, Step
from passbell.units import Temperature

Severity = Literal["error", "warning", "note"]
HOTTEST = 300
"""What ovens and grills of a home reach, in °C (common practice, no source)."""


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
