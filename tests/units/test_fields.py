"""Units as fields of a model: text is read, anything else is refused in the words of the file."""

from datetime import date, datetime, time

import pytest
from pydantic import ValidationError

from passbell.units import Area, ClockTime, Duration, Frozen, Length, Temperature


class Meal(Frozen):
    """One field of every unit."""

    serve_at: ClockTime | None = None
    time: Duration = Duration(0)
    temp: Temperature | None = None
    size: Length | None = None
    area: Area | None = None


def _said(**values: object) -> list[tuple[str, str]]:
    with pytest.raises(ValidationError) as caught:
        Meal.model_validate(values)
    return [(e["ctx"]["what"], e["ctx"]["mend"]) for e in caught.value.errors()]


def test_text_is_read_and_written_again() -> None:
    texts = {
        "serve_at": "18:45",
        "time": "1 h 20 min",
        "temp": "62.8 °C",
        "size": "1 1/2 in",
        "area": "33 x 45 cm",
    }
    meal = Meal.model_validate(texts)
    assert meal.model_dump() == texts
    assert Meal.model_validate(meal.model_dump()) == meal
    assert hash(meal) == hash(Meal.model_validate(texts))
    assert Meal(time=Duration(60)).time == 60


@pytest.mark.parametrize(
    ("value", "what"),
    [
        (35, "35 has no unit"),
        (1.5, "1.5 has no unit"),
        (float("nan"), "nan has no unit"),
        (10**15, "that number has no unit"),
        (True, "true is not text"),
        (["35 min"], "a list is not text"),
        ({"min": {"max": None}}, "a table is not text"),
        (time(18, 45), "18:45:00 is not in quotes"),
        (date(2026, 1, 2), "2026-01-02 is not in quotes"),
        (datetime(2026, 1, 2, 3, 4), "2026-01-02T03:04:00 is not in quotes"),  # noqa: DTZ001
        ("35", "“35” has no unit"),
    ],
)
def test_what_is_no_text_is_refused_in_the_words_of_the_file(value: object, what: str) -> None:
    mend = 'write it with a unit, for example "35 min", "90 s" or "1 h 20 min"'
    assert _said(time=value) == [(what, mend)]


def test_a_bare_number_is_no_time_of_day() -> None:
    mend = 'write it as a quoted 24-hour time, for example "18:45"'
    assert _said(serve_at=18.45) == [("18.45 is not a time of day", mend)]
    assert _said(serve_at=time(18, 45)) == [("18:45:00 is not in quotes", mend)]


def test_every_unit_names_its_own_mend() -> None:
    said = _said(time=1, temp=2, size=3, area=4)
    assert [what for what, _ in said] == [f"{n} has no unit" for n in (1, 2, 3, 4)]
    assert len({mend for _, mend in said}) == 4


def test_a_number_too_long_to_print_is_refused_too() -> None:
    assert _said(time=16**5000)[0][0] == "that number has no unit"
