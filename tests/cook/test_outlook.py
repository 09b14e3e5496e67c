"""The forecast in a cook: what is asked of the heat room, what comes of it, and what never does.

The meal is invented. The forecast's own checks against published values stand with the heat room.
"""

import re
from copy import copy
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.engine import tell
from passbell.cook.fold import fold
from passbell.cook.outlook import Inquiry, Outlook, answer, inquiry, moved_end, outlook
from passbell.cook.outlook_words import about, expected, more_lines, odd_line, still_rising
from passbell.cook.prepare import prepared
from passbell.cook.preview import effects
from passbell.cook.share import share_at_end, share_now
from passbell.cook.state import CookState
from passbell.cook.verdicts import may_leave, verdict
from passbell.cook.whose import NotUnderstood
from passbell.cook.words import read_words
from passbell.heat import NoForecast
from passbell.plan.model import ChartKey
from passbell.units.temperature import Scale
from tests.cook.meals import Hand, plan_of, step

ROAST: dict[str, Any] = {
    "title": "Invented chops and potatoes",
    "serves": 2,
    "appliance": [
        {
            "name": "oven",
            "preheat": "5 min",
            "stage": [{"name": "roast", "mode": "convection", "temp": "200 °C"}],
        }
    ],
    "component": [
        {
            "name": "chops",
            "food": "pork_whole",
            "size": "30 mm",
            "pieces": 2,
            "steps": [
                step("cook", "on the rack", "24 min", on="oven", until="63 °C", check="16 min"),
                step("finish", "plate", "1 min"),
            ],
        },
        {
            "name": "potatoes",
            "food": "plant",
            "ingredients": ["potatoes in chunks"],
            "size": "30 mm",
            "steps": [
                step("cook", "under them", "35 min", on="oven",
                     during=[{"at": "15 min", "do": "turn"}]),
                step("finish", "into a bowl", "1 min"),
            ],
        },
    ],
}  # fmt: skip
CHOPS, POTATOES = 0, 1


@cache
def _roasted() -> Hand:
    hand = Hand(ROAST)
    return hand.cook_to(hand.state.schedule.starts[CHOPS][0] + 16 * 60 - 1)


def roasting() -> Hand:
    """The meal with everything in and sixteen minutes of the chops gone."""
    hand = copy(_roasted())
    hand.events = [*hand.events]
    return hand


def read(hand: Hand, shown: float, place: str | None = None) -> None:
    command = cm.Probe(component=CHOPS, place=place, shown=shown, scale="C")
    assert hand.say(command) is None


def looked(state: CookState) -> Outlook:
    found = outlook(state, CHOPS)
    assert isinstance(found, Outlook)
    return found


def asked(state: CookState) -> Inquiry:
    found = inquiry(state, CHOPS)
    assert isinstance(found, Inquiry)
    return found


def test_the_question_is_put_from_what_happened() -> None:
    hand = roasting()
    zero = hand.state.steps[CHOPS][0].began
    assert zero is not None
    potatoes = hand.state.steps[POTATOES][0]
    turned = dict(potatoes.acted_at)[0]
    assert asked(hand.state).zero == zero
    assert float(turned - zero) in asked(hand.state).exposure.doors_s
    read(hand, 40.0)
    assert [r.temp_c for r in asked(hand.state).readings] == [40.0]
    assert float(hand.now - zero) in asked(hand.state).exposure.doors_s


def test_a_cook_as_planned_is_asked_as_planned() -> None:
    """Before any reading the answer is the plan's own time, whatever was turned on the way."""
    hand = roasting()
    question = asked(hand.state)
    assert question.exposure == question.tested.exposure
    planned = hand.state.first.ends[CHOPS][0] - hand.state.first.starts[CHOPS][0]
    assert looked(hand.state).at - question.zero == pytest.approx(planned, abs=30)


