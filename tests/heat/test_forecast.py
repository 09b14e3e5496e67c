"""The forecast as a cook gets it."""

import json
from dataclasses import replace

import pytest

from passbell.heat import (
    Exposure,
    Forecast,
    NoForecast,
    Piece,
    PlanTime,
    Reading,
    Segment,
    forecast,
)
from passbell.heat.course import course
from passbell.heat.journey import follow
from passbell.heat.looking import look_again
from tests.heat.samples import AIR_FRY, CHOP, TARGET, TIME, TWO, chop, probed


def told(*readings: Reading, exposure: Exposure = AIR_FRY, tested: PlanTime = TIME) -> Forecast:
    answer = forecast(CHOP, exposure, TARGET, readings, tested)
    assert isinstance(answer, Forecast)
    return answer


def test_before_any_reading_it_is_the_plans_own_time() -> None:
    answer = told()
    assert answer.eta_s == pytest.approx(1200, abs=5)
    assert answer.eta_low_s < 0.85 * answer.eta_s
    assert answer.eta_high_s is not None
    assert answer.eta_high_s > 1.15 * answer.eta_s
    assert answer.uncertain
    assert answer.look_again_s == pytest.approx(0.65 * answer.eta_s, abs=2)


def test_readings_move_it_and_narrow_it() -> None:
    truth = chop(0.85)
    reached = follow(truth, course(AIR_FRY, 4.0, 4000), (), TARGET).reach_s
    assert reached is not None
    readings = probed(truth, AIR_FRY, [540.0, 780.0, 960.0])
    answers = [told(*readings[:n]) for n in range(4)]
    misses = [abs(a.from_s + a.eta_s - reached) for a in answers]
    assert misses[3] <= 90 < misses[0]
    widths = [(a.eta_high_s or 0) - a.eta_low_s for a in answers]
    assert widths == sorted(widths, reverse=True)
    assert all(a.eta_low_s <= a.eta_s <= (a.eta_high_s or 0) for a in answers)


def test_a_colder_reading_is_a_later_time() -> None:
    etas = [told(Reading(720, c)).eta_s for c in (28.0, 33.0, 38.0, 43.0)]
    assert etas == sorted(etas, reverse=True)


def test_the_same_question_has_the_same_answer() -> None:
    readings = probed(chop(0.7), TWO, [500.0, 800.0])
    assert told(*readings, exposure=TWO) == told(*readings, exposure=TWO)


def test_a_reading_at_the_target_says_look_now() -> None:
    answer = told(Reading(900, 52.0), Reading(1140, 64.5))
    assert answer.eta_s <= 60
    assert answer.look_again_s <= answer.eta_s


def test_the_slowest_piece_governs() -> None:
    quick, slow = Reading(720, 42.0, "1"), Reading(725, 33.0, "2")
    answer = told(quick, slow)
    assert answer.piece == "2"
    assert answer.eta_s == pytest.approx(told(slow).eta_s, abs=45)


def test_a_plan_tested_otherwise_calibrates_with_what_it_met() -> None:
    """PlanTime at 325 °F, cooked hotter today: earlier than the plan says."""
    hotter = Exposure((Segment(0.0, 204.4, "air_fry"),))
    answer = told(exposure=hotter, tested=PlanTime(1200.0, AIR_FRY))
    assert answer.eta_s < 1100


def test_an_unexpected_reading_widens_the_band_and_says_so() -> None:
    plain = told(Reading(600, 30.0))
    odd = told(Reading(600, 55.0))
    assert plain.odd == ()
    assert [one.kind for one in odd.odd] == ["hotter"]
    cold = told(Reading(1000, 12.0))
    assert [one.kind for one in cold.odd] == ["outside"]


ODD = [
    ((Reading(600, 30.0), Reading(800, 24.0)), "falling"),
    ((Reading(600, 30.0), Reading(840, 30.1)), "flat"),
    ((Reading(600, 30.0), Reading(700, 58.0)), "jumping"),
    ((Reading(600, 130.0),), "impossible"),
    ((Reading(600, 40.0), Reading(620, 4.0), Reading(660, 43.0)), "slip"),
]


@pytest.mark.parametrize(("readings", "kind"), ODD)
def test_implausible_readings_are_named(readings: tuple[Reading, ...], kind: str) -> None:
    answer = told(*readings)
    assert kind in [one.kind for one in answer.odd]
    assert all(one.sentence for one in answer.odd)


