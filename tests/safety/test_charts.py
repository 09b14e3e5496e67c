"""The shipped charts print what the authorities print, and refuse to load when they are broken."""

from importlib.resources import files
from typing import Any

import pytest
from pydantic import ValidationError

from passbell.safety import chart_rows, falls_short, known_foods, minimum_text, rest_asked
from passbell.safety.shipped import CHART_KEYS, table
from passbell.safety.table import Chart, Row, Table
from tests.safety.helpers import degrees, verdict

# USDA FSIS, Safe Minimum Internal Temperature Chart: °F, °C as FSIS prints it, minutes of rest.
# The figures are from memory of that page; FoodSafety.gov prints the same °F.
FSIS = {
    "beef_lamb_whole": (145, 62.8, 3),
    "pork_whole": (145, 62.8, 3),
    "ham_raw": (145, 62.8, 3),
    "ham_cooked_sealed": (140, 60.0, 0),
    "ham_cooked_other": (165, 73.9, 0),
    "ground_red": (160, 71.1, 0),
    "ground_poultry": (165, 73.9, 0),
    "poultry_whole": (165, 73.9, 0),
    "poultry_pieces": (165, 73.9, 0),
    "stuffing": (165, 73.9, 0),
    "fish": (145, 62.8, 0),
    "shellfish": (145, 62.8, 0),
    "egg_dish": (160, 71.1, 0),
    "casserole": (165, 73.9, 0),
    "leftovers": (165, 73.9, 0),
}
# Health Canada, Safe internal cooking temperatures: °C, °F (from memory of the page).
HEALTH_CANADA = {
    "beef_lamb_whole": (63, 145),
    "tenderised_red": (63, 145),
    "ground_red": (71, 160),
    "pork_whole": (71, 160),
    "ham_raw": (71, 160),  # "pork (ham, loin, ribs)"
    "poultry_pieces": (74, 165),
    "ground_poultry": (74, 165),
    "stuffing": (74, 165),
    "poultry_whole": (82, 180),
    "egg_dish": (74, 165),
    "fish": (70, 158),
    "shellfish": (74, 165),
    "leftovers": (74, 165),
    "game_venison_rabbit": (74, 165),
}
# Food Safety Information Council, Safe cooking temperatures: °C, minutes of rest (from memory).
FSIC = {
    "poultry_whole": (75, 0),
    "poultry_pieces": (75, 0),
    "ground_poultry": (75, 0),  # "chicken mince"
    "stuffing": (75, 0),  # "stuffed" red meat; poultry has the same figure
    "ground_red": (75, 0),
    "tenderised_red": (75, 0),
    "beef_lamb_whole": (63, 3),
    "pork_whole": (70, 3),
    "fish": (63, 0),
    "egg_dish": (72, 0),
    "leftovers": (75, 0),
}


def _row(chart: str, key: str) -> Row:
    row = table().chart(chart).row(key)
    assert row is not None
    return row


@pytest.mark.parametrize(("key", "printed"), FSIS.items())
def test_united_states(key: str, printed: tuple[int, float, int]) -> None:
    row = _row("us", key)
    assert (row.temp_f, row.rest_min) == (printed[0], printed[2])
    # Where FSIS and FoodSafety.gov print different °C the higher is used.
    assert row.temp_c is not None
    assert printed[1] <= row.temp_c <= printed[1] + 0.3


def test_united_states_venison() -> None:
    """FoodSafety.gov, cook to a safe minimum internal temperature: 160 °F (from memory)."""
    assert _row("us", "game_venison_rabbit").temp_f == 160


@pytest.mark.parametrize(("key", "printed"), HEALTH_CANADA.items())
def test_canada(key: str, printed: tuple[int, int]) -> None:
    row = _row("canada", key)
    assert (row.temp_c, row.temp_f, row.rest_min) == (*printed, 0)


@pytest.mark.parametrize(("key", "printed"), FSIC.items())
def test_australia(key: str, printed: tuple[int, int]) -> None:
    row = _row("australia", key)
    assert (row.temp_c, row.temp_f, row.rest_min) == (printed[0], None, printed[1])
    assert row.rest_max_min == (5 if printed[1] else None)


def test_united_kingdom() -> None:
    """FSA, 'Prove it' safe method: 70 °C 2 min, 75 °C 30 s, 80 °C 6 s (from memory)."""
    assert _row("uk", "general").pairs == ((70, 120), (75, 30), (80, 6))
    assert _row("uk", "beef_lamb_whole").no_figure


def test_united_kingdom_burgers() -> None:
    """ACMSF 2007 takes z = 6 °C: 75 °C then needs 18 s; the longer 30 s are kept."""
    pairs = _row("uk", "ground_red").pairs
    assert pairs == ((70, 120), (75, 30))
    assert round(120 * 10 ** (-5 / 6)) == 18 < pairs[1][1]


def test_the_charts_hold_no_other_rows() -> None:
    rows = {chart.key: {row.key for row in chart.rows} for chart in table().charts}
    assert rows == {
        "us": {*FSIS, "game_venison_rabbit"},
        "canada": set(HEALTH_CANADA),
        "uk": {"general", "ground_red", "beef_lamb_whole"},
        "australia": set(FSIC),
    }


@pytest.mark.parametrize(
    ("food", "typed", "chart"),
    [
        ("ground_poultry", "74.5C 74.5C", "australia"),
        ("stuffing", "stuffing=74.5C meat=80C", "australia"),
        ("ham_raw", "70.5C 70.5C 70.5C@3min 70.5C@3min", "canada"),
    ],
)
def test_a_line_that_names_several_foods_judges_each(food: str, typed: str, chart: str) -> None:
    """FSIC prints 75 °C for minced poultry and stuffed meat, Health Canada 71 °C for ham."""
    assert verdict(food, typed, chart).verdict == "below"
    strict = verdict(food, typed, "strictest")
    assert (strict.verdict, strict.chart) == ("below", chart)


