"""Laws every verdict obeys, whatever is read."""

import tomllib
from dataclasses import replace
from decimal import Decimal
from importlib.resources import files
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passbell.safety import Reading, Setup, judge, rank
from passbell.safety import chart as chart_room
from passbell.safety.chart import chart_rows
from passbell.safety.shipped import CHART_KEYS
from passbell.safety.verdict import _judged
from passbell.units import Temperature

FOODS = ("pork_whole", "poultry_whole", "ground_red", "fish", "stuffing", "leftovers")
PLACES = (None, "1", "2", "3", "thigh", "wing", "breast", "stuffing", "meat", "left", "right")
NAMES = ("thigh", "wing", "breast", "left", "right")
NUMBERS = ("1", "2", "3", "4")
RAW = {
    key: tomllib.loads(
        (files("passbell.safety") / "data" / "charts" / f"{key}.toml").read_text(encoding="utf-8")
    )
    for key in CHART_KEYS
}


def _decimal(low: float, high: float) -> st.SearchStrategy[float]:
    return st.decimals(low, high, places=1).map(float)


@st.composite
def _reading(draw: st.DrawFn, places: tuple[str | None, ...] = PLACES) -> Reading:
    """A possible reading, more often than not near the minimums, on the heat or off it."""
    scale = draw(st.sampled_from("FC"))
    near, wide = ((138, 185), (32, 205)) if scale == "F" else ((60, 85), (1, 95))
    at = draw(st.integers(-400, 400))
    return Reading(
        place=draw(st.sampled_from(places)),
        shown=draw(st.one_of(_decimal(*near), _decimal(*wide))),
        scale="F" if scale == "F" else "C",
        at=at,
        off_heat=at > 0,
    )


def _setups() -> st.SearchStrategy[Setup]:
    return st.builds(
        Setup,
        pieces=st.integers(1, 3),
        spots=st.sampled_from([None, None, 1, 2, 4]),
        ice=st.sampled_from(
            [None, Temperature(34, "F"), Temperature(30.5, "F"), Temperature(1, "C")]
        ),
        removed_at=st.sampled_from([None, 0, -60, 120]),
        cut_at=st.sampled_from([None, 150, 300]),
        reheated=st.sampled_from([(), (), (-30,), (20, 200)]),
    )


CHARTS = st.sampled_from([*CHART_KEYS, "strictest"])
SERIES = st.lists(_reading(), max_size=8)


@given(st.data(), st.sampled_from(FOODS), CHARTS, _setups())
@settings(max_examples=80)
def test_a_lowered_reading_never_betters_the_verdict(
    data: st.DataObject, food: str, chart: str, setup: Setup
) -> None:
    taken = data.draw(st.lists(_reading(), min_size=1, max_size=8))
    index = data.draw(st.integers(0, len(taken) - 1))
    old = taken[index]
    floor = Decimal("-15") if old.scale == "F" else Decimal("-25")
    shown = data.draw(st.decimals(floor, Decimal(str(old.shown)), places=1))
    lowered = [*taken]
    lowered[index] = replace(old, shown=float(shown))
    before = judge((food,), taken, chart=chart, setup=setup).verdict
    after = judge((food,), lowered, chart=chart, setup=setup).verdict
    if "no_figure" not in (before, after):
        assert rank(after) <= rank(before)
    assert (before == "no_figure") == (after == "no_figure")


def _least(chart: str, key: str, scale: str) -> tuple[Decimal, str]:
    """The minimum the shipped file prints, read apart from the product's own code."""
    rows = {row["key"]: row for row in RAW[chart]["row"]}
    row = rows.get(key) or rows["general"]
    if "pairs" in row:
        return Decimal(min(t for t, _ in row["pairs"])), row["pair_unit"]
    for unit in (scale, "F" if scale == "C" else "C"):
        if f"temp_{unit}" in row:
            return Decimal(str(row[f"temp_{unit}"])), unit
    raise AssertionError(row)


def _true(reading: Reading, ice: Temperature | None) -> Decimal:
    too_much = Decimal(0)
    if ice is not None:
        too_much = Decimal(str(ice.value)) - (32 if ice.scale == "F" else 0)
        if ice.scale != reading.scale:
            too_much *= Decimal("1.8") if reading.scale == "F" else 1 / Decimal("1.8")
    return Decimal(str(reading.shown)) - too_much


@given(
    st.one_of(*(st.lists(_reading(some), max_size=8) for some in (NAMES, NUMBERS))),
    st.sampled_from(["pork_whole", "poultry_whole", "ground_red"]),
    st.sampled_from(CHART_KEYS),
    _setups(),
)
@settings(max_examples=80)
def test_met_needs_a_reading_at_every_place_and_none_under_the_printed_minimum(
    taken: list[Reading], food: str, chart: str, setup: Setup
) -> None:
    found = judge((food,), taken, chart=chart, setup=setup)
    latest = {r.place: r for r in sorted(taken, key=lambda r: r.at)}
    for reading in latest.values():
        least, unit = _least(chart, food, reading.scale)
        true = _true(reading, setup.ice)
        if unit != reading.scale:
            true = (true - 32) / Decimal("1.8") if unit == "C" else true * Decimal("1.8") + 32
        if true < least - Decimal("1e-9"):
            assert found.verdict in ("below", "recheck")
    if found.verdict == "met":
        assert found.spots_missing == 0
        assert all(p.reading is not None and not p.under for p in found.places if p.wanted)
        assert not any(p.under for p in found.places)
    if found.spots_missing:
        assert found.verdict in ("below", "recheck", "incomplete")


