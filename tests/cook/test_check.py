"""Every problem of a plan before it is cooked, each with its mend. Every meal here is invented."""

from collections.abc import Iterable
from typing import Any

import pytest

from passbell.cook.check import examine
from passbell.plan.findings import Finding
from passbell.plan.model import Plan
from tests.cook.meals import CHOPS, TRAY, plan_of, step

OVEN: dict[str, Any] = {"name": "oven", "preheat": "10 min"}
STAGED = OVEN | {
    "stage": [
        {"name": "slow", "mode": "roast", "temp": "300 °F"},
        {"name": "hot", "mode": "broil", "temp": "450 °F"},
    ]
}
PLATE = step("finish", "onto the plates", "1 min")


def dish(name: str, *steps: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A component of plants that ends on the plate."""
    return {"name": name, "food": "plant", "steps": [*steps, PLATE], **more}


def baked(name: str, time: str = "20 min", **more: Any) -> dict[str, Any]:
    """A component whose only work is the oven."""
    return dish(name, step("cook", "in the oven", time, on="oven", **more))


def meal(*components: dict[str, Any], oven: dict[str, Any] = OVEN, **more: Any) -> Plan:
    """A meal from one oven."""
    data = {"title": "Invented", "serves": 2, "appliance": [oven], "component": components}
    return Plan.of(data | more)


def only(plan: Plan, serve: int | None = None) -> Finding:
    """The one finding of a plan."""
    (found,) = examine(plan, serve)
    return found


def said(found: Iterable[Finding]) -> list[tuple[str, str | None]]:
    """Severity and component of each."""
    return [(f.severity, f.component) for f in found]


def test_a_sound_plan_has_no_findings() -> None:
    assert examine(meal(baked("squash"), baked("beets", "30 min"))) == ()


def test_two_temperatures_of_one_oven_are_a_contradiction_with_both_names() -> None:
    plan = meal(baked("squash", temp="220 °C"), baked("meringue", temp="110 °C"))
    found = only(plan)
    assert (found.severity, found.component) == ("error", "squash, meringue")
    assert "220 °C" in found.text
    assert "110 °C" in found.text
    assert "oven" in found.text
    assert found.mend
    assert not found.text.endswith(".")
    assert not found.mend.endswith(".")


def test_the_same_heat_in_two_units_is_no_contradiction() -> None:
    assert examine(meal(baked("squash", temp="400 °F"), baked("beets", temp="204.4 °C"))) == ()


def test_every_step_that_no_stage_takes_is_named_not_the_first_alone() -> None:
    plan = meal(
        baked("squash", temp="220 °C"),
        baked("beets", mode="steam"),
        baked("leeks", mode="BROIL", temp="450 °F"),
        oven=STAGED,
    )
    found = examine(plan)
    assert said(found) == [("error", "squash"), ("error", "beets")]
    assert ["220 °C" in found[0].text, "steam" in found[1].text] == [True, True]


def test_a_step_longer_than_its_stage_is_an_error() -> None:
    oven = OVEN | {"stage": [{"name": "only", "time": "15 min"}]}
    found = only(meal(baked("squash", "20 min"), oven=oven))
    assert (found.severity, found.component) == ("error", "squash")
    assert "15 min" in found.text


def test_a_gap_that_the_hands_cannot_honour_is_an_error() -> None:
    pan = {"name": "pan", "holds": 1}
    busy = [
        dish(
            name,
            step("prep", "cut", "5 min", keep="0 min"),
            step("cook", "fry", "5 min", on="pan", hands="5 min", keep="0 min"),
            step("rest", "wait", "1 min", keep="0 min"),
            step("cook", "fry again", "5 min", on="pan", hands="5 min"),
        )
        for name in ("leeks", "beans")
    ]
    slack = {"slack": "2 min"}
    found = examine(meal(*busy, oven=pan, **slack))
    assert {f.severity for f in found} == {"error"}
    assert any("slack" in f.text and f.mend for f in found)


def test_more_than_one_layer_counts_only_what_is_in_together() -> None:
    first = baked("squash", "20 min", stage="slow") | {"area": "30 x 30 cm"}
    second = baked("leeks", "6 min", stage="hot") | {"area": "30 x 20 cm"}
    oven = STAGED | {"tray": "33 x 45 cm"}
    assert examine(meal(first, second, oven=oven)) == ()
    both = meal(first, baked("leeks", "20 min") | {"area": "30 x 20 cm"}, oven=oven)
    found = only(both)
    assert (found.severity, found.component) == ("warning", None)
    assert "1500 cm² of squash, leeks at once, and it has 1485" in found.text
    assert "`shares`" in found.mend


def test_one_layer_is_measured_tray_by_tray() -> None:
    oven = OVEN | {"tray": "33 x 45 cm"}
    upper = baked("squash") | {"area": "30 x 30 cm"}
    lower = baked("leeks") | {"area": "30 x 20 cm", "shares": "lower tray"}
    assert examine(meal(upper, lower, oven=oven)) == ()
    full = only(meal(upper, lower | {"area": "40 x 40 cm"}, oven=oven))
    assert "tray “lower tray” in oven" in full.text


def test_one_layer_is_not_checked_where_an_area_is_absent() -> None:
    oven = OVEN | {"tray": "33 x 45 cm"}
    found = only(meal(baked("squash") | {"area": "30 x 30 cm"}, baked("leeks"), oven=oven))
    assert (found.severity, found.text) == (
        "note",
        "the tray of oven: one layer not checked, neither `area` nor a weight with `size` for "
        "leeks",
    )
    over = meal(baked("squash") | {"area": "40 x 40 cm"}, baked("leeks"), oven=oven)
    assert said(examine(over)) == [("warning", None), ("note", None)]


def test_layers_of_a_plan_without_a_schedule_are_taken_together() -> None:
    oven = OVEN | {"tray": "10 x 10 cm"}
    one = baked("squash", temp="220 °C") | {"area": "10 x 6 cm"}
    other = baked("leeks", temp="180 °C") | {"area": "10 x 6 cm"}
    assert said(examine(meal(one, other, oven=oven))) == [
        ("error", "squash, leeks"),
        ("warning", None),
    ]


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"name": "lamb shanks"}, "lamb"),
        ({"ingredients": ["2 eggs"]}, "eggs"),
        ({"ingredients": ["1 onion", "400 g Chicken thighs"]}, "Chicken"),
    ],
)
def test_a_meat_word_without_a_food_asks_for_it(change: dict[str, Any], word: str) -> None:
    found = only(meal(baked("pie") | {"food": []} | change))
    assert found.severity == "warning"
    assert f"“{word}”" in found.text
    assert found.mend == 'add `food`, such as "poultry_pieces"'


def test_words_that_only_look_like_meat_ask_for_nothing() -> None:
    named = {"name": "cauliflower steaks", "ingredients": ["1 eggplant", "fish sauce"], "food": []}
    assert examine(meal(baked("x") | named)) == ()


def test_until_without_a_food_gives_no_verdict() -> None:
    found = only(meal(baked("loaf", until="96 °C") | {"food": []}))
    assert (found.severity, found.component) == ("warning", "loaf")
    assert "no verdict" in found.text
    assert examine(meal(baked("loaf", until="96 °C"))) == ()


# US (FoodSafety.gov): poultry 165 °F / 74 °C, pork 145 °F / 63 °C; Health Canada: pork 71 °C;
# Australia (Food Safety Information Council), the highest of the four: poultry 75 °C.
@pytest.mark.parametrize(
    ("food", "chart", "until", "minimum"),
    [
        ("poultry_pieces", "us", "160 °F", "165 °F"),
        ("poultry_pieces", "us", "164.9 °F", "165 °F"),
        ("poultry_pieces", "us", "73 °C", "74 °C"),
        ("pork_whole", "us", "62.9 °C", "63 °C"),
        ("pork_whole", "canada", "70 °C", "71 °C"),
        ("poultry_pieces", "strictest", "165 °F", "75 °C"),
    ],
)
def test_until_under_the_published_minimum_is_an_error(
    food: str, chart: str, until: str, minimum: str
) -> None:
    found = examine(meal(baked("roast", until=until) | {"food": food}, chart=chart))
    errors = [f for f in found if f.severity == "error"]
    (error,) = errors
    assert until in error.text
    assert minimum in error.text
    assert "raise `until`" in error.mend


def test_until_at_the_minimum_is_none() -> None:
    for until in ("165 °F", "74 °C"):
        assert examine(meal(baked("roast", until=until) | {"food": "poultry_pieces"})) == ()


def test_until_hotter_than_food_gets_asks_for_the_unit() -> None:
    found = only(meal(baked("roast", until="165 °C") | {"food": "poultry_pieces"}))
    assert (found.severity, found.mend) == ("warning", "did you mean 165 °F?")
    wild = only(meal(baked("roast", until="750 °C") | {"food": "poultry_pieces"}))
    assert wild.mend == "write the temperature inside the food"
    assert examine(meal(baked("caramel", until="118 °C"))) == ()
    luke = only(meal(baked("loaf", until="95 °F")))
    assert (luke.severity, luke.mend) == ("note", "did you mean 95 °C?")


def test_an_unknown_food_is_an_error_with_the_nearest_key() -> None:
    found = only(meal(baked("wings") | {"food": "poultry_peices"}))
    assert (found.severity, found.mend) == ("error", "did you mean poultry_pieces?")
    assert "“poultry_peices”" in found.text
    far = only(meal(baked("soup") | {"food": "zzz"}))
    assert "pork_whole" in far.mend


def test_a_chart_without_a_row_is_a_warning() -> None:
    rows = {
        chart: [
            f.text
            for f in examine(meal(baked("ham") | {"food": "ham_cooked_sealed"}, chart=chart))
            if "no row" in f.text
        ]
        for chart in ("us", "canada", "uk", "australia", "strictest")
    }
    assert rows["us"] == rows["strictest"] == []
    assert any(rows.values())


def test_each_of_several_foods_is_looked_at() -> None:
    plan = meal(baked("loaf", until="160 °F") | {"food": ["ground_red", "stuffing", "nonsense"]})
    found = examine(plan)
    assert [f.severity for f in found] == ["error", "error"]
    assert any("165 °F" in f.text for f in found)


def test_food_that_no_step_brings_to_the_plate_is_a_note() -> None:
    plan = meal({"name": "squash", "steps": [step("cook", "roast", "9 min", on="oven")]})
    found = only(plan)
    assert (found.severity, found.component) == ("note", "squash")
    assert found.mend.startswith("add { finish")
    rested = step("rest", "on a board", "5 min")
    plan = meal({"name": "squash", "steps": [step("cook", "roast", "9 min", on="oven"), rested]})
    assert said(examine(plan)) == [("note", "squash")]


def test_an_appliance_that_nothing_uses_is_a_warning() -> None:
    plan = meal(dish("salad", step("prep", "wash", "5 min")))
    found = only(plan)
    assert (found.severity, found.text) == ("warning", "nothing is cooked on “oven”")


def test_meat_in_a_cool_oven_gets_the_published_note() -> None:
    """FSIS: no roasting of meat or poultry under 325 °F."""
    cool = meal(baked("beef", stage="slow") | {"food": "beef_lamb_whole"}, oven=STAGED)
    (note,) = [f for f in examine(cool) if "325" in f.text]
    assert note.severity == "note"
    assert note.text.startswith("300 °F")
    hot = meal(baked("beef", stage="hot") | {"food": "beef_lamb_whole"}, oven=STAGED)
    assert [f for f in examine(hot) if "325" in f.text] == []
    across = meal(baked("beef", stage=["slow", "hot"]) | {"food": "beef_lamb_whole"}, oven=STAGED)
    assert any("325" in f.text for f in examine(across))
    asked = meal(baked("beef", temp="300 °F") | {"food": "beef_lamb_whole"})
    assert any("325" in f.text for f in examine(asked))
    assert not any(
        "325" in f.text for f in examine(meal(baked("squash", stage="slow"), oven=STAGED))
    )


def test_too_much_for_the_hands_names_who_waits_beyond_its_hold() -> None:
    fried = [
        dish(
            name,
            step("cook", "fry", "8 min", on="pan", hands="8 min"),
            hold="2 min",
        )
        for name in ("fritters", "pancakes", "rosti")
    ]
    pan = {"name": "pan"}
    found = examine(meal(*fried, oven=pan))
    assert {f.severity for f in found} == {"warning"}
    assert all("beyond its hold" in f.text and "`hands`" in f.mend for f in found)
    # Eight minutes apart behind one another: the first waits 16, the second 8 (by hand), each
    # a minute less or more by the order of the plates.
    assert len(found) == 2
    assert examine(meal(*fried, oven=pan, hands=3)) == ()


@pytest.mark.parametrize(
    ("rest", "severity"),
    [("50 min", None), ("100 min", "note"), ("110 min", "warning"), ("130 min", "error")],
)
def test_cooked_food_that_waits_two_hours_is_an_error(rest: str, severity: str | None) -> None:
    """FSIS and FoodSafety.gov: two hours, one over 90 °F; a warning from our 1 h 45 min."""
    plan = meal(dish("rice", step("cook", "boil", "9 min", on="oven"), step("rest", "x", rest)))
    found = examine(plan)
    assert [f.severity for f in found] == ([severity] if severity else [])
    for finding in found:
        wanted = "room over 90 °F (32 °C)" if severity == "note" else "2 h are the most"
        assert wanted in finding.text + finding.mend


def test_raw_meat_prepared_long_before_the_heat_goes_into_the_fridge() -> None:
    late = step("cook", "roast", "20 min", on="oven")
    marinated = dish(
        "thighs", step("prep", "rub", "5 min"), step("rest", "marinate", "40 min"), late
    )
    found = only(meal(marinated | {"food": "poultry_pieces"}))
    assert (found.severity, found.component) == ("note", "thighs")
    assert "into the fridge" in found.text
    assert "40 min" in found.text
    assert examine(meal(marinated)) == ()
    assert "into the fridge" in only(meal(marinated | {"food": "egg_dish"})).text
    assert examine(meal(marinated | {"food": "plant"})) == ()


def test_a_serving_time_plays_a_part_only_when_it_is_given() -> None:
    plan = meal(baked("squash"), serve_at="18:45")
    assert examine(plan) == ()
    assert examine(plan, 3600) == ()
    late = only(plan, 60)
    assert (late.severity, late.component) == ("error", None)
    assert "later than wanted" in late.text
    assert "squash" in late.text


def test_errors_come_first_then_warnings_then_notes() -> None:
    bare = {"name": "beets", "steps": [step("cook", "roast", "9 min", on="oven")]}
    spare = {"name": "grill"}
    data = {
        "title": "Invented",
        "serves": 2,
        "appliance": [OVEN, spare],
        "component": [bare, baked("wings") | {"food": "poultry_peices"}],
    }
    found = examine(Plan.of(data))
    assert [f.severity for f in found] == ["error", "warning", "note"]
    assert len(set(found)) == len(found)


def test_the_meals_of_the_other_tests_are_sound() -> None:
    for data in (TRAY, CHOPS):
        assert [f for f in examine(plan_of(data)) if f.severity != "note"] == []
