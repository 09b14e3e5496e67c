"""What the probe box draws: readings, verdicts and their minimum, the examples, the forecast."""

from dataclasses import replace

import pytest

from passbell.cook.alerts import WORDS
from passbell.tui.typed import Typed
from passbell.tui.views.model import (
    Probe,
    ReadingMark,
)
from passbell.tui.widgets.probe import draw_probe, draw_readings
from tests.tui.drawn import text, texts
from tests.tui.sample import (
    BELOW,
    PROBE,
    RESTING,
)


@pytest.mark.parametrize("width", [40, 46, 60, 80])
@pytest.mark.parametrize("height", [3, 4])
def test_advice_that_is_cut_says_so(width: int, height: int) -> None:
    long = " ".join(f"word{n}" for n in range(60))
    probe = replace(BELOW.probe, sentence=long, advice=(long, long), wash=False, readings=())
    lines = [text(line).rstrip() for line in draw_probe(probe, None, width, height)]
    for n, line in enumerate(lines):
        goes_on = n + 1 < len(lines) and lines[n + 1].lstrip().startswith("word")
        if "word" in line and not goes_on:
            assert line.endswith("…")


@pytest.mark.parametrize(("width", "height"), [(20, 3), (40, 4), (80, 3)])
def test_whose_reading_it_is_is_asked_before_it_is_typed(width: int, height: int) -> None:
    nobody = replace(PROBE, component="", place="", minimum="")
    drawn = texts(draw_probe(nobody, Typed("15", 2), width, height))
    assert "which one? na" in drawn
    assert "needs" not in drawn
    assert "no food chos" in texts(draw_probe(nobody, None, width, 1))


@pytest.mark.parametrize("width", [30, 34, 40, 44, 60])
def test_the_figure_of_the_minimum_is_never_cut(width: int) -> None:
    drawn = texts(draw_probe(RESTING.probe, None, width, 3))
    assert "needs 165 °F" in drawn


def test_the_colour_of_good_news_is_for_a_minimum_that_is_met_alone() -> None:
    for word, said in WORDS.items():
        lines = draw_probe(replace(RESTING.probe, verdict=said), None, 80, 4)
        roles = {run.role for line in lines for run in line if said in run.text}
        assert roles == {"met" if word == "met" else "below"}


def test_a_rest_is_read_before_the_reason_of_the_verdict() -> None:
    why = "The minimum of 165 °F for pieces of poultry was reached at both places probed. " * 2
    probe = replace(RESTING.probe, sentence=why)
    for width, height in ((80, 3), (40, 3)):
        drawn = texts(draw_probe(probe, None, width, height))
        assert "MET" in drawn
        assert "safety rest 2:10 more" in drawn


def test_the_probe_box_shows_all_before_the_first_digit() -> None:
    drawn = texts(draw_probe(PROBE, Typed(), 80, 5))
    for words in ("chicken thighs, place 1", "°F", "165 °F", "United States, home cooks", "▏"):
        assert words in drawn


def test_the_verdict_comes_before_everything_else() -> None:
    for height in (2, 3, 5, 9):
        drawn = texts(draw_probe(BELOW.probe, None, 80, height))
        assert "▼ BELOW " in drawn
        assert "13 °F below the minimum" in drawn
    assert "Put it back." in texts(draw_probe(BELOW.probe, None, 80, 3))
    assert "wash the probe" in texts(draw_probe(BELOW.probe, None, 80, 3))
    assert "▼ BELOW" in texts(draw_probe(BELOW.probe, None, 40, 1))


def test_the_examples_are_in_the_thermometers_unit() -> None:
    empty = replace(PROBE, scale="C", verdict="", advice=(), minimum="", readings=(), expect=())
    assert "66 · 151f · chicken 66 · 2 65 for" in texts(draw_probe(empty, None, 120, 4))


def test_the_question_about_the_unit_is_left_out_last() -> None:
    asked = "40 °F: was that °C? It was taken as °F; if not, take it back and type it so."
    probe = replace(
        BELOW.probe, advice=(asked, "Wash the probe."), odd="Odd: 4 °C is not what was expected",
        expect=("75 °C expected in about 14 min.",),
    )  # fmt: skip
    for height in (4, 5):
        assert "was that °C?" in texts(draw_probe(probe, None, 80, height))


def test_readings_stand_about_the_mark_of_the_minimum() -> None:
    drawn = text(draw_readings(BELOW.probe.readings, "165 °F"))
    below, reached = drawn.split("┃ 165 °F ┃")
    assert "152 °F ▽" in below
    assert "166 °F ▲" in reached
    assert "121 °F × taken back" in reached
    assert text(draw_readings((ReadingMark("1", "70 °F", None),), "")) == "1 70 °F ?  "


def test_only_met_has_the_look_of_good_news() -> None:
    roles = [
        [run.role for line in draw_probe(probe, None, 80, 5) for run in line]
        for probe in (BELOW.probe, RESTING.probe)
    ]
    assert "met" not in roles[0]
    assert "met" in roles[1]
    unsure: Probe = replace(BELOW.probe, verdict="NO MARGIN")
    assert "met" not in [run.role for line in draw_probe(unsure, None, 80, 5) for run in line]


def test_a_refusal_and_a_question_are_never_left_out() -> None:
    refused = replace(
        BELOW.probe, refusal="'abc' is no reading; type 152 or 66c", question="1 or 2?"
    )
    for height in (3, 5):
        drawn = texts(draw_probe(refused, Typed("abc", 3), 80, height))
        assert "not understood: 'abc' is no reading" in drawn
        assert "1 or 2?" in drawn


def test_a_verdict_in_few_cells_stands_alone_with_its_reason() -> None:
    drawn = [text(line) for line in draw_probe(BELOW.probe, None, 20, 3)]
    assert drawn[0].strip() == "▼ BELOW"
    assert "13 °F" in " ".join(drawn[1:])


def test_in_the_smallest_box_a_verdict_below_leaves_room_for_the_forecast() -> None:
    said = "75 °C expected in about 14 min (11 to 18), piece 2 last: look in 9:30."
    longer = f"{BELOW.probe.sentence} Chart: United States, home cooks, and more of the same kind."
    probe = replace(BELOW.probe, sentence=longer, advice=(), expect=(said,))
    drawn = texts(draw_probe(probe, None, 80, 3))
    assert said in drawn
    assert "▼ BELOW " in drawn
    odd = replace(probe, odd="Odd: piece 2: the reading has fallen: another spot. Both count.")
    named = replace(probe, odd="Odd: leg no. 2: the reading has fallen: another spot. Both count.")
    for opened in (texts(draw_probe(each, None, 80, 5)) for each in (odd, named)):
        assert said in opened
        assert "has fallen: another spot." in opened