def test_the_thermometers_check_corrects_what_is_asked() -> None:
    hand = roasting()
    read(hand, 40.0)
    hand.say(read_words("ice 1 C", hand.state))
    assert asked(hand.state).readings[0].temp_c == pytest.approx(39.0)


def test_readings_off_the_heat_are_not_asked_about() -> None:
    hand = roasting()
    read(hand, 40.0)
    hand.say(cm.TakeOut(component=CHOPS))
    hand.at(hand.now + 60)
    read(hand, 45.0)
    assert len(asked(hand.state).readings) == 1


def test_a_replay_asks_the_same() -> None:
    hand = roasting()
    read(hand, 38.0)
    hand.at(hand.now + 120)
    hand.say(read_words("heat 220 C", hand.state))
    hand.say(cm.HeatOff())
    hand.at(hand.now + 90)
    hand.say(cm.HeatOn())
    hand.at(hand.now + 200)
    again = fold(prepared(plan_of(ROAST)), hand.events)
    assert again == hand.state
    assert asked(again) == asked(hand.state)


def test_the_next_look_comes_from_the_forecast_and_is_a_fact_of_the_record() -> None:
    hand = roasting()
    read(hand, 36.0, "1")
    read(hand, 37.0, "2")
    found = [e for e in hand.events if e.type == "look_again"]
    assert hand.state.steps[CHOPS][0].look_at == found[-1].look_at
    assert hand.now + 60 <= found[-1].look_at <= looked(hand.state).at


def test_the_slowest_piece_governs() -> None:
    hand = roasting()
    read(hand, 44.0, "1")
    read(hand, 34.0, "2")
    assert looked(hand.state).forecast.piece == "2"


def test_no_forecast_moves_a_verdict_or_offers_raw_meat_for_taking_out() -> None:
    """However sure the forecast: what may leave is decided by readings on the heat alone."""
    hand = roasting()
    read(hand, 60.0, "1")
    read(hand, 60.0, "2")
    late = looked(hand.state).at + 600
    hand.at(late)
    assert looked(hand.state).at < late
    assert not may_leave(hand.state, CHOPS, 0)
    assert verdict(hand.state, CHOPS).verdict == "below"
    assert not any(text.startswith("TAKE OUT chops") for text in hand.offered())
    said = " ".join(
        [expected(looked(hand.state), late, None), *more_lines(looked(hand.state), late)]
    )
    assert "probe now" in said
    assert not any(w in said.casefold() for w in ("take it out", "take out", " done", "safe"))


def test_a_knob_turned_moves_the_forecast_and_is_told() -> None:
    hand = roasting()
    read(hand, 36.0, "1")
    before = looked(hand.state)
    assert hand.say(read_words("heat 240 C", hand.state)) is None
    hotter = looked(hand.state)
    hand.say(cm.TakeBack())
    hand.say(read_words("heat oven bake 170 C", hand.state))
    cooler = looked(hand.state)
    assert hotter.at < before.at < cooler.at
    assert cooler.turned
    assert any("as you set it" in line for line in more_lines(cooler, hand.now))
    assert hand.state.log[-1].words == "oven set to bake 170 °C"


def test_a_knob_turned_below_the_floor_for_meat_is_noted() -> None:
    """USDA FSIS: meat is not to be roasted in an oven under 325 °F."""
    hand = roasting()
    hand.say(read_words("heat 150", hand.state))
    assert any("325 °F" in r.text for r in hand.state.remarks)


def test_the_next_stage_ends_what_was_turned() -> None:
    two = {"name": "brown", "mode": "convection", "temp": "230 °C", "time": "5 min"}
    one = {"name": "roast", "mode": "convection", "temp": "200 °C", "time": "30 min"}
    plan = plan_of(ROAST, appliance=[{"name": "oven", "stage": [one, two]}])
    hand = Hand(plan)
    hand.cook_to(hand.state.schedule.starts[CHOPS][0] + 120)
    hand.say(read_words("heat 180", hand.state))
    airs = [round(s.air_c) for s in asked(hand.state).exposure.segments]
    assert airs[0] == 200
    assert 180 in airs
    assert airs[-1] == 230 or asked(hand.state).exposure.segments[-1].air_c == 180


