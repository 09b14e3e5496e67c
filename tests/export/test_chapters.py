"""Chapters of a film, read by webvtt-py."""

import io
import re
from dataclasses import replace
from typing import Any

import pytest
import webvtt
from hypothesis import given, settings

from passbell.export.chapters import NoChapters, chapter_lines, chapters
from passbell.export.chapters import webvtt as written
from passbell.export.meal import Meal
from tests.cook.meals import TRAY
from tests.export.meals import cooked, hostile, planned
from tests.export.readers import titles


def marked(meal: Meal, *marks: int) -> Meal:
    return replace(meal, account=replace(meal.account, marks=marks))


def read(text: str) -> list[Any]:
    return list(webvtt.from_buffer(io.StringIO(text)))


def seconds(stamp: str) -> float:
    hours, minutes, rest = stamp.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(rest)


def test_chapters_stand_back_to_back_from_the_first_act() -> None:
    found = read(written(planned(TRAY)))
    assert found[0].start == "00:00:00.000"
    assert [c.end for c in found[:-1]] == [c.start for c in found[1:]]
    assert all(seconds(c.end) > seconds(c.start) for c in found)
    assert found[-1].text.endswith("Dish up")
    assert "Green beans in" in " ".join(c.text for c in found)


def test_a_mark_is_the_moment_the_camera_rolled() -> None:
    meal = planned(TRAY)
    plain = chapters(meal)
    film = chapters(marked(meal, 600))
    assert film[0].start == 0
    offset = meal.account.planned - 600
    assert film[-1].start == offset
    assert len(film) <= len(plain)
    twice = marked(meal, 600, 1200)
    assert chapters(twice, 2)[-1].start == meal.account.planned - 1200
    assert chapters(twice)[-1].start == offset


def test_a_rehearsal_at_speed_is_a_short_film() -> None:
    meal = replace(planned(TRAY), speed=4.0)
    assert chapters(meal)[-1].start == pytest.approx(chapters(planned(TRAY))[-1].start / 4)


def test_a_run_is_chaptered_as_it_was_cooked() -> None:
    meal = cooked()
    assert meal.account.served is not None
    assert chapters(meal)[-1].start == meal.account.served - 30


def test_no_such_mark_is_said() -> None:
    with pytest.raises(NoChapters, match="no mark 2"):
        chapters(marked(planned(TRAY), 5), 2)
    with pytest.raises(NoChapters, match="nothing happens after"):
        chapters(marked(planned(TRAY), 99_999))


def test_the_same_as_lines() -> None:
    lines = chapter_lines(planned(TRAY)).splitlines()
    assert lines[0].startswith("00:00 ")
    assert all(re.match(r"[0-9]{2}:[0-9]{2} \S", line) for line in lines)
    assert [line.split(" ", 1)[1] for line in lines] == [c.title for c in chapters(planned(TRAY))]
    long = replace(planned(TRAY), speed=0.5)
    assert chapter_lines(long).splitlines()[-1].startswith("1:22:00 ")


@settings(max_examples=12)
@given(hostile)
def test_hostile_names_are_plain_text(data: dict[str, Any]) -> None:
    meal = planned(data)
    found = titles(written(meal))
    assert found == [c.title for c in chapters(meal)]
    assert len(chapter_lines(meal).split("\n")) == len(found) + 1
