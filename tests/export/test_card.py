"""The recipe card, read by a CommonMark reader that is not ours (markdown-it-py)."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings

from passbell.export.both import in_text, ingredient, length, temperature
from passbell.export.card import card, escaped
from passbell.export.method import long_words, method, range_words
from passbell.units import Length, Temperature
from tests.cook.meals import CHOPS, TRAY
from tests.export.meals import cooked, hostile, names, planned
from tests.export.readers import MARKDOWN, PARTS, tokens


def items(text: str, heading: str) -> list[str]:
    """The list items under a heading, as the reader shows their text."""
    under, found = "", []
    parsed = MARKDOWN.parse(text)
    for place, token in enumerate(parsed):
        if token.type == "inline":
            shown = "".join(c.content for c in token.children or [] if c.type == "text")
            if parsed[place - 1].type == "heading_open":
                under = shown
            elif under.startswith(heading):
                found.append(shown)
    return found


def test_the_method_is_in_the_order_of_work_with_the_stagger_in_words() -> None:
    steps = items(card(planned(TRAY)), "Method")
    add = next(s for s in steps if ": left side" in s)
    assert add.startswith("When 12 minutes remain of the oven's time, add green beans to the oven")
    assert "9 to 12 minutes" in add
    carrots = next(n for n, s in enumerate(steps) if "add carrots" in s)
    assert carrots < steps.index(add)
    assert steps[carrots].startswith("When 35 minutes remain until dishing up, add carrots")
    assert steps[-1] == "Dish up."


def test_the_chart_minimum_stands_with_its_rest_and_source() -> None:
    found = items(card(planned(CHOPS)), "Minimum temperatures")
    # FSIS, Safe Minimum Internal Temperature Chart: pork chops 145 °F (63 °C), rest 3 minutes.
    assert found == [
        "pork chops: 145 °F / 63 °C at the thickest part for pork in whole cuts, then rest at "
        "least 3 minutes before cutting; United States, home cooks, FSIS; FoodSafety.gov."
    ]
    strict = items(card(planned({**CHOPS, "chart": "strictest"})), "Minimum temperatures")
    assert len(strict) == 4
    assert any("Canada" in line and "71 °C" in line for line in strict)


def test_no_probe_temperature_is_printed_under_the_minimum_of_the_chart() -> None:
    """Pork chops: US 63 °C (FSIS), as the plan says; Canada 71 °C (Health Canada)."""
    assert "until the probe reads 63 °C" in card(planned(CHOPS))
    found = card(planned({**CHOPS, "chart": "canada"}))
    assert "until the probe reads 160 °F / 71 °C" in found
    assert "63 °C" not in found


def test_it_says_whose_figures_they_are() -> None:
    assert "those of the plan" in card(planned(TRAY))
    found = card(cooked())
    assert "those of run 1 (as cooked)" in found
    assert "30 to 33 minutes" in found.replace("\\", "")
    assert "“met”" in found


def test_a_run_without_readings_says_so_beside_the_minimum() -> None:
    found = card(cooked("", rehearsal=True))
    assert "(a rehearsal, nothing was cooked)" in found.replace("\\", "")
    assert "“incomplete”" in found


def test_raw_meat_brings_clean_hands_and_cautions() -> None:
    found = card(planned(TRAY))
    assert found.count("Wash your hands.") == 2
    assert "tongs and plate" in found
    assert "Wash your hands." not in card(planned({**TRAY, "component": TRAY["component"][:1]}))


def test_what_was_left_out_is_not_printed_and_its_appliance_does_no_harm() -> None:
    meal = planned(CHOPS)
    chops = replace(meal.account.components[0], skipped=True)
    account = replace(meal.account, components=(chops, *meal.account.components[1:]))
    found = items(card(replace(meal, account=account)), "Method")
    assert not any("pork" in line for line in found)
    assert any("add rice to the back burner" in line for line in found)


@settings(max_examples=12)
@given(hostile)
def test_hostile_names_are_text_and_nothing_else(data: dict[str, Any]) -> None:
    meal = planned(data)
    kinds = {token.type for token in tokens(card(meal))}
    assert kinds <= PARTS
    shown = items(card(meal), "Method")
    texts = [line.text for line in method(meal) if line.kind == "prep"]
    assert [t for t in texts if t not in {s.removesuffix(" Wash your hands.") for s in shown}] == []


@settings(max_examples=60)
@given(names)
def test_escaping_shows_every_sign_as_typed(text: str) -> None:
    for before in ("", "# ", "- ", "1. "):
        parsed = MARKDOWN.parse(f"{before}{escaped(text)}\n")
        inline = [token for token in parsed if token.type == "inline"]
        assert len(inline) == 1
        assert "".join(c.content for c in inline[0].children or []) == text


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("400 °F", "400 °F (205 °C)"),
        ("200 °C", "200 °C (390 °F)"),
        ("75 °C", "75 °C (167 °F)"),
        ("74 °C", "74 °C (166 °F)"),  # 165.2: never rounded to less
        ("165 °F", "165 °F (74 °C)"),
    ],
)
def test_temperatures_in_both_units(text: str, wanted: str) -> None:
    assert temperature(Temperature.parse(text)) == wanted


def test_lengths_and_amounts_in_both_units() -> None:
    assert length(Length.parse("25 mm")) == "25 mm (1 in)"
    assert length(Length.parse("1 1/2 in")) == "1 1/2 in (38 mm)"
    assert ingredient("2 tbsp of oil") == "2 tbsp (30 ml) of oil"
    assert ingredient("350 g potatoes, in 25 mm wedges") == (
        "350 g (12 1/4 oz) potatoes, in 25 mm (1 in) wedges"
    )
    assert in_text("75 °C in each") == "75 °C (167 °F) in each"
    assert in_text("a 20 x 15 cm tray at 180 °C (350 °F)") == "a 20 x 15 cm tray at 180 °C (350 °F)"


def test_lengths_of_time_in_words() -> None:
    assert [long_words(s) for s in (30, 60, 71, 90, 118, 3600, 3900)] == [
        "30 seconds", "1 minute", "70 seconds", "90 seconds", "2 minutes", "1 hour",
        "1 hour 5 minutes",
    ]  # fmt: skip
    assert range_words(840, 1080) == "14 to 18 minutes"
    assert range_words(600, 610) == "10 minutes"
    assert range_words(3000, 3900) == "50 minutes to 1 hour 5 minutes"