def test_ordinary_readings_are_not_called_odd() -> None:
    for coefficient in (0.5, 0.65, 0.9):
        answer = told(*probed(chop(coefficient), AIR_FRY, [420.0, 660.0, 840.0]))
        assert answer.odd == ()


def test_an_impossible_reading_is_left_out() -> None:
    good = Reading(660, 31.0)
    with_it = told(good, Reading(700, 130.0))
    assert with_it.from_s + with_it.eta_s == pytest.approx(660 + told(good).eta_s, rel=0.08)


def test_a_slip_between_readings_is_left_out_and_a_colder_spot_is_not() -> None:
    first, last = Reading(660, 31.0), Reading(720, 34.0)
    plain = told(first, last)
    slip = told(first, Reading(690, 2.0), last)
    assert (slip.eta_s, slip.eta_low_s) == pytest.approx((plain.eta_s, plain.eta_low_s), abs=60)
    colder = told(first, Reading(690, 20.0), last)
    assert colder.eta_s > plain.eta_s + 30
    assert "slip" not in [one.kind for one in colder.odd]


def test_no_forecast_when_nothing_fits() -> None:
    answer = forecast(CHOP, AIR_FRY, 120.0, (), TIME)
    assert isinstance(answer, NoForecast)
    assert answer.reason == "does_not_fit"
    assert "size" in answer.sentence


def test_a_target_that_readings_show_out_of_reach_is_said() -> None:
    """A braise target in a gentle oven: the cap lies near it, and the piece is far behind."""
    roast = Piece(0.0, 20.0, "pork_whole", 4.0)
    gentle = Exposure((Segment(0.0, 120.0, "bake"),))
    answer = forecast(roast, gentle, 86.0, (Reading(5400, 22.0),), PlanTime(7200.0))
    if isinstance(answer, Forecast):
        assert answer.eta_high_s is None or answer.eta_high_s > 3600
    else:
        assert answer.reason == "beyond_reach"


def test_the_rise_is_a_reminder_of_the_right_size() -> None:
    answer = told(*probed(chop(0.65), AIR_FRY, [700.0, 950.0]))
    assert 3 < answer.rise_c < 8
    assert 120 < answer.rise_peak_s < 420


def test_nothing_it_says_is_a_verdict() -> None:
    answers = [told(), told(Reading(600, 130.0)), told(Reading(600, 30.0), Reading(900, 20.0))]
    nothing = forecast(CHOP, AIR_FRY, 150.0, (), TIME)
    texts = json.dumps([repr(a) for a in [*answers, nothing]]).casefold()
    assert not any(word in texts for word in (" done", "safe", "cooked", "ready"))


def test_when_to_look() -> None:
    assert look_again(1200, 900, 1600, read=False) == pytest.approx(780)
    assert look_again(600, 400, 900, read=True) == pytest.approx(352)
    assert look_again(300, 250, 360, read=True) == pytest.approx(250)
    assert look_again(60, 10, 400, read=True) == pytest.approx(60)


def test_opening_the_door_more_often_is_later() -> None:
    often = replace(AIR_FRY, doors_s=(200.0, 400.0, 600.0))
    tested = PlanTime(1200.0, AIR_FRY)
    assert told(exposure=often, tested=tested).eta_s > told(tested=tested).eta_s + 30


@pytest.mark.parametrize("minutes", [0.5, 3 * 24 * 60])
def test_the_shortest_and_the_longest_plan_have_an_answer(minutes: float) -> None:
    """A plan may say 72 h, or half a minute: an answer or a reason, and no long wait."""
    for half in (0.5, 12.7, 200.0):
        piece = Piece(0.0, half, "pork_whole", 4.0)
        reading = Reading(0.5 * minutes * 60, 30.0)
        answer = forecast(piece, AIR_FRY, TARGET, (reading,), PlanTime(minutes * 60))
        assert isinstance(answer, Forecast | NoForecast)
        if isinstance(answer, Forecast):
            assert answer.eta_low_s <= answer.eta_s


def test_what_is_odd_about_a_piece_that_does_not_govern_is_named_too() -> None:
    slow, fell = Reading(725, 26.0, "2"), (Reading(600, 46.0, "1"), Reading(720, 40.0, "1"))
    answer = told(fell[0], fell[1], slow)
    assert answer.piece == "2"
    assert [(one.kind, one.at_s) for one in answer.odd if one.kind == "falling"] == [
        ("falling", 720)
    ]
    assert answer.odd[0].sentence.startswith("piece 1: ")
