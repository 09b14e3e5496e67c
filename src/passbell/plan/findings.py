"""What a cook would want to know about a plan that only the plan itself shows."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from passbell.plan.model import Component, Plan

Severity = Literal["error", "warning", "note"]


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
    """What only the plan shows: layers on a tray, finishes to the plate, things never used."""
    return (*_layers(plan), *_finishes(plan), *_unused(plan))


def _layers(plan: Plan) -> Iterator[Finding]:
    """More on one tray than one layer takes; "not checked" where an area is absent."""
    for appliance in plan.appliances:
        if appliance.tray is None:
            continue
        trays: dict[str | None, list[Component]] = {}
        for component in plan.components:
            if any(step.on == appliance.name for step in component.steps):
                trays.setdefault(component.shares, []).append(component)
        for name, together in trays.items():
            areas = [c.area.cm2 for c in together if c.area is not None]
            what = f"tray “{name}”" if name else f"the tray of {appliance.name}"
            if sum(areas) > appliance.tray.cm2:
                text = f"{what}: {sum(areas):.0f} cm² of food on {appliance.tray.cm2:.0f} cm²"
                mend = "a second tray, or two rounds: name it with `shares`"
                yield Finding("warning", None, f"{text}, more than one layer", mend)
            elif areas and len(areas) < len(together):
                missing = ", ".join(c.name for c in together if c.area is None)
                text = f"{what}: one layer not checked, no `area` for {missing}"
                yield Finding("note", None, text, "")


def _finishes(plan: Plan) -> Iterator[Finding]:
    """Food that comes off the heat and that no step brings to the plate."""
    for component in plan.components:
        if component.last_cook is not None and component.steps[-1].kind in ("cook", "rest"):
            text = "no finish brings it to the plate"
            mend = 'add { finish = "onto the warm plates", time = "1 min" }'
            yield Finding("note", component.name, text, mend)


def _unused(plan: Plan) -> Iterator[Finding]:
    used = {step.on for c in plan.components for step in c.steps if step.on is not None}
    for appliance in plan.appliances:
        if appliance.name not in used:
            text = f"nothing is cooked on “{appliance.name}”"
            yield Finding("warning", None, text, "leave it out, or name it in a step's `on`")
