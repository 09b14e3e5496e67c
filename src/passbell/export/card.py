"""The recipe card in Markdown (CommonMark): a meal written out for someone else's kitchen."""

import re
from collections.abc import Iterator

from passbell.export.both import in_text, ingredient, printed_minimum, rest_printed
from passbell.export.meal import Meal
from passbell.export.method import Line, method
from passbell.plan.model import Component
from passbell.safety.cautions import (
    CARRY_OVER,
    MARINADE,
    PACKAGE,
    SHARED_TRAY,
    THAW,
)
from passbell.safety.chart import ChartRow, chart_rows, charts_of, height
from passbell.safety.foods import PLANT, food_name, is_raw_meat

CAUTIONS = (
    "A chart minimum counts at the spots that were probed. It says nothing about colder spots, "
    "storage or hands.",
    PACKAGE,
    "Cooking for someone pregnant, very young, older or unwell? Some foods (rare meat, runny egg, "
    "raw shellfish) are advised against for them at any number: follow their health service.",
    "Feeding the public? Your local food code and a licensed professional decide, not this card.",
    "Perishable food is not outside the fridge for more than two hours in all, one hour where it "
    "is hotter than 90 °F (32 °C).",
)
"""What every card ends with."""

_MARKUP = re.compile(r"([\\`*_\[\]<>&~|$])")
_START = re.compile(r"^([-+#=>]|[0-9]{1,9}(?=[.)]))")


def escaped(text: str) -> str:
    """A line of text in which nothing acts as Markdown or HTML.

    A backslash stands before each sign that is markup anywhere, and before what begins a block
    where a line or an item begins; an address is no link.
    """
    text = _MARKUP.sub(r"\\\1", text).replace("://", r"\://").replace("www.", r"www\.")
    match = _START.match(text)
    if match is None:
        return text
    if match[1][0].isdecimal():
        return f"{match[1]}\\{text[match.end() :]}"
    return f"\\{text}"


def card(meal: Meal) -> str:
    """The whole card."""
    return "\n".join([*_head(meal), *_ingredients(meal), *_equipment(meal), *_method(meal),
                      *_temperatures(meal), *_notes(meal), *_cautions(meal)]) + "\n"  # fmt: skip


def _head(meal: Meal) -> Iterator[str]:
    yield f"# {escaped(meal.plan.title)}"
    yield ""
    people = "1 person" if meal.plan.serves == 1 else f"{meal.plan.serves} people"
    made = f" It made {escaped(meal.account.made)}." if meal.account.made else ""
    yield f"For {people}.{made} {escaped(meal.figures)}"
    yield ""


def _ingredients(meal: Meal) -> Iterator[str]:
    """Lines in the order in which their components are begun; those of several components first."""
    yield "## Ingredients, in order of use"
    yield ""
    several = [escaped(ingredient(line)) for line in meal.plan.ingredients]
    yield from (f"- {line} (for several)" for line in several)
    order = dict.fromkeys(line.component for line in method(meal) if line.component is not None)
    for index in order:
        component = meal.plan.components[index]
        for line in component.ingredients:
            yield f"- {escaped(ingredient(line))} ({escaped(component.name)})"
    if not several and not any(meal.plan.components[i].ingredients for i in order):
        yield "- The plan lists none."
    yield ""


def _equipment(meal: Meal) -> Iterator[str]:
    yield "## Equipment"
    yield ""
    for appliance in equipment(meal):
        yield f"- {escaped(appliance)}"
    yield ""


def equipment(meal: Meal) -> tuple[str, ...]:
    """What is needed besides knives and boards, plain text: appliances, trays, thermometer."""
    found = []
    for appliance in meal.plan.appliances:
        tray = f", tray {appliance.tray}" if appliance.tray else ""
        found.append(f"{appliance.name}{tray}")
    shared = dict.fromkeys(c.shares for c in meal.plan.components if c.shares)
    found += [f"tray “{name}”" for name in shared]
    if any(_probed(c, meal) for c in meal.plan.components):
        found.append("probe thermometer")
    return tuple(found)


def _probed(component: Component, meal: Meal) -> bool:
    rows = chart_rows(component.food, meal.plan.chart)
    return any(step.until for step in component.steps) or any(not r.no_figure for r in rows)


