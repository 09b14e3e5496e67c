"""Every problem a plan has before it is cooked: what `check` and the plan list say."""

from collections.abc import Iterator

from passbell.cook.engine import begin
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.plan.findings import Finding, findings
from passbell.plan.model import Component, Plan
from passbell.safety.chart import chart_rows, charts_of, falls_short
from passbell.safety.foods import PLANT, food_name, is_raw_meat, known_foods, nearest_food
from passbell.safety.meat_words import names_meat
from passbell.safety.waiting import fridge_until, oven_note, waiting_limit
from passbell.schedule.model import Contradiction


def examine(plan: Plan) -> tuple[Finding, ...]:
    """All findings of a plan, errors first.

    What only the plan shows, what the temperature charts say, and what the schedule says; a
    serving time plays no part.
    """
    found = [*findings(plan), *(f for c in plan.components for f in _food(plan, c))]
    try:
        state = begin(plan).state
    except Contradiction as error:
        names = dict.fromkeys(s.component for s in error.steps)
        found.append(Finding("error", ", ".join(names) or None, error.text, error.mend))
    else:
        found.extend(_schedule(state))
    order = ("error", "warning", "note")
    return tuple(sorted(found, key=lambda f: order.index(f.severity)))


def _food(plan: Plan, component: Component) -> Iterator[Finding]:
    """What the charts say about the food a component names, or should name."""
    for key in component.food:
        if key not in known_foods():
            near = nearest_food(key)
            hint = f"did you mean {near}?" if near else f"there are {', '.join(known_foods())}"
            yield Finding("error", component.name, f"no chart knows the food “{key}”", hint)
        elif key != PLANT and not chart_rows((key,), plan.chart):
            name = " or ".join(c.name for c in charts_of(plan.chart))
            text = f"{name} has no row for {food_name(key)}: no verdict on it"
            yield Finding("warning", component.name, text, "choose another chart, or know why")
    if not component.food:
        yield from _unnamed(component)
    for step in component.steps:
        known = [key for key in component.food if key in known_foods()]
        short = falls_short(step.until, known, plan.chart) if step.until else None
        if short is not None:
            text = f"until {step.until} is under the published minimum, {short}"
            yield Finding("error", component.name, text, "raise `until`, or leave it out")
    yield from _cool_oven(plan, component)


def _unnamed(component: Component) -> Iterator[Finding]:
    word = names_meat((component.name, *component.ingredients))
    if word is not None:
        text = f"“{word}” sounds like food with a minimum temperature, and no food is named"
        yield Finding("warning", component.name, text, 'add `food`, such as "poultry_pieces"')
    elif any(step.until for step in component.steps):
        text = "it ends by the probe, and no food is named: there will be no verdict"
        yield Finding("warning", component.name, text, 'add `food`; for vegetables "plant"')


def _cool_oven(plan: Plan, component: Component) -> Iterator[Finding]:
    """Meat in air under 325 °F."""
    if not is_raw_meat(component.food):
        return
    for step in component.steps:
        stages = [s for a in plan.appliances if a.name == step.on for s in a.stages]
        allowed = [s for s in stages if not step.stage or s.name in step.stage]
        notes = {oven_note(s.temp) for s in allowed if s.temp is not None}
        for note in sorted(notes - {""}):
            yield Finding("note", component.name, note, "")


def _schedule(state: CookState) -> Iterator[Finding]:
    """What the best schedule still leaves to be desired."""
    schedule = state.schedule
    if schedule.over_hold:
        text = f"even the best schedule lets food wait {spoken(schedule.over_hold)} beyond its hold"
        yield Finding("warning", None, text, "raise a `hold`, or give two hands")
    for index, component in enumerate(state.plan.components):
        first = component.first_cook
        if first and is_raw_meat(component.food):
            ends, starts = schedule.ends[index], schedule.starts[index]
            if fridge_until(ends[first - 1], starts[first]) is not None:
                gap = spoken(starts[first] - ends[first - 1])
                text = f"prepared {gap} before it goes on the heat: into the fridge meanwhile"
                yield Finding("note", component.name, text, "")
        last = component.last_cook
        if last is not None and component.food and component.food != ("plant",):
            wait = schedule.dish_up - schedule.ends[index][last]
            if wait >= waiting_limit():
                text = f"it waits {spoken(wait)} between the heat and the plate"
                mend = "two hours are the most for perishable food; cook it later"
                yield Finding("error", component.name, text, mend)
