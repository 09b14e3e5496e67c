"""Recipes that come in: the spellings of the vocabulary, and files that are broken."""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passbell.export.recipe_in import RecipeError, read_recipe, said
from passbell.units import Duration, clean_text


def read(recipe: object) -> Any:
    return read_recipe(json.dumps(recipe).encode())


def recipe(**more: Any) -> dict[str, Any]:
    return {"@context": "https://schema.org", "@type": "Recipe", "name": "Invented soup", **more}


SECTIONS = recipe(
    recipeYield=["4", "4 servings"],
    totalTime="PT1H5M",
    cookTime="P0DT0H40M",
    tool=["pot", {"@type": "HowToTool", "name": "stick blender"}],
    recipeIngredient=["1 onion", "600 g squash, in cubes", "a pinch of salt", "pepper to taste"],
    publisher={"@type": "Organization", "name": "An invented kitchen"},
    recipeInstructions=[
        {
            "@type": "HowToSection",
            "name": "Soup",
            "itemListElement": [
                {"@type": "HowToStep", "text": "Chop the onion.", "position": 1},
                {
                    "@type": "HowToStep",
                    "itemListElement": [
                        {
                            "@type": "HowToDirection",
                            "text": "Simmer the squash until soft.",
                            "performTime": "PT25M",
                        },
                        {"@type": "HowToTip", "text": "Use a ripe squash."},
                    ],
                },
            ],
        },
        {
            "@type": ["HowToSection"],
            "name": "Croutons",
            "steps": [{"@type": "HowToStep", "text": "Toast the bread for 8–10 minutes."}],
        },
    ],
)


def test_sections_become_parts_with_their_times() -> None:
    found = read(SECTIONS)
    assert (found.title, found.serves, found.makes) == ("Invented soup", 4, "4 servings")
    assert (found.total, found.cook, found.prep) == (Duration(3900), Duration(2400), None)
    assert found.tools == ("pot", "stick blender")
    assert found.credit == "An invented kitchen"
    assert [part.name for part in found.parts] == ["Soup", "Croutons"]
    soup, croutons = found.parts
    assert [(s.text, s.time, s.kind) for s in soup.steps] == [
        ("Chop the onion.", None, "prep"),
        ("Simmer the squash until soft.", Duration(1500), "cook"),
    ]
    assert soup.notes == ("Use a ripe squash.",)
    assert croutons.steps[0].time == Duration(600)


def test_what_is_missing_is_listed_in_sentences() -> None:
    missing = read(SECTIONS).missing
    assert "How long “Chop the onion.” takes (step 1 of “Soup”)." in missing
    assert any("pepper to taste" in line and "pinch" not in line for line in missing)
    assert any("`food`" in line for line in missing)
    assert any("appliance" in line for line in missing)
    bare = read(recipe()).missing
    assert any("`serves`" in line for line in bare)
    assert "The recipe lists no ingredients." in bare
    assert any("no instructions" in line for line in bare)


def test_old_spellings_are_read() -> None:
    old = {
        "@context": "http://schema.org/",
        "@type": "http://schema.org/Recipe",
        "name": "Invented pie",
        "ingredients": ["2 eggs"],
        "steps": [{"@type": "HowToStep", "text": "Bake."}],
        "yield": "6 portions",
    }
    found = read(old)
    assert (found.serves, found.ingredients) == (6, ("2 eggs",))
    assert [s.text for s in found.parts[0].steps] == ["Bake."]


def test_a_graph_is_followed_and_prefixes_are_dropped() -> None:
    graph = {
        "@context": {"schema": "https://schema.org/"},
        "@graph": [
            {"@id": "#page", "@type": "schema:WebPage", "schema:mainEntity": {"@id": "#r"}},
            {
                "@id": "#r",
                "@type": "schema:Recipe",
                "schema:name": {"@value": "Invented bread"},
                "schema:recipeInstructions": {"@list": [{"@id": "#s"}]},
                "schema:recipeYield": {
                    "@type": "schema:QuantitativeValue",
                    "schema:value": 3,
                    "schema:unitText": "people",
                },
            },
            {"@id": "#s", "@type": "schema:HowToStep", "schema:text": "Bake 1 hour 10 minutes"},
        ],
    }  # fmt: skip
    found = read(graph)
    assert (found.title, found.serves) == ("Invented bread", 3)
    assert found.parts[0].steps[0].time == Duration(4200)


def test_text_of_a_web_page_loses_its_tags() -> None:
    found = read(recipe(recipeInstructions="<p>Chop &amp; salt.</p><p>Fry <b>gently</b> 5 min</p>"))
    steps = found.parts[0].steps
    assert [s.text for s in steps] == ["Chop & salt.", "Fry gently 5 min"]
    assert [s.time for s in steps] == [None, Duration(300)]