@pytest.mark.parametrize(
    ("words", "said"), [("heat pan 200 C", "no oven setting"), ("heat", "no reading")]
)
def test_what_cannot_be_set_is_said(words: str, said: str) -> None:
    with pytest.raises(NotUnderstood, match=said):
        read_words(words, roasting().state)


def test_an_oven_without_a_setting_or_not_on_is_refused() -> None:
    hand = roasting()
    assert "say what" in (hand.say(read_words("heat oven", hand.state)) or "")
    assert "not on" in (Hand(ROAST).say(cm.SetHeat(appliance=0, mode="fan")) or "")


def test_heat_that_was_off_makes_it_later_and_less_sure() -> None:
    hand = roasting()
    read(hand, 36.0, "1")
    before = looked(hand.state)
    hand.say(cm.HeatOff())
    hand.at(hand.now + 240)
    hand.say(cm.HeatOn())
    after = looked(hand.state)
    assert after.stopped
    assert before.at + 60 < after.at
    assert any("heat was off" in line for line in more_lines(after, hand.now))


def test_food_that_was_out_and_went_back_has_cooled_meanwhile() -> None:
    hand = roasting()
    read(hand, 36.0, "1")
    before = looked(hand.state)
    hand.say(cm.TakeOut(component=CHOPS))
    hand.at(hand.now + 300)
    assert hand.say(read_words("put back chops", hand.state)) is None
    after = looked(hand.state)
    modes = [s.mode for s in asked(hand.state).exposure.segments]
    assert modes == ["convection", "rest", "convection"]
    assert before.at + 240 < after.at < before.at + 1200


def test_an_end_that_moves_is_offered_and_never_taken() -> None:
    hand = roasting()
    read(hand, 24.0, "1")
    ends = hand.state.schedule.ends[CHOPS][0]
    by = moved_end(hand.state, CHOPS, looked(hand.state))
    assert by is not None
    assert by >= 60
    hand.at(hand.now + 30)
    assert hand.state.steps[CHOPS][0].extra == 0
    assert abs(hand.state.schedule.ends[CHOPS][0] - ends) < by
    command = read_words("as forecast", hand.state)
    assert isinstance(command, cm.ExtendStep)
    assert command.component == CHOPS
    outcome = tell(hand.state, command, hand.now)
    assert outcome.state.steps[CHOPS][0].extra == command.by
    assert outcome.state.schedule.dish_up > hand.state.schedule.dish_up
    found = outlook(outcome.state, CHOPS)
    assert moved_end(outcome.state, CHOPS, found) is None


def test_without_a_reading_nothing_is_offered() -> None:
    hand = roasting()
    assert moved_end(hand.state, CHOPS, looked(hand.state)) is None
    with pytest.raises(NotUnderstood, match="moves nothing"):
        read_words("as forecast", hand.state)


def test_odd_readings_are_named() -> None:
    hand = roasting()
    read(hand, 45.0, "1")
    hand.at(hand.now + 120)
    read(hand, 38.0, "1")
    assert "has fallen" in odd_line(looked(hand.state))


def test_after_an_odd_reading_the_next_look_is_soon() -> None:
    hand = roasting()
    read(hand, 44.0, "1")
    read(hand, 4.0, "2")
    look = hand.state.steps[CHOPS][0].look_at
    assert odd_line(looked(hand.state))
    assert look is not None
    assert look - hand.now <= 300


def test_a_second_set_of_the_same_size_is_answered_once() -> None:
    hand = roasting()
    read(hand, 40.0)
    first = answer(asked(hand.state))
    assert answer(asked(hand.at(hand.now + 3).state)) is first