def test_every_row_names_its_source() -> None:
    for chart in table().charts:
        assert chart.source
        assert all(row.source and row.status in ("read", "copy") for row in chart.rows)
        assert all(row.key in known_foods() for row in chart.rows)


def test_only_visual_rows_carry_a_sign() -> None:
    signs = {(c.key, r.key) for c in table().charts for r in c.rows if r.visual}
    assert signs == {
        ("us", "fish"),
        ("us", "shellfish"),
        ("us", "egg_dish"),
        ("canada", "shellfish"),
        ("uk", "beef_lamb_whole"),
        ("australia", "fish"),
        ("australia", "egg_dish"),
    }


def test_the_data_lie_inside_the_package() -> None:
    folder = files("passbell.safety") / "data" / "charts"
    assert {entry.name for entry in folder.iterdir()} == {f"{key}.toml" for key in CHART_KEYS}


ROW: dict[str, Any] = {
    "key": "fish",
    "name": "fish",
    "rest_min": 0,
    "status": "read",
    "source": "s",
}


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({}, "exactly one"),
        ({"temp_C": 63, "no_figure": True}, "exactly one"),
        ({"temp_C": 63, "pairs": [[70, 120]], "pair_unit": "C"}, "exactly one"),
        ({"pairs": [[70, 120]]}, "go together"),
        ({"pairs": [[65, 600], [70, 120]], "pair_unit": "C"}, "no pair under 70"),
        ({"pairs": [[150, 600]], "pair_unit": "F"}, "no pair under 70"),
        ({"pairs": [[75, 30], [70, 120]], "pair_unit": "C"}, "coldest first"),
        ({"pairs": [[70, 120], [75, 120]], "pair_unit": "C"}, "coldest first"),
        ({"temp_F": 145, "temp_C": 65}, "one temperature"),
        ({"temp_C": 63, "rest_min": 5, "rest_max_min": 3}, "longer rest"),
        ({"temp_C": 20}, "greater than or equal"),
        ({"temp_C": 63, "status": "heard"}, "status"),
        ({"temp_C": 63, "source": ""}, "source"),
        ({"temp_C": 63, "colour": "pink"}, "Extra inputs"),
    ],
)
def test_a_broken_row_is_refused(change: dict[str, Any], fault: str) -> None:
    with pytest.raises(ValidationError, match=fault):
        Row.model_validate(ROW | change)


def test_a_chart_has_one_row_a_food() -> None:
    row = ROW | {"temp_C": 63}
    chart = {"key": "x", "name": "X", "primary_unit": "C", "source": "s", "note": ""}
    with pytest.raises(ValidationError, match="two rows"):
        Chart.model_validate(chart | {"row": [row, row]})


def test_a_row_for_an_unknown_food_is_refused() -> None:
    whole = table().model_dump(by_alias=True)
    del whole["foods"]["fish"]
    with pytest.raises(ValidationError, match="not a known food or place: fish"):
        Table.model_validate(whole)


def test_an_unknown_default_chart_is_refused() -> None:
    whole = table().model_dump(by_alias=True) | {"default_chart": "moon"}
    with pytest.raises(ValidationError, match="no chart moon"):
        Table.model_validate(whole)


def test_the_general_row_covers_what_has_no_row_and_says_so() -> None:
    (row,) = chart_rows(("poultry_pieces",), "uk")
    assert row.general
    assert row.row.key == "general"
    (own,) = chart_rows(("ground_red",), "uk")
    assert not own.general
    assert chart_rows(("egg_dish", "plant", "pebbles"), "uk") == ()


def test_a_missing_row_is_never_borrowed() -> None:
    assert chart_rows(("casserole",), "canada") == ()
    assert chart_rows(("tenderised_red",), "us") == ()


def test_minimum_in_words() -> None:
    assert minimum_text(("pork_whole",), "us") == "145 °F"
    assert minimum_text(("pork_whole",), "us", "C") == "63 °C"
    assert minimum_text(("pork_whole",), "australia", "F") == "70 °C"
    assert minimum_text(("pork_whole",), "uk") == "70 °C for 2 min"
    assert minimum_text(("pork_whole", "stuffing"), "us") == "165 °F"
    assert minimum_text(("poultry_whole",), "strictest") == "82 °C"
    assert minimum_text(("plant",), "us") is None


def test_rest_asked() -> None:
    assert rest_asked(("pork_whole",), "us") == 180
    assert rest_asked(("pork_whole",), "canada") == 0
    assert rest_asked(("pork_whole",), "strictest") == 180
    assert rest_asked(("poultry_whole", "plant"), "us") == 0


def test_until_against_the_minimum() -> None:
    """A plan may not stop before the chart does; 75 °C is over 165 °F (73.9 °C)."""
    assert falls_short(degrees("63 °C"), ("poultry_pieces",), "us") is not None
    assert falls_short(degrees("75 °C"), ("poultry_pieces",), "us") is None
    assert falls_short(degrees("62.9 °C"), ("pork_whole",), "us") == (
        "63 °C (United States, home cooks)"
    )
    assert falls_short(degrees("145 °F"), ("pork_whole",), "us") is None
    assert falls_short(degrees("165 °F"), ("poultry_whole",), "strictest") == (
        "180 °F (Canada, Health Canada)"
    )
    assert falls_short(degrees("20 °C"), ("plant",), "us") is None
