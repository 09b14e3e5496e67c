"""The recipe as JSON-LD, expanded by pyld and held against the vocabulary's own list of terms."""

import json
from collections.abc import Iterator
from datetime import timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from pydantic import TypeAdapter
from pyld import jsonld as reader

from passbell.export.jsonld import iso, jsonld
from passbell.export.recipe_in import read_recipe
from passbell.units import Duration
from tests.cook.meals import TRAY
from tests.export.meals import cooked, hostile, planned

SCHEMA = "https://schema.org/"
TERMS: dict[str, Any] = json.loads(
    (Path(__file__).parents[1] / "cases" / "schema_terms.json").read_text(encoding="utf-8")
)["types"]


FULL = {
    **TRAY,
    "ingredients": ["2 tbsp oil"],
    "adapted_from": "an invented leaflet",
    "component": [{**c, "ingredients": ["1 thing"]} for c in TRAY["component"]],
}
SECONDS = TypeAdapter(timedelta)
"""Pydantic's own reader of ISO 8601 durations."""


@cache
def properties(kind: str) -> frozenset[str]:
    """The properties that a type has, its own and those of the types above it."""
    above = (properties(one) for one in TERMS[kind]["under"])
    return frozenset(TERMS[kind]["properties"]).union(*above)


def expanded(text: str) -> dict[str, Any]:
    """The document as pyld expands it, with every unknown term an error."""

    def loader(url: str, options: object) -> dict[str, Any]:
        assert url.startswith("https://schema.org")
        document = {"@context": {"@vocab": SCHEMA}}
        return {"contextUrl": None, "documentUrl": url, "document": document}

    found: list[dict[str, Any]] = reader.expand(json.loads(text), {"documentLoader": loader})
    assert len(found) == 1
    return found[0]


def nodes(value: object) -> Iterator[dict[str, Any]]:
    if isinstance(value, dict):
        if "@type" in value:
            yield value
        for inner in value.values():
            yield from nodes(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from nodes(inner)


def value(node: dict[str, Any], name: str) -> Any:
    return node[SCHEMA + name][0]["@value"]


def test_every_property_is_one_that_its_type_has() -> None:
    kinds = set()
    for node in nodes(expanded(jsonld(planned(FULL)))):
        kind = node["@type"][0].removeprefix(SCHEMA)
        kinds.add(kind)
        used = {key.removeprefix(SCHEMA) for key in node if not key.startswith("@")}
        assert used <= properties(kind), kind
        assert "image" not in used
    assert kinds == {
        *("Recipe", "HowToSection", "HowToStep", "HowToDirection", "HowToTip"),
        *("HowToTool", "HowToSupply"),
    }


def test_a_step_holds_one_direction_with_its_time_and_sections_are_components() -> None:
    recipe = expanded(jsonld(planned(TRAY)))
    sections = recipe[SCHEMA + "recipeInstructions"]
    found = {value(s, "name"): s[SCHEMA + "itemListElement"] for s in sections}
    assert set(found) == {"oven", "carrots", "chicken thighs", "green beans", "To the table",
                          "Cautions"}  # fmt: skip
    assert [value(s, "position") for s in sections] == list(range(1, 7))
    times = {}
    for item in found["chicken thighs"]:
        if item["@type"] == [SCHEMA + "HowToStep"]:
            inner = item[SCHEMA + "itemListElement"]
            directions = [n for n in inner if n["@type"] == [SCHEMA + "HowToDirection"]]
            assert len(directions) == 1
            assert SCHEMA + "performTime" not in item
            direction = directions[0]
            if SCHEMA + "performTime" in direction:
                times[value(direction, "text")[:8]] = value(direction, "performTime")
    assert times == {"Prepare ": "PT4M", "When 14 ": "PT14M", "Rest chi": "PT5M"}


def test_the_times_of_the_whole_are_iso_8601() -> None:
    recipe = expanded(jsonld(planned(TRAY)))
    read = {k: SECONDS.validate_python(value(recipe, k)).total_seconds()
            for k in ("prepTime", "cookTime", "totalTime")}  # fmt: skip
    # The best schedule of this meal serves after 41 minutes; 30 of them on the heat.
    assert read == {"prepTime": 13 * 60, "cookTime": 30 * 60, "totalTime": 41 * 60}
    assert value(recipe, "recipeYield") == "2 servings"


@pytest.mark.parametrize("seconds", [1, 59, 60, 3600, 3661, 86400])
def test_durations_are_read_back_by_another_reader(seconds: int) -> None:
    assert SECONDS.validate_python(iso(seconds)).total_seconds() == seconds


@settings(max_examples=12)
@given(hostile)
def test_hostile_names_stay_inside_their_strings(data: dict[str, Any]) -> None:
    text = jsonld(planned(data))
    assert not {"<", ">", "&", "\u2028"} & set(text)
    assert value(expanded(text), "name") == planned(data).plan.title


def test_what_leaves_can_come_in_again() -> None:
    meal = cooked()
    found = read_recipe(jsonld(meal).encode())
    assert (found.title, found.serves) == ("Thighs and beans", 2)
    parts = {part.name: part for part in found.parts}
    assert {"oven", "thighs", "green beans"} <= set(parts)
    assert parts["green beans"].steps[1].time == Duration(
        meal.account.components[1].steps[1].time or 0
    )
