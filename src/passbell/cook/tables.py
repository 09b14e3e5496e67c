"""What the engine looks up again and again about one plan: it does not change during a cook."""

from dataclasses import dataclass, field

from passbell.plan.model import ChartKey, Component, Plan
from passbell.safety.chart import chart_rows, rest_asked
from passbell.safety.foods import is_raw_meat


@dataclass(frozen=True, slots=True)
class Tables:
    """Looked up by component and step, or by appliance and stage.

    Attributes:
        machines: per component and step, the index of its appliance; None: it is on none.
        gated: per component and step, whether it ends by the probe.
        minimum: per component, whether the chart prints a minimum for it.
        last_cook: per component, the index of its last cook step; None: it has none.
        asked: per component, what the chart asks of the rest after it, in seconds.
        raw: per component, whether it counts as raw meat until it has reached its minimum.
        known: what has been worked out from the plan and from nothing else (`least`).
    """

    machines: tuple[tuple[int | None, ...], ...]
    gated: tuple[tuple[bool, ...], ...]
    minimum: tuple[bool, ...]
    last_cook: tuple[int | None, ...]
    asked: tuple[int, ...]
    raw: tuple[bool, ...]
    known: dict[object, object] = field(default_factory=dict, repr=False, compare=False)


def tables_of(plan: Plan, chart: ChartKey) -> Tables:
    """The tables of a plan that is judged by a chart."""
    minimum = tuple(_has_minimum(component, chart) for component in plan.components)
    return Tables(
        machines=tuple(_machines(plan, component) for component in plan.components),
        gated=tuple(_gated(c, m) for c, m in zip(plan.components, minimum, strict=True)),
        minimum=minimum,
        last_cook=tuple(component.last_cook for component in plan.components),
        asked=tuple(rest_asked(component.food, chart) for component in plan.components),
        raw=tuple(is_raw_meat(component.food) for component in plan.components),
    )


def _has_minimum(component: Component, chart: ChartKey) -> bool:
    return any(not row.no_figure for row in chart_rows(component.food, chart))


def _machines(plan: Plan, component: Component) -> tuple[int | None, ...]:
    return tuple(
        plan.appliance_index(step.on) if step.on is not None else None for step in component.steps
    )


def _gated(component: Component, minimum: bool) -> tuple[bool, ...]:
    return tuple(
        step.kind == "cook"
        and (step.until is not None or (minimum and index == component.last_cook))
        for index, step in enumerate(component.steps)
    )