@pytest.mark.parametrize("text", ["PT", "P", "soon", "-PT5M", "PT0.5S", "PT900H"])
def test_a_time_that_says_nothing_is_told_and_not_invented(text: str) -> None:
    step = {"@type": "HowToStep", "text": "Stir.", "performTime": text}
    found = read(recipe(totalTime=text, recipeInstructions=[step]))
    assert found.total is None
    assert found.parts[0].steps[0].time is None
    assert len([line for line in found.missing if "no time" in line]) == 2


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Chop the onion.", "prep"),
        ("Add the rest of the oil and fry.", "cook"),
        ("Let it rest, then serve.", "rest"),
        ("Take it out of the oven.", "finish"),
        ("Serve.", "finish"),
        ("Bake until golden.", "cook"),
    ],
)
def test_what_kind_of_step_it_sounds_like(text: str, kind: str) -> None:
    assert read(recipe(recipeInstructions=[text])).parts[0].steps[0].kind == kind


def test_a_section_of_tips_alone_becomes_notes() -> None:
    tips = {"@type": "HowToSection", "name": "Tips",
            "itemListElement": [{"@type": "HowToTip", "text": "Use a big pot."}]}  # fmt: skip
    found = read(recipe(description="Good.", recipeInstructions=["Boil.", tips]))
    assert [part.name for part in found.parts] == ["Invented soup"]
    assert found.notes == "Good.\nUse a big pot."


def test_a_yield_of_things_is_not_of_people() -> None:
    found = read(recipe(recipeYield="24 biscuits"))
    assert (found.serves, found.makes) == (None, "24 biscuits")
    assert any("24 biscuits" in line for line in found.missing)


CYCLE = {
    "@graph": [
        recipe(**{"@id": "#r", "recipeInstructions": {"@id": "#a"}}),
        {"@id": "#a", "@type": "HowToSection", "itemListElement": [{"@id": "#b"}, {"@id": "#a"}]},
        {"@id": "#b", "@type": "HowToStep", "text": "Stir.", "steps": [{"@id": "#a"}]},
    ]
}
FANNED = {
    "@graph": [
        recipe(recipeInstructions={"@id": "#0"}),
        *({"@id": f"#{n}", "@type": "HowToStep", "steps": [{"@id": f"#{n + 1}"}] * 50}
          for n in range(40)),
    ]
}  # fmt: skip


@pytest.mark.parametrize("data", [CYCLE, FANNED])
def test_what_holds_itself_comes_to_an_end(data: object) -> None:
    assert read(data).title == "Invented soup"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "no JSON"),
        (b"\xff\xfe{", "UTF-8"),
        (b"<html>", "web page"),
        (b'{"@type": "Recipe", }', "line 1"),
        (b"[" * 100_000, "without end"),
        (b"[" * 500 + b"]" * 500, "without end"),
        (b'{"name": "no recipe"}', "no Recipe"),
        (b"1" * 5000, "no JSON"),
        (b" " * 2_000_001, "2 MB"),
        (json.dumps([recipe(url="a"), recipe(url="b")]).encode(), "2 recipes"),
        (json.dumps(recipe(recipeInstructions=[[[[[[[[[[[[[[["x"]]]]]]]]]]]]]]])).encode(), "end"),
    ],
)
def test_what_is_no_recipe_is_refused_with_the_mend(data: bytes, says: str) -> None:
    with pytest.raises(RecipeError) as caught:
        read_recipe(data)
    assert says in caught.value.what
    assert caught.value.mend


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("Bake for 20 to 25 minutes", 1500),
        ("Fry 30 sec, then rest 5 minutes", 30),
        ("1 hour, 30 minutes", 5400),
        ("Boil 1.5 h", 5400),
        ("a 20-minute simmer", 1200),
        ("cut into 2 halves", None),
        ("When 6 minutes remain, add them", None),
        ("When 1 hour 5 minutes remain, roast for 20 to 25 minutes", 1500),
        ("Fry; after 3 minutes turn", None),
        ("Stir every 5 minutes for 1 hour", 3600),
        ("0 minutes", None),
        ("900 hours", None),
    ],
)
def test_the_time_said_in_an_instruction(text: str, seconds: int | None) -> None:
    found = said(text)
    assert (None if found is None else int(found)) == seconds


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=12)
    | st.sampled_from(["PT", "PT5M", "HowToStep", "HowToTip", "#a", "a pinch"]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(
        st.sampled_from(["@type", "@id", "text", "name", "itemListElement", "steps", "item",
                         "performTime", "@value", "@list", "value"]), inner, max_size=4),
    max_leaves=20,
)  # fmt: skip


@settings(max_examples=25)
@given(
    st.dictionaries(
        st.sampled_from(["name", "recipeYield", "recipeIngredient", "recipeInstructions",
                         "totalTime", "tool", "publisher", "description"]), JSON)
)  # fmt: skip
def test_any_values_give_a_clean_start_or_a_refusal(values: dict[str, Any]) -> None:
    try:
        found = read({**values, "@type": "Recipe", "x": 1})
    except RecipeError:
        return
    lines = [found.title, *found.ingredients, *(s.text for p in found.parts for s in p.steps)]
    assert [line for line in lines if line != clean_text(line)] == []
    assert found.missing
