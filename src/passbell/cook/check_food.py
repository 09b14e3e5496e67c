"""What the published charts say about the foods of a plan."""

from collections.abc import Iterator

from passbell.plan.findings import Finding
from passbell.plan.model import Component, Plan, Step
from passbell.safety.chart import chart_rows, charts_of, falls_short
from passbell.safety.exact import exact
from passbell.safety.foods import PLANT, food_name, is_raw_meat, known_foods, nearest_food
from passbell.safety.meat_words import names_meat
from passbell.safety.point import is_impossible
from passbell.safety.shipped import table
from passbell.safety.waiting import oven_note
from passbell.units import Temperature, quoted

_LUKEWARM = table().thermometer.unit_question_f


def food_findings(plan: Plan) -> Iterator[Finding]:
    """What the charts say about the food that each component names, or should name."""
    for component in plan.components:
        yield from _named(plan, component)
        if not component.food:
            yield from _unnamed(component)
        for step in component.steps:
            if step.until is not None:
                yield from _until(plan, component, step.until)
        yield from _cool_oven(plan, component)


def unjudged(plan: Plan) -> Iterator[Finding]:
    """Food that is, or may be, without a verdict all through the cook."""
    for component in plan.components:
        found = _named(plan, component) if component.food else _unnamed(component)
        yield from found


def _named(plan: Plan, component: Component) -> Iterator[Finding]:
    for key in component.food:
        if key not in known_foods():
            near = nearest_food(key)
            hint = f"did you mean {near}?" if near else f"there are {', '.join(known_foods())}"
            yield Finding("error", component.name, f"no chart knows the food {quoted(key)}", hint)
        elif key != PLANT:
            yield from _rowless(plan, component, key)


def _rowless(plan: Plan, component: Component, key: str) -> Iterator[Finding]:
    """A food that the plan's chart, or every chart, has no row for."""
    if chart_rows((key,), plan.chart):
        return
    name = " or ".join(chart.name for chart in charts_of(plan.chart))
    text = f"{name} has no row for {food_name(key)}: no verdict on it"
    yield Finding("warning", component.name, text, "choose another chart, or know why")


def _unnamed(component: Component) -> Iterator[Finding]:
    word = names_meat((component.name, *component.ingredients))
    if word is not None:
        text = f"{quoted(word)} sounds like food with a minimum temperature, and no food is named"
        yield Finding("warning", component.name, text, 'add `food`, such as "poultry_pieces"')
    elif any(step.until for step in component.steps):
        text = "it ends by the probe, and no food is named: there will be no verdict"
        yield Finding("warning", component.name, text, 'add `food`; for vegetables "plant"')


def _until(plan: Plan, component: Component, until: Temperature) -> Iterator[Finding]:
    """A probe temperature under the chart, or one that no probe shows in food."""
    known = [key for key in component.food if key in known_foods()]
    short = falls_short(until, known, plan.chart)
    if short is not None:
        text = f"until {until} is under the published minimum, {short}"
        mend = "raise `until`, or leave it out: the chart's minimum then ends the step"
        yield Finding("error", component.name, text, mend)
    elif is_impossible(exact(until.value), until.scale) and known and known != [PLANT]:
        text = f"until {until} is hotter than food gets"
        yield Finding("warning", component.name, text, _meant(until))
    elif until.scale == "F" and _LUKEWARM[0] <= until.value <= _LUKEWARM[1]:
        yield Finding("note", component.name, f"until {until} is lukewarm", _meant(until))


def _meant(until: Temperature) -> str:
    """The number in the other unit, where it makes sense of food."""
    other = Temperature(until.value, "C" if until.scale == "F" else "F")
    if is_impossible(exact(other.value), other.scale):
        return "write the temperature inside the food"
    return f"did you mean {other}?"


def _cool_oven(plan: Plan, component: Component) -> Iterator[Finding]:
    """Meat in air under 325 °F."""
    if not is_raw_meat(component.food):
        return
    for step in component.steps:
        notes = {oven_note(heat) for heat in _heats(plan, step)}
        for note in sorted(notes - {""}):
            yield Finding("note", component.name, note.rstrip("."), "")


def _heats(plan: Plan, step: Step) -> Iterator[Temperature]:
    """The temperatures it may meet: what it asks for, else what its stages have."""
    if step.temp is not None:
        yield step.temp
        return
    stages = [stage for a in plan.appliances if a.name == step.on for stage in a.stages]
    names = [stage.name for stage in stages]
    ends = [names.index(name) for name in step.stage if name in names]
    for stage in stages[min(ends) : max(ends) + 1] if ends else stages:
        if stage.temp is not None:
            yield stage.temp
