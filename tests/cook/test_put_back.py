"""Food that came off the heat too early: what the cook is told, and how it goes on.

Minimums: US chart, FSIS (poultry 165 °F; pork whole cuts 145 °F and three minutes of rest).
"""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.cards import first_cue
from passbell.cook.expect import safety_rest_end
from tests.cook.meals import Hand, cooked, plan_of, step
from tests.cook.too_early import BEANS, CARROTS, CHICKEN, alert, out_of_the_pan, read, too_early


def test_meat_out_below_its_minimum_is_to_go_back_at_once() -> None:
    hand = too_early()
    cue = first_cue(hand.state)
    assert cue is not None
    assert cue.text == (
        "PUT BACK chicken thighs — below its minimum by 15 °F: put back, keep going"
    )
    assert cue.text in hand.due()
    assert alert(hand, CHICKEN) == "BELOW by 15 °F: put back, keep going"
    assert not any("WASH" in text for text in hand.offered()), "the tongs are needed first"


def test_put_back_goes_on_where_it_was_and_is_read_again() -> None:
    hand = too_early()
    before = hand.state.steps[CHICKEN][1]
    hand.at(36 * 60)
    hand.done("PUT BACK")
    real = hand.state.steps[CHICKEN][1]
    assert real.running
    assert real.began == before.began
    assert real.off == 120, "the two minutes outside did not cook it"
    assert real.look_at == 36 * 60 + 90, "a tenth of fourteen minutes, by the half minute"
    assert not any("PUT BACK" in text for text in hand.offered())
    assert hand.find("PROBE chicken").at == 36 * 60 + 90
    hand.at(36 * 60 + 90)
    read(hand, 170.0)
    assert any("TAKE OUT chicken" in text for text in hand.offered())
    hand.done("TAKE OUT chicken")
    assert hand.state.schedule.dish_up == hand.now + 300, "its whole rest, from now"


def test_it_stays_a_little_even_where_its_time_was_over() -> None:
    hand = cooked(36 * 60).at(40 * 60)
    hand.say(cm.TakeOut(component=CHICKEN))
    hand.say(cm.PutBack(component=CHICKEN))
    assert hand.state.schedule.ends[CHICKEN][1] == 40 * 60 + 90


def test_the_rest_after_it_begins_anew() -> None:
    hand = too_early().at(41 * 60)
    assert hand.state.steps[CHICKEN][2].ended == 39 * 60
    assert not any("RESTED" in text for text in hand.offered()), "it belongs on the heat"
    read(hand, 166.0)
    hand.done("RESTED")
    assert hand.say(cm.PutBack(component=CHICKEN)) is None
    assert hand.state.steps[CHICKEN][2].began is None
    assert any("RESTED" in text for text in hand.offered())


def test_a_safety_rest_begins_anew_too() -> None:
    hand = out_of_the_pan(146.0)
    out = hand.now
    assert safety_rest_end(hand.state, 0) == out + 180
    hand.at(out + 100)
    assert hand.say(cm.PutBack(component=0)) is None
    assert safety_rest_end(hand.state, 0) is None
    hand.at(out + 200)
    refusal = hand.say(cm.Done(cue=hand.find("DISH UP").key.id))
    assert refusal == "pork chops is still on the heat: take it out first"
    hand.done("TAKE OUT pork")
    assert safety_rest_end(hand.state, 0) == out + 200 + 180
    refusal = hand.say(cm.Done(cue=hand.find("FINISH pork").key.id))
    assert refusal is not None
    assert "rests 3:00 more" in refusal


def test_meat_found_raw_when_it_is_cut_goes_back_and_is_finished_again() -> None:
    hand = out_of_the_pan(140.0)
    hand.at(hand.now + 180)
    hand.done("FINISH pork")
    assert hand.say(cm.PutBack(component=0)) is None
    assert hand.state.steps[0][3].began is None
    assert any("PROBE pork" in text for text in hand.offered())


def test_meat_out_unread_says_so() -> None:
    hand = cooked(32 * 60)
    hand.say(cm.TakeOut(component=CHICKEN))
    words = "minimum not read: put back, keep going"
    assert alert(hand, CHICKEN) == words
    assert any(words in text for text in hand.due())


