"""A meal as a schema.org Recipe in JSON-LD, for a web page or another program.

Vocabulary: schema.org, types Recipe, HowToSection, HowToStep, HowToDirection, HowToTip, HowToTool
and HowToSupply. The times of a step belong to its HowToDirection; heat has no property and stays
in the text; no image is invented.
"""

import json
from typing import Any

from passbell.export.both import in_text, ingredient
from passbell.export.card import CAUTIONS, equipment, minimum_sentence
from passbell.export.meal import Meal
from passbell.export.method import Line, method
from passbell.safety.chart import chart_rows, height

NO_IMAGE = "validators of recipes ask for an `image`; add the address of yours, none is invented"
"""What to tell the cook beside every export."""

Node = dict[str, Any]
_Key = tuple[int | None, str | None]


def jsonld(meal: Meal) -> str:
    """The recipe as JSON that may also stand inside a script element of a page."""
    text = json.dumps(recipe(meal), ensure_ascii=False, indent=2)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text + "\n"


def recipe(meal: Meal) -> Node:
    """The recipe as plain data."""
    plan = meal.plan
    lines = [*plan.ingredients, *(line for _, c in _kept(meal) for line in c.ingredients)]
    people = "1 serving" if plan.serves == 1 else f"{plan.serves} servings"
    made = meal.account.made
    node: Node = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": plan.title,
        "description": " ".join([*(plan.notes or "").split(), meal.figures, *meal.sizes.split()]),
        "recipeYield": [people, made] if made else people,
        "recipeIngredient": [ingredient(line) for line in lines],
        "tool": [{"@type": "HowToTool", "name": name} for name in equipment(meal)],
        **_times(meal),
        "recipeInstructions": _sections(meal),
    }
    if plan.adapted_from:
        node["creditText"] = " ".join(plan.adapted_from.split())
    return node


def _kept(meal: Meal) -> list[tuple[int, Any]]:
    return [(i, meal.plan.components[i]) for i, _ in meal.components]


def _times(meal: Meal) -> Node:
    """Prep: the work before the heat; cook: first in to last out; total: first act to the table."""
    steps = [step for _, found in meal.components for step in found.steps]
    hot = [(meal.start(s), meal.end(s)) for s in steps if s.kind == "cook"]
    prep = sum(meal.end(s) - meal.start(s) for s in steps if s.kind == "prep")
    first = min((line.at for line in method(meal)), default=0)
    found = {"prepTime": prep, "totalTime": meal.dish_up - first}
    if hot:
        found["cookTime"] = max(end for _, end in hot) - min(start for start, _ in hot)
    return {key: iso(seconds) for key, seconds in found.items() if seconds > 0}


def iso(seconds: int) -> str:
    """A duration by ISO 8601: "PT1H5M", "PT45S"."""
    hours, rest = divmod(seconds, 3600)
    parts = ((hours, "H"), (rest // 60, "M"), (rest % 60, "S"))
    return "PT" + ("".join(f"{n}{sign}" for n, sign in parts if n) or "0S")


def _sections(meal: Meal) -> list[Node]:
    """One section a component and one an appliance, each in the order it is begun; cautions."""
    rows: dict[_Key, list[Line]] = {}
    for line in method(meal):
        rows.setdefault(_key(line), []).append(line)
    found = [(_named(meal, key), _steps(meal, key, lines)) for key, lines in rows.items()]
    found.append(("Cautions", [{"@type": "HowToTip", "text": text} for text in CAUTIONS]))
    return _placed([
        {"@type": "HowToSection", "name": name, "itemListElement": _placed(steps)}
        for name, steps in found
    ])  # fmt: skip


def _key(line: Line) -> _Key:
    return (line.component, None) if line.component is not None else (None, line.appliance)


def _named(meal: Meal, key: _Key) -> str:
    if key[0] is not None:
        return meal.plan.components[key[0]].name
    return key[1] or "To the table"


def _steps(meal: Meal, key: _Key, lines: list[Line]) -> list[Node]:
    given = False
    steps: list[Node] = []
    for line in lines:
        supply = []
        if line.component is not None and not given:
            given = True
            supply = [ingredient(i) for i in meal.plan.components[line.component].ingredients]
        tips = [{"@type": "HowToTip", "text": note} for note in line.notes]
        inside = _placed([_direction(line, supply), *tips])
        steps.append({"@type": "HowToStep", "itemListElement": inside})
    if key[0] is not None:
        steps += _about(meal, key[0])
    return steps


def _placed(nodes: list[Node]) -> list[Node]:
    return [{**node, "position": place} for place, node in enumerate(nodes, 1)]


def _direction(line: Line, supply: list[str]) -> Node:
    node: Node = {"@type": "HowToDirection", "text": line.text}
    if line.time:
        node["performTime"] = iso(line.time)
    if line.appliance:
        node["tool"] = {"@type": "HowToTool", "name": line.appliance}
    if supply:
        node["supply"] = [{"@type": "HowToSupply", "name": name} for name in supply]
    return node


def _about(meal: Meal, index: int) -> list[Node]:
    """Its minimum temperature, and what was noted in the run."""
    component = meal.plan.components[index]
    rows = sorted(chart_rows(component.food, meal.plan.chart), key=height, reverse=True)
    texts = [f"Minimum temperature: {minimum_sentence(row)}" for row in rows]
    texts += [in_text(note) for note in meal.account.components[index].notes]
    return [{"@type": "HowToTip", "text": text} for text in texts]