@given(SERIES, st.sampled_from(FOODS), _setups())
@settings(max_examples=60)
def test_strictest_is_never_better_than_any_chart(
    taken: list[Reading], food: str, setup: Setup
) -> None:
    strict = judge((food,), taken, chart="strictest", setup=setup)
    for key in CHART_KEYS:
        if all(row.no_figure for row in chart_rows((food,), key)):
            continue
        one = judge((food,), taken, chart=key, setup=setup)
        assert rank(strict.verdict) <= rank(one.verdict)
        assert strict.spots_missing >= one.spots_missing
        if strict.verdict == "met":
            assert strict.rest_s >= one.rest_s


@given(SERIES, st.sampled_from(FOODS), st.sampled_from(FOODS), CHARTS)
@settings(max_examples=60)
def test_the_order_of_food_keys_changes_no_word(
    taken: list[Reading], one: str, other: str, chart: str
) -> None:
    named = [r for r in taken if r.place is not None and not r.place.isdecimal()]
    forth = judge((one, other), named, chart=chart)
    back = judge((other, one), named, chart=chart)
    assert forth.verdict == back.verdict
    assert forth.minimum == back.minimum


@pytest.mark.parametrize("order", list(permutations(CHART_KEYS))[1::5])
@pytest.mark.parametrize(
    ("food", "shown"),
    [
        ("pork_whole", (66.0, 150.0)),
        ("pork_whole", (80.0, 80.0)),
        ("poultry_whole", (168.0, 167.0, 170.0)),
        ("beef_lamb_whole", (64.0, 65.0)),
        ("egg_dish", (60.0,)),
    ],
)
def test_the_order_of_charts_changes_nothing(
    monkeypatch: pytest.MonkeyPatch, order: tuple[str, ...], food: str, shown: tuple[float, ...]
) -> None:
    taken = [Reading(None, value, "C" if value < 100 else "F") for value in shown]
    usual = judge((food,), taken, chart="strictest")
    monkeypatch.setattr(chart_room, "CHART_KEYS", order)
    _judged.cache_clear()
    found = judge((food,), taken, chart="strictest")
    _judged.cache_clear()
    assert found.as_json() == usual.as_json()
    assert found.sentence == usual.sentence
    assert sorted(found.beside) == sorted(usual.beside)


@given(SERIES, st.sampled_from(FOODS), CHARTS, _setups())
@settings(max_examples=60)
def test_a_rest_is_never_shortened(
    taken: list[Reading], food: str, chart: str, setup: Setup
) -> None:
    found = judge((food,), taken, chart=chart, setup=setup)
    if found.rest_from is None or found.rest_until is None:
        assert found.rest_until is None
        return
    assert found.verdict == "met"
    assert setup.removed_at is not None
    assert found.rest_from >= setup.removed_at
    assert found.rest_until - found.rest_from == found.rest_s >= 180
    without = replace(setup, cut_at=None)
    assert judge((food,), taken, chart=chart, setup=without).rest_until == found.rest_until


@given(SERIES, st.sampled_from(FOODS), CHARTS, _setups(), st.integers(-2000, 2000))
@settings(max_examples=60)
def test_the_zero_of_time_is_anybodys(
    taken: list[Reading], food: str, chart: str, setup: Setup, shift: int
) -> None:
    def moved(at: int | None) -> int | None:
        return None if at is None else at + shift

    later = [replace(r, at=r.at + shift) for r in taken]
    again = tuple(at + shift for at in setup.reheated)
    then = replace(setup, removed_at=moved(setup.removed_at), cut_at=moved(setup.cut_at))
    then = replace(then, reheated=again)
    one = judge((food,), taken, chart=chart, setup=setup)
    two = judge((food,), later, chart=chart, setup=then)
    assert one.as_json() == two.as_json()
    assert two.rest_from == moved(one.rest_from)
    assert two.hold_until == moved(one.hold_until)


@given(SERIES, st.sampled_from(FOODS), CHARTS, _setups())
@settings(max_examples=80)
def test_words_and_figures_agree(taken: list[Reading], food: str, chart: str, setup: Setup) -> None:
    found = judge((food,), taken, chart=chart, setup=setup)
    assert (found.below_by is not None) == (found.lowest is not None and found.lowest.under)
    assert (found.hold_s is not None) == (found.verdict == "hold")
    assert ("no_margin" in found.flags) <= (found.verdict == "met")
    assert ("off_heat" in found.flags) <= (found.verdict == "met")
    assert (found.verdict == "met") == (found.next_place is None and found.verdict != "no_figure")
    if found.verdict == "hold":
        assert found.hold_s
        assert found.hold_until is not None
        assert found.hold_until - found.hold_s >= min(one.at for one in taken)


@given(SERIES, CHARTS, _setups())
@settings(max_examples=60)
def test_time_without_heat_betters_no_hold(taken: list[Reading], chart: str, setup: Setup) -> None:
    plain = judge(("pork_whole",), taken, chart=chart, setup=replace(setup, reheated=()))
    found = judge(("pork_whole",), taken, chart=chart, setup=setup)
    assert rank(found.verdict) <= rank(plain.verdict)
    if found.verdict == plain.verdict == "hold" and found.hold_s == plain.hold_s:
        assert found.hold_until is not None
        assert plain.hold_until is not None
        assert found.hold_until >= plain.hold_until