def _method(meal: Meal) -> Iterator[str]:
    yield "## Method"
    yield ""
    yield "A range of time begins with the first look or the shorter time, and ends with the longer"
    yield "one. It is done when the words or the thermometer say so, not when the time is up."
    yield ""
    for number, line in enumerate(_joined(method(meal)), 1):
        yield f"{number}. {escaped(line.text)}{_after(meal, line)}"
        yield from (f"   - {escaped(note)}" for note in line.notes)
    yield ""


def _after(meal: Meal, line: Line) -> str:
    """Clean hands after raw meat went anywhere."""
    if line.component is None or line.kind not in ("prep", "add"):
        return ""
    raw = is_raw_meat(meal.plan.components[line.component].food)
    return " Wash your hands." if raw else ""


def _joined(lines: tuple[Line, ...]) -> list[Line]:
    """Several that leave one appliance at once are one act."""
    found: list[Line] = []
    names: list[str] = []
    for line in lines:
        last = found[-1] if found else None
        if (
            last is not None
            and line.kind == last.kind == "take_out"
            and (line.appliance, line.at) == (last.appliance, last.at)
        ):
            names.append(_name(line))
            many = f"{', '.join(names[:-1])} and {names[-1]}"
            text = f"Take {many} off the heat ({line.appliance})."
            found[-1] = Line(line.at, "take_out", text, "", None, line.appliance)
        else:
            names = [_name(line)]
            found.append(line)
    return found


def _name(line: Line) -> str:
    return line.short.removesuffix(" out")


def _temperatures(meal: Meal) -> Iterator[str]:
    """What the chart prints for each food, with its source, and what the run's readings said."""
    every = [(i, meal.plan.components[i]) for i, _ in meal.components]
    named = [(i, c) for i, c in every if c.food and c.food != (PLANT,)]
    if not named:
        return
    yield "## Minimum temperatures"
    yield ""
    for index, component in named:
        rows = sorted(chart_rows(component.food, meal.plan.chart), key=height, reverse=True)
        for row in rows:
            yield f"- {escaped(component.name)}: {escaped(minimum_sentence(row))}"
        if not rows:
            charts = " or ".join(chart.name for chart in charts_of(meal.plan.chart))
            yield f"- {escaped(component.name)}: no minimum for it in {escaped(charts)}."
        if meal.run is not None:
            said = meal.account.components[index]
            words = f"“{said.verdict}”. {said.sentence}" if said.verdict else "none."
            yield f"  - Verdict on the readings of the run: {escaped(words)}"
    yield ""


def minimum_sentence(row: ChartRow) -> str:
    """What a chart prints for a food: figure, rest, name and source, in one sentence."""
    rest = rest_printed(row)
    general = " (its general row)" if row.general else ""
    return (
        f"{printed_minimum(row)} at the thickest part for {food_name(row.food)}{general}"
        f"{', ' + rest if rest else ''}; {row.chart.name}, {row.row.source}."
    )


def _notes(meal: Meal) -> Iterator[str]:
    lines = [meal.sizes] if meal.sizes else []
    lines += [in_text(line) for line in (meal.plan.notes or "").splitlines() if line]
    if meal.plan.adapted_from:
        lines.append(f"Adapted from: {' '.join(meal.plan.adapted_from.splitlines())}")
    if not lines:
        return
    yield "## Notes"
    yield ""
    yield from (f"- {escaped(line)}" for line in lines)
    yield ""


def _cautions(meal: Meal) -> Iterator[str]:
    yield "## Cautions"
    yield ""
    foods = [c for c in meal.plan.components if is_raw_meat(c.food)]
    lines = list(CAUTIONS)
    if foods:
        lines += [CARRY_OVER, THAW, MARINADE]
    if any(_shares(meal, c) for c in foods):
        lines.append(SHARED_TRAY)
    yield from (f"- {escaped(line)}" for line in lines)


def _shares(meal: Meal, meat: Component) -> bool:
    """Whether anything else lies on its tray."""
    places = {step.on for step in meat.steps if step.on}
    return any(
        other is not meat and other.shares == meat.shares and step.on in places
        for other in meal.plan.components
        for step in other.steps
    )
