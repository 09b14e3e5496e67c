"""Durations, temperatures, lengths, areas and clock times, as a plan writes them."""

import csv
import time
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.units import (
    Amount,
    Area,
    ClockTime,
    Duration,
    Length,
    Temperature,
    UnitError,
)
from passbell.units.duration import LONGEST
from passbell.units.number import number

Quantity = type[Duration] | type[Temperature] | type[Length] | type[Area] | type[ClockTime]
EVERY: tuple[Quantity, ...] = (Duration, Temperature, Length, Area, ClockTime)
NEAR = st.text(alphabet="0123456789.,:/-+−°½ xXhmsincFPTDé\t\"'", max_size=40)


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("6 min", 360),
        ("90 s", 90),
        ("1 h 20 min", 4800),
        ("35m", 2100),
        ("1.5 h", 5400),
        ("1,5 h", 5400),
        ("0 min", 0),
        ("72 h", 259200),
        ("2\u00a0min", 120),
        ("1 HR 5 Mins", 3900),
        # ISO 8601 durations: RFC 3339, appendix A, gives the grammar.
        ("PT35M", 2100),
        ("PT1H30M", 5400),
        ("P1DT12H", 129600),
        ("PT0.5H", 1800),
        ("PT36H", 129600),
    ],
)
def test_a_duration_is_read(text: str, seconds: int) -> None:
    assert Duration.parse(text) == seconds


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("35", "“35” has no unit"),
        ("1.5", "“1.5” has no unit"),
        ("35:00", "“35:00” could be minutes or hours"),
        ("-5 min", "“-5 min” is negative"),
        ("−5 min", "“−5 min” is negative"),
        ("", "the duration is empty"),
        (" ", "the duration is empty"),
        ("0.5 s", "“0.5 s” is not a whole number of seconds"),
        ("73 h", "“73 h” is longer than 72 h"),
        ("20 min 1 h", "“20 min 1 h” is not a duration"),
        ("5 min 5 min", "“5 min 5 min” is not a duration"),
        ("1 h 20", "“1 h 20” is not a duration"),
        ("soon", "“soon” is not a duration"),
        ("P", "“P” is not a duration"),
        ("PT", "“PT” is not a duration"),
        ("P1Y", "“P1Y” is not a duration"),
        ("1,000 s", "the comma in “1,000 s” can be read in two ways"),
        ("2 weeks", "“2 weeks” is not a duration"),
    ],
)
def test_what_is_no_duration_is_refused_with_the_mend(text: str, what: str) -> None:
    with pytest.raises(UnitError) as caught:
        Duration.parse(text)
    assert caught.value.what == what
    assert caught.value.mend
    assert str(caught.value) == f"{what}; {caught.value.mend}"


@given(st.integers(0, LONGEST))
def test_a_duration_reads_back_what_it_prints(seconds: int) -> None:
    assert Duration.parse(str(Duration(seconds))) == seconds


def test_durations_print_in_words() -> None:
    assert [str(Duration(s)) for s in (0, 45, 90, 3600, 4800, 3661)] == [
        "0 min", "45 s", "1 min 30 s", "1 h", "1 h 20 min", "1 h 1 min 1 s",
    ]  # fmt: skip
    assert Duration.minutes(2.5) == 150


@pytest.mark.parametrize(
    ("text", "value", "scale", "shown"),
    [
        ("400 °F", 400, "F", "400 °F"),
        ("400F", 400, "F", "400 °F"),
        ("200 C", 200, "C", "200 °C"),
        ("62,8 c", 62.8, "C", "62.8 °C"),
        ("-18 °C", -18, "C", "-18 °C"),
        ("−18 °C", -18, "C", "-18 °C"),
        ("145.004 °F", 145.004, "F", "145.004 °F"),
        ("62.855℃", 62.855, "C", "62.855 °C"),
        ("180 º C", 180, "C", "180 °C"),
    ],
)
def test_a_temperature_is_kept_as_typed(text: str, value: float, scale: str, shown: str) -> None:
    found = Temperature.parse(text)
    assert (found.value, found.scale, str(found)) == (value, scale, shown)
    assert Temperature.parse(shown) == found


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("400", "“400” has no unit"),
        ("400 °", "“400 °” has no unit"),
        ("hot", "“hot” is not a temperature"),
        ("400 K", "“400 K” is not a temperature"),
        ("NaN C", "“NaN C” is not a temperature"),
        ("٤٠ C", "“٤٠ C” is not a temperature"),
    ],
)
def test_a_temperature_needs_a_number_and_a_unit(text: str, what: str) -> None:
    with pytest.raises(UnitError) as caught:
        Temperature.parse(text)
    assert caught.value.what == what


def test_temperatures_convert_by_definition() -> None:
    """NIST SP 811, appendix B.9: t/°C = (t/°F - 32)/1.8."""
    for fahrenheit, celsius in ((32, 0), (212, 100), (-40, -40)):
        assert Temperature(fahrenheit, "F").celsius == pytest.approx(celsius)
        assert Temperature(celsius, "C").fahrenheit == pytest.approx(fahrenheit)


