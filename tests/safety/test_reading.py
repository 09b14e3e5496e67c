"""Readings as cooks type them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.safety import Reading, Typed, parse_reading
from passbell.units import Temperature, UnitError


@pytest.mark.parametrize(
    ("text", "place", "value", "scale"),
    [
        ("145", None, 145.0, "F"),
        ("145.0", None, 145.0, "F"),
        ("145F", None, 145.0, "F"),
        ("145 °F", None, 145.0, "F"),
        ("145ºf", None, 145.0, "F"),
        ("145°", None, 145.0, "F"),
        ("2 66℃", "2", 66.0, "C"),
        ("62,8 C", None, 62.8, "C"),
        ("66c", None, 66.0, "C"),
        (" 2  151 ", "2", 151.0, "F"),
        ("2 66c", "2", 66.0, "C"),
        ("02 151", "2", 151.0, "F"),
        ("thigh 168", "thigh", 168.0, "F"),
        ("left thigh 168", "left thigh", 168.0, "F"),
        ("thigh=168F", "thigh", 168.0, "F"),
        ("thigh = 168 F", "thigh", 168.0, "F"),
        ("chicken 2 152", "chicken 2", 152.0, "F"),
        ("-40", None, -40.0, "F"),
        ("−40F", None, -40.0, "F"),
        ("1 -40", "1", -40.0, "F"),
        ("[b]thigh[/b] 168", "[b]thigh[/b]", 168.0, "F"),
        ("thi\x1b[31mgh 168", "thi[31mgh", 168.0, "F"),
    ],
)
def test_what_parses(text: str, place: str | None, value: float, scale: str) -> None:
    typed = parse_reading(text, "F")
    assert typed.place == place
    assert typed.temperature.value == value
    assert typed.temperature.scale == scale
    assert typed.at is None


def test_a_bare_number_takes_the_thermometers_unit() -> None:
    assert parse_reading("63", "C") == Typed(None, Temperature(63, "C"), None, unit_said=False)
    assert parse_reading("145F", "C").temperature == Temperature(145, "F")


@pytest.mark.parametrize(
    ("text", "place", "at"),
    [
        ("147F@4min", None, 240),
        ("spot=147F@4min", "spot", 240),
        ("147F@-6min", None, -360),
        ("147F@−6 min", None, -360),
        ("a=147F@+90s", "a", 90),
        ("147F@0min", None, 0),
    ],
)
def test_minutes_after_removal(text: str, place: str | None, at: int) -> None:
    typed = parse_reading(text, "F")
    assert (typed.place, typed.temperature, typed.at) == (place, Temperature(147, "F"), at)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   ",
        "warm",
        "nan",
        "NaN",
        "inf",
        "-infinity",
        "thigh nan",
        "145K",
        "1e3",
        "145 F F",
        "0x91",
        "١٤٥",
        "145..5",
        "thigh",
        "thigh145",
        "=145",
        "- 145 x",
        "* 145",
        "123456",
    ],
)
def test_what_is_refused_with_its_mend(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse_reading(text, "F")
    assert "145F" in caught.value.mend or "thigh 168" in caught.value.mend


@pytest.mark.parametrize("text", ["62,8 145", "145.5 147", "-3 140"])
def test_two_readings_at_once_are_refused(text: str) -> None:
    with pytest.raises(UnitError, match="one reading at a time"):
        parse_reading(text, "F")


@pytest.mark.parametrize("text", ["0 151", "601 151"])
def test_places_count_from_one(text: str) -> None:
    with pytest.raises(UnitError, match="places count from 1"):
        parse_reading(text, "F")


@pytest.mark.parametrize("text", ["147F@", "147F@4", "147F@4:00", "147F@--4min", "147F@soon"])
def test_an_instant_without_a_unit_is_refused(text: str) -> None:
    with pytest.raises(UnitError, match="147F@4min"):
        parse_reading(text, "F")


@pytest.mark.parametrize("shown", [float("nan"), float("inf"), float("-inf")])
def test_a_reading_is_a_number(shown: float) -> None:
    with pytest.raises(UnitError):
        Reading(None, shown, "F")


def _read(text: str) -> Typed | UnitError:
    try:
        return parse_reading(text, "C")
    except UnitError as error:
        return error


@given(st.one_of(st.text(max_size=40), st.from_regex(r"[ 0-9a-zF°.,=@-]{0,20}", fullmatch=True)))
def test_any_text_is_read_or_refused_with_words(text: str) -> None:
    found = _read(text)
    if isinstance(found, Typed):
        assert abs(found.temperature.value) < 100000
        assert found.place != ""
    else:
        assert found.what
        assert found.mend


@given(
    st.one_of(st.none(), st.integers(1, 600).map(str), st.sampled_from(["thigh", "left wing"])),
    st.decimals(-99, 999, places=2),
    st.sampled_from("FC"),
)
def test_what_is_written_is_read_back(place: str | None, value: object, scale: str) -> None:
    typed = parse_reading(f"{place} {value}{scale}" if place else f"{value} {scale}", "F")
    assert typed.place == place
    assert typed.temperature.value == float(str(value))
    assert typed.temperature.scale == scale