def test_an_appliance_switched_off_is_on_again() -> None:
    hand = out_of_the_pan(140.0)
    hand.done("SWITCH OFF pan")
    assert hand.state.appliances[0].switched_off is not None
    hand.say(cm.PutBack(component=0))
    assert hand.state.appliances[0].switched_off is None
    assert any("SWITCH OFF pan" in text for text in hand.offered())


def test_what_goes_back_into_an_appliance_that_is_off_says_to_switch_it_on_first() -> None:
    hand = out_of_the_pan(140.0)
    assert hand.find("PUT BACK").text.endswith(": put back, keep going")
    hand.done("SWITCH OFF pan")
    assert hand.find("PUT BACK").text.endswith("keep going; switch the pan on again first")
    hand.say(cm.TakeBack())
    assert hand.find("PUT BACK").text.endswith(": put back, keep going")


def test_the_heat_of_the_last_stage_is_said_with_it() -> None:
    hand = cooked(42 * 60)
    read(hand, 170.0)
    for _ in range(3):
        hand.done("TAKE OUT")
    hand.done("SWITCH OFF oven")
    assert not any("PUT BACK" in text for text in hand.offered())
    read(hand, 150.0)
    assert hand.find("PUT BACK chicken").text.endswith(
        "keep going; switch the oven on again first, air fry 375 °F"
    )


@pytest.mark.parametrize(("off", "on"), [(33, 40), (35, 40), (33, 35)])
def test_time_without_heat_counts_once(off: int, on: int) -> None:
    """Out from 34:00 to 38:00, the heat off from and to: what did not cook it is counted once."""
    hand = cooked(32 * 60)
    moves: list[tuple[int, cm.Command]] = [
        (off, cm.HeatOff()),
        (34, cm.TakeOut(component=CHICKEN)),
        (38, cm.PutBack(component=CHICKEN)),
        (on, cm.HeatOn()),
    ]
    for minute, command in sorted(moves, key=lambda move: move[0]):
        hand.at(minute * 60)
        assert hand.say(command) is None
    hand.at(41 * 60)
    assert hand.state.steps[CHICKEN][1].off == 60 * (max(on, 38) - min(off, 34))


def test_it_cannot_have_gone_back_earlier_than_was_said() -> None:
    hand = too_early().at(36 * 60)
    hand.done("PUT BACK")
    assert hand.say(cm.Earlier()) == "it cannot have been earlier than it was due"


def test_take_back_of_putting_back() -> None:
    hand = too_early().at(36 * 60)
    before = hand.state.steps
    hand.say(cm.PutBack(component=CHICKEN))
    assert hand.say(cm.TakeBack()) is None
    assert hand.state.steps == before
    assert any("PUT BACK" in text for text in hand.due())


@pytest.mark.parametrize(
    ("component", "why"),
    [
        (9, "there is no such component"),
        (CARROTS, "carrots is on the heat"),
        (BEANS, "green beans has not been on the heat yet: add it"),
    ],
)
def test_what_cannot_go_back(component: int, why: str) -> None:
    hand = cooked(20 * 60)
    before = hand.state
    assert hand.say(cm.PutBack(component=component)) == why
    assert hand.state == before
    hand.say(cm.Skip(component=BEANS))
    assert hand.say(cm.PutBack(component=BEANS)) == "green beans is left out of this meal"


def test_a_sear_can_go_on_before_the_oven() -> None:
    data: dict[str, Any] = {
        "title": "Invented sear",
        "serves": 2,
        "appliance": [{"name": "pan"}, {"name": "oven"}],
        "component": [
            {
                "name": "chop",
                "food": "pork_whole",
                "steps": [
                    step("cook", "sear", "4 min", on="pan"),
                    step("cook", "through", "8 min", on="oven", until="63 °C"),
                ],
            }
        ],
    }
    hand = Hand(plan_of(data))
    hand.done("ADD chop")
    hand.at(200)
    hand.say(cm.TakeOut(component=0))
    assert not any("PUT BACK" in text for text in hand.offered()), "it goes into the oven next"
    assert hand.say(cm.PutBack(component=0)) is None
    assert hand.state.steps[0][0].running