def test_oven_bands_convert_within_the_rounding_of_the_published_table() -> None:
    """NIST, The Metric Kitchen (older page): Celsius settings are rounded to the nearest ten."""
    rows = csv.DictReader(
        line
        for line in (CASES / "oven_temperature_names_nist.csv").read_text("utf-8").splitlines()
        if not line.startswith("#")
    )
    pairs = [(float(r[f"f_{e}"]), float(r[f"c_{e}"])) for r in rows for e in ("low", "high")]
    assert len(pairs) == 16
    for fahrenheit, celsius in pairs:
        assert Temperature(fahrenheit, "F").celsius == pytest.approx(celsius, abs=5)


def test_one_oven_setting_in_two_units_is_the_same_heat() -> None:
    assert Temperature(400, "F").same_heat(Temperature(204.4, "C"))
    assert not Temperature(400, "F").same_heat(Temperature(200, "C"))


CASES = Path(__file__).parents[1] / "cases"


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("25 mm", 25),
        ("3 cm", 30),
        ("3,5cm", 35),
        ("1 in", 25.4),  # exactly: international inch, NIST SP 811, appendix B
        ("1 1/2 in", 38.1),
        ("1½ in", 38.1),
        ("3/4 inch", 19.05),
        ('2"', 50.8),
    ],
)
def test_a_length_is_read_exactly(text: str, mm: float) -> None:
    assert Length.parse(text).mm == mm
    assert str(Length.parse(text)) == text


def test_trays_have_the_published_areas() -> None:
    """A quarter sheet, 9 x 13 in, is 117 sq in; a half sheet, 13 x 18 in, 234 (arithmetic)."""
    for text, square_inches in (("9 x 13 in", 117), ("13 in × 18 in", 234)):
        assert Area.parse(text).cm2 == pytest.approx(square_inches * 2.54**2)
    assert Area.parse("33 x 45 cm").cm2 == 1485
    assert Area.parse("330 mm x 45 cm").cm2 == 1485


@pytest.mark.parametrize(
    "text", ["25", "mm", "0 mm", "1/0 in", "-3 cm", "1.5 1/2 in", "3 m", "1 /"]
)
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(UnitError, match=r"25 mm"):
        Length.parse(text)


@pytest.mark.parametrize("text", ["33 x 45", "33 cm", "0 x 4 cm", "33 by 45 cm", "1/0 x 2 cm"])
def test_what_is_no_area_is_refused(text: str) -> None:
    with pytest.raises(UnitError, match="33 x 45 cm"):
        Area.parse(text)


def test_clock_times_are_those_of_a_day() -> None:
    assert ClockTime.parse("18:45").seconds == 67500
    assert str(ClockTime.parse("7:05")) == "07:05"
    assert str(ClockTime.parse("23:59:59")) == "23:59:59"
    for text in ("24:00", "18:60", "18:45:60", "18.45", "6 pm", "1845", ""):
        with pytest.raises(UnitError, match="24-hour"):
            ClockTime.parse(text)


@given(st.integers(0, 23), st.integers(0, 59), st.integers(0, 59))
def test_a_clock_time_reads_back_what_it_prints(hour: int, minute: int, second: int) -> None:
    assert ClockTime.parse(str(ClockTime(hour, minute, second))) == ClockTime(hour, minute, second)


def _read(kind: Quantity, text: str) -> object:
    try:
        return kind.parse(text)
    except UnitError as error:
        return error


@given(st.sampled_from(EVERY), st.one_of(st.text(), NEAR))
def test_any_text_is_read_or_refused_and_read_back(kind: Quantity, text: str) -> None:
    found = _read(kind, text)
    if isinstance(found, UnitError):
        assert found.what
        assert found.mend
    else:
        assert kind.parse(str(found)) == found


def _seconds_for(kind: Quantity, text: str) -> float:
    before = time.process_time()
    found = _read(kind, text)
    assert not isinstance(found, UnitError) or len(str(found)) < 300
    return time.process_time() - before


@pytest.mark.parametrize("piece", ["1", " ", "1 ", "1/", "1 h ", "½", "x", "1.", "-", "°", "\t1"])
def test_a_very_long_text_takes_no_very_long_time(piece: str) -> None:
    """A quadratic pattern would take minutes for these, a linear one well under a second."""
    for kind in EVERY:
        assert _seconds_for(kind, piece * 100_000) < 5
    before = time.process_time()
    Amount.parse(piece * 100_000)
    assert time.process_time() - before < 5


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2", 2),
        ("1.5", Fraction(3, 2)),
        ("1,5", Fraction(3, 2)),
        ("1/3", Fraction(1, 3)),
        ("2 2/3", Fraction(8, 3)),
        ("1-1/2", Fraction(3, 2)),
        ("⅔", Fraction(2, 3)),
        ("2¼", Fraction(9, 4)),
        ("1⁄8", Fraction(1, 8)),
        ("1/0", None),
        ("", None),
    ],
)
def test_numbers_are_exact(text: str, value: Fraction | None) -> None:
    assert number(text) == value