def test_out_of_scope_has_its_reason_and_other_food_none() -> None:
    plain = plan_of(ROAST)
    bones = plain.components[0].model_copy(update={"name": "chops, bone-in"})
    hand = Hand(plain.model_copy(update={"components": (bones, plain.components[1])}))
    hand.cook_to(hand.state.schedule.starts[CHOPS][0] + 60)
    found = outlook(hand.state, CHOPS)
    assert isinstance(found, NoForecast)
    assert found.reason == "bones"
    assert outlook(hand.state, POTATOES) is None


def test_off_the_heat_the_rise_is_a_reminder() -> None:
    hand = roasting()
    for place in ("1", "2"):
        read(hand, 64.0, place)
    hand.done("TAKE OUT chops")
    found = looked(hand.state)
    assert "probe again" in still_rising(found, hand.now + 30)
    assert still_rising(found, hand.now + 3600) == ""


def test_how_long_is_said_as_it_may_be_trusted() -> None:
    assert [about(s) for s in (20, 90, 200, 300, 700, 4000)] == [
        "½ min", "1½ min", "3½ min", "5 min", "12 min", "1 h 7 min",
    ]  # fmt: skip


def test_vegetables_have_a_share_from_the_real_history() -> None:
    """As planned it comes out at 1; heat that was off leaves it short, longer takes it over."""
    hand = roasting()
    now = share_now(hand.state, POTATOES, hand.now)
    end = share_at_end(hand.state, POTATOES)
    assert now is not None
    assert end is not None
    assert now.share < 0.9
    assert end.share == pytest.approx(1.0, abs=0.06)
    longer = tell(hand.state, cm.ExtendStep(component=POTATOES, by=300), hand.now).state
    over = share_at_end(longer, POTATOES)
    assert over is not None
    assert over.share > 1.25
    assert "over" in over.words
    hand.say(cm.HeatOff())
    hand.at(hand.now + 300)
    short = share_now(hand.state, POTATOES, hand.now)
    assert short is not None
    assert now.share < short.share < 1
    assert share_now(hand.state, CHOPS, hand.now) is None


def test_a_preview_says_what_a_change_does_to_the_share() -> None:
    hand = roasting()
    after = tell(hand.state, cm.ExtendStep(component=POTATOES, by=240), hand.now).state
    words = next(e.words for e in effects(hand.state, after) if e.name == "potatoes")
    told = re.fullmatch(r"4 min later, (\d+) % cooked \(else (\d+) %\)", words)
    assert told is not None
    assert int(told[1]) > int(told[2])


@pytest.mark.parametrize(("chart", "scale", "named"), [
    ("us", "C", "63 °C"), ("canada", "C", "71 °C"), ("canada", "F", "160 °F"),
    ("strictest", "C", "71 °C"),
])  # fmt: skip
def test_what_is_waited_for_is_what_governs_taking_out(
    chart: ChartKey, scale: Scale, named: str
) -> None:
    """Whole pork: US 145 °F, 63 °C; Canada 71 °C, 160 °F (safe cooking temperatures, Government of
    Canada). The plan's 63 °C is not named where the chart of the day asks for more."""
    hand = roasting()
    hand.state = replace(hand.state, chart=chart, scale=scale)
    read(hand, 40.0, "1")
    read(hand, 40.0, "2")
    found = looked(hand.state)
    assert str(found.until) == named
    assert expected(found, hand.now, None).startswith(f"{named} expected")
    assert asked(hand.state).tested.target_c == 63.0


def test_more_to_reach_takes_longer() -> None:
    ends = []
    charts: tuple[ChartKey, ...] = ("us", "canada")
    for chart in charts:
        hand = roasting()
        hand.state = replace(hand.state, chart=chart)
        read(hand, 45.0, "1")
        read(hand, 45.0, "2")
        ends.append(looked(hand.state).at)
    assert ends[1] > ends[0] + 60
