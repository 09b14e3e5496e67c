"""A whole plan as the text of a plan file, for plans that no cook has written down."""

from collections.abc import Iterator, Sequence

import tomlkit

from passbell.plan.model import Appliance, Component, Plan, Step
from passbell.units import clean_text
from passbell.units.base import Written

_Pair = tuple[str, object]


def plan_text(plan: Plan, comments: Sequence[str] = ()) -> str:
    """A plan as TOML 1.0; what has its default is left out. Reading it gives the plan again.

    Args:
        plan: the plan.
        comments: lines to stand above it, without their signs.
    """
    lines = [f"# {clean_text(comment)}" for comment in comments]
    lines += _lines(_top(plan))
    for appliance in plan.appliances:
        lines += ["", "[[appliance]]", *_lines(_appliance(appliance))]
        for stage in appliance.stages:
            pairs = [(key, getattr(stage, key)) for key in ("name", "mode", "temp", "time")]
            pairs.append(("spare", stage.spare or None))
            lines += ["", "  [[appliance.stage]]", *_lines(pairs, "  ")]
    for component in plan.components:
        lines += ["", "[[component]]", *_lines(_component(component)), *_steps(component)]
    return "\n".join(lines) + "\n"


def _top(plan: Plan) -> list[_Pair]:
    call = None if plan.call == Plan.model_fields["call"].default else plan.call
    return [
        ("title", plan.title),
        ("serves", plan.serves),
        ("serve_at", plan.serve_at),
        ("hands", plan.hands if plan.hands != 1 else None),
        ("slack", plan.slack or None),
        ("call", call),
        ("chart", plan.chart if plan.chart != "us" else None),
        ("notes", plan.notes),
        ("adapted_from", plan.adapted_from),
        ("ingredients", plan.ingredients or None),
    ]


def _appliance(appliance: Appliance) -> list[_Pair]:
    return [
        ("name", appliance.name),
        ("preheat", appliance.preheat or None),
        ("holds", appliance.holds),
        ("tray", appliance.tray),
        ("door", appliance.door if appliance.door != "runs" else None),
    ]


def _component(component: Component) -> list[_Pair]:
    hold = None if component.hold == Component.model_fields["hold"].default else component.hold
    keys = ("area", "piece", "shares", "size")
    return [
        ("name", component.name),
        ("food", (component.food[0] if len(component.food) == 1 else component.food) or None),
        ("ingredients", component.ingredients or None),
        ("pieces", component.pieces if component.pieces != 1 else None),
        *((key, getattr(component, key)) for key in keys),
        ("shape", component.shape if component.shape != "slab" else None),
        ("place", component.place),
        ("hold", hold),
        ("doneness", component.doneness),
        ("reckoned", component.reckoned),
    ]


def _steps(component: Component) -> Iterator[str]:
    yield "steps = ["
    yield from (f"  {_step(step)}," for step in component.steps)
    yield "]"


def _step(step: Step) -> str:
    pairs: list[_Pair] = [(step.kind, step.text), ("time", step.time)]
    pairs += [(key, getattr(step, key)) for key in ("on", "temp", "mode")]
    pairs.append(("stage", (step.stage[0] if len(step.stage) == 1 else step.stage) or None))
    pairs += [(key, getattr(step, key)) for key in ("hands", "keep", "until", "check")]
    written = [f"{key} = {_value(value)}" for key, value in pairs if value is not None]
    if step.during:
        acts = (f"{{ at = {_value(a.at)}, do = {_value(a.do)} }}" for a in step.during)
        written.append(f"during = [{', '.join(acts)}]")
    return f"{{ {', '.join(written)} }}"


def _lines(pairs: Sequence[_Pair], indent: str = "") -> list[str]:
    return [f"{indent}{key} = {_value(value)}" for key, value in pairs if value is not None]


def _value(value: object) -> str:
    if isinstance(value, int) and not isinstance(value, Written):
        return str(value)
    if isinstance(value, tuple):
        return f"[{', '.join(_value(one) for one in value)}]"
    return str(tomlkit.string(str(value)).as_string())
