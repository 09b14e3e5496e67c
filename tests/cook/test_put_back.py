"""Food that came off the heat too early: what the cook is told, and how it goes on.

Minimums: US chart, FSIS (poultry 165 °F; pork whole cuts 145 °F and three minutes of rest).
"""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.alerts import component_alert, held_hot
from passbell.cook.cards import first_cue
from passbell.cook.cue import CueKey
from passbell.cook.expect import safety_rest_end
from passbell.cook.verdicts import verdict
from passbell.units import Temperature
from tests.cook.meals import CHOPS, TRAY, Hand, cooked, plan_of, step

CARROTS, CHICKEN, BEANS = range(3)


def read(hand: Hand, shown: float, places: str = "12", component: int = CHICKEN) -> None:
    """The same reading at every place."""
    for place in places:
        assert hand.say(cm.Probe(component=component, place=place, shown=shown, scale="F")) is None


def alert(hand: Hand, component: int) -> str:
    return component_alert(hand.state, component, hand.now, str)


def too_early(at: int = 34 * 60) -> Hand:
    """The tray supper with the chicken taken out 15 °F below its minimum."""
    hand = cooked(at)
    read(hand, 150.0)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    return hand


def out_of_the_pan(shown: float) -> Hand:
    """The pork out of its pan after one reading."""
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[0][1])
    read(hand, shown, "12", 0)
    assert hand.say(cm.TakeOut(component=0)) is None
    return hand


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


def test_what_shares_its_tray_stays_in_while_it_is_out() -> None:
    hand = too_early().at(45 * 60)
    assert not any("TAKE OUT" in text for text in hand.offered())
    hand.say(cm.PutBack(component=CHICKEN))
    read(hand, 170.0)
    assert sum("TAKE OUT" in text for text in hand.offered()) == 3


def test_what_was_read_off_the_heat_takes_no_place_out() -> None:
    hand = cooked(34 * 60)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    hand.at(36 * 60)
    read(hand, 170.0)
    assert hand.say(cm.PutBack(component=CHICKEN)) is None
    for place in "12":
        assert not any("TAKE OUT chicken" in text for text in hand.offered()), place
        hand.at(hand.now + 60)
        read(hand, 170.0, place)
    assert any("TAKE OUT chicken" in text for text in hand.offered())


def test_a_thermometer_that_reads_high_is_corrected_for_what_was_read_on_the_heat() -> None:
    hand = cooked(34 * 60)
    assert hand.say(cm.SetIce(shown=Temperature(34.0, "F"))) is None
    read(hand, 166.0)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    read(hand, 170.0)
    assert hand.say(cm.PutBack(component=CHICKEN)) is None
    assert not any("TAKE OUT chicken" in text for text in hand.offered())


@pytest.mark.parametrize("end", ["met off the heat", "left out"])
def test_what_shares_its_tray_is_let_go(end: str) -> None:
    hand = too_early().at(40 * 60)
    if end == "left out":
        assert hand.say(cm.Skip(component=CHICKEN)) is None
    else:
        read(hand, 166.0)
        assert alert(hand, CHICKEN) == ""
    assert any("TAKE OUT carrots" in text for text in hand.offered())
    assert not any("PUT BACK" in text for text in hand.offered())


def test_meat_without_a_figure_in_the_chart_holds_nobody_once_it_is_out() -> None:
    """Food Standards Agency: beef steak and other whole cuts may be served rare, no figure."""
    data = {**TRAY, "chart": "uk", "component": [dict(c) for c in TRAY["component"]]}
    data["component"][CHICKEN] |= {"food": "beef_lamb_whole"}
    hand = Hand(plan_of(data)).cook_to(35 * 60)
    hand.say(cm.TakeOut(component=CHICKEN))
    assert not any("PUT BACK chicken" in text for text in hand.offered())
    assert any("TAKE OUT carrots" in text for text in hand.offered())


def test_meat_out_unread_says_so() -> None:
    hand = cooked(32 * 60)
    hand.say(cm.TakeOut(component=CHICKEN))
    words = "minimum not read: put back, keep going"
    assert alert(hand, CHICKEN) == words
    assert any(words in text for text in hand.due())


def test_vegetables_that_touched_raw_meat_go_back_until_the_meat_is_done() -> None:
    hand = cooked(34 * 60)
    assert hand.say(cm.TakeOut(component=CARROTS)) is None
    assert alert(hand, CARROTS) == "touched raw meat: put back, keep going"
    hand.at(35 * 60)
    assert hand.done("PUT BACK carrots").text.endswith("touched raw meat: put back, keep going")
    assert alert(hand, CARROTS) == ""
    assert not any("TAKE OUT carrots" in text for text in hand.offered())
    read(hand, 170.0)
    assert hand.find("TAKE OUT carrots").at >= 35 * 60 + 180, "never put back for a moment only"
    hand.at(38 * 60)
    hand.done("TAKE OUT carrots")
    assert alert(hand, CARROTS) == "", "an earlier remark is about an earlier time"
    assert not any("PUT BACK" in text for text in hand.offered())


def test_a_note_of_the_cook_is_no_remark_about_raw_meat() -> None:
    hand = cooked(33 * 60).at(36 * 60)
    read(hand, 170.0)
    hand.done("TAKE OUT carrots")
    hand.say(cm.Note(text="carrots: touched raw meat: back on the heat", component=CARROTS))
    assert alert(hand, CARROTS) == ""


def test_an_appliance_switched_off_is_on_again() -> None:
    hand = out_of_the_pan(140.0)
    hand.done("SWITCH OFF pan")
    assert hand.state.appliances[0].switched_off is not None
    hand.say(cm.PutBack(component=0))
    assert hand.state.appliances[0].switched_off is None
    assert any("SWITCH OFF pan" in text for text in hand.offered())


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


def test_taking_out_too_early_brings_nothing_forward() -> None:
    """The rest is planned as if it went back now, stayed a look's wait, and then rested."""
    hand = cooked(1900)
    planned = hand.state.schedule.dish_up
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    look, rest, out = 90, 300, 1900
    for now in (1900, 1901, 1930, 2000, 2100, 2160, 2400, 3000, 3600):
        hand.at(now)
        late = now - hand.state.replanned
        assert late <= 60, "planned anew while it waits"
        dish_up = hand.state.schedule.dish_up
        assert dish_up >= planned
        assert dish_up >= hand.state.replanned + look + rest
        assert dish_up >= planned + now - out - late, "what was lost outside is to come"


def test_the_others_are_held_back_while_it_is_out() -> None:
    """Thighs out at 23 minutes, beans planned in at 24: they wait with the thighs' end."""
    hand = cooked(23 * 60)
    planned = hand.find("ADD green beans").at
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    hand.at(24 * 60)
    hand.done("PREPARED? green beans")
    hand.at(27 * 60)
    assert not any("ADD green beans" in text for text in hand.due())
    waiting = hand.find("ADD green beans").at
    assert waiting >= planned + 4 * 60
    hand.say(cm.PutBack(component=CHICKEN))
    assert hand.find("ADD green beans").at == waiting


def test_several_that_came_out_too_early_all_go_back() -> None:
    hand = cooked(34 * 60)
    hand.say(cm.TakeOut(component=CARROTS))
    hand.say(cm.TakeOut(component=CHICKEN))
    hand.at(39 * 60)
    ends = hand.state.schedule.ends
    assert ends[CHICKEN][1] >= hand.state.replanned + 90
    assert ends[CARROTS][1] >= ends[CHICKEN][1]


def test_put_back_as_planned_changes_nothing() -> None:
    hand = too_early().at(36 * 60)
    waiting = hand.state.schedule
    assert hand.state.replanned == 36 * 60
    hand.say(cm.PutBack(component=CHICKEN))
    assert hand.state.schedule.dish_up == waiting.dish_up
    assert hand.state.schedule.ends == waiting.ends


@pytest.mark.parametrize("end", ["met off the heat", "left out"])
def test_what_need_not_go_back_holds_nothing_up(end: str) -> None:
    hand = too_early().at(40 * 60)
    assert hand.state.schedule.dish_up >= 40 * 60 + 90 + 300
    if end == "left out":
        hand.say(cm.Skip(component=CHICKEN))
        assert hand.state.schedule.dish_up <= 40 * 60 + 60
    else:
        read(hand, 166.0)
        assert hand.state.schedule.dish_up <= 40 * 60 + 60
    kept = hand.state.schedule.dish_up
    hand.done("TAKE OUT carrots")
    hand.done("TAKE OUT green beans")
    assert hand.state.schedule.dish_up <= kept


def test_a_look_that_was_put_later_stays_there() -> None:
    """Out and back at once: the forecast's next look is not forgotten, nor dish-up earlier."""
    hand = cooked(34 * 60)
    read(hand, 100.0)
    look = find_look(hand)
    before = hand.state.schedule.dish_up
    hand.say(cm.TakeOut(component=CHICKEN))
    assert hand.state.schedule.dish_up >= before
    hand.say(cm.PutBack(component=CHICKEN))
    assert find_look(hand) >= look
    assert hand.state.schedule.dish_up >= before


def test_put_back_later_is_planned_for_then() -> None:
    hand = too_early()
    cue = hand.find("PUT BACK chicken")
    before = hand.state.schedule.dish_up
    hand.say(cm.PutOff(cue=cue.key.id, by=600))
    assert hand.state.schedule.ends[CHICKEN][1] >= hand.now + 600 + 90
    assert hand.state.schedule.dish_up >= before + 600
    hand.at(hand.now + 600)
    assert any("PUT BACK chicken" in text for text in hand.due())


def find_look(hand: Hand) -> int:
    return hand.find("PROBE chicken").at


def test_what_was_typed_before_the_food_was_in_counts_for_nothing() -> None:
    """The US chart measures food on the heat (FSIS); a number for raw food on the board is none."""
    hand = Hand(TRAY).at(60)
    read(hand, 175.0)
    assert hand.state.log[-1].words.endswith("not in yet, so it counts for nothing")
    assert verdict(hand.state, CHICKEN).verdict == "incomplete"
    hand.cook_to(34 * 60)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    assert "taken out before its minimum was read" in hand.state.remarks[-1].text
    assert "PUT BACK chicken thighs" in hand.offered()[0]


def test_back_dating_the_adding_makes_no_earlier_reading_count() -> None:
    hand = Hand(TRAY)
    due = hand.state.schedule.starts[CHICKEN][1]
    hand.cook_to(due - 1).at(due + 30)
    read(hand, 175.0)
    hand.done("ADD chicken thighs")
    assert hand.say(cm.Earlier()) is None
    assert verdict(hand.state, CHICKEN).verdict == "incomplete"


def left_out(after: int) -> Hand:
    """Carrots that had long enough, on a tray from which raw chicken was taken and left out."""
    oven = {"name": "oven", "preheat": "3 min"}
    meat: dict[str, Any] = {"name": "chicken", "food": "poultry_pieces"}
    meat["steps"] = [step("cook", "x", "30 min", on="oven", until="75 °C")]
    carrots: dict[str, Any] = {"name": "carrots", "food": "plant"}
    carrots["steps"] = [step("cook", "y", "25 min", on="oven"), step("finish", "toss", "4 min")]
    hand = Hand({"title": "t", "serves": 2, "appliance": [oven], "component": [meat, carrots]})
    hand.cook_to(3 * 60 + after * 60)
    assert hand.say(cm.TakeOut(component=0)) is None
    assert hand.say(cm.Skip(component=0)) is None
    return hand


@pytest.mark.parametrize(("after", "stays"), [(27, 3), (29, 3), (35, 3), (20, 10)])
def test_what_lay_with_raw_meat_that_is_left_out_has_its_heat_first(after: int, stays: int) -> None:
    """As long as the meat was to stay, at least the three minutes between two looks at it."""
    hand = left_out(after)
    assert alert(hand, 1) == f"touched raw meat: stays {stays}:00 more"
    assert hand.state.remarks[-1].text == f"carrots: lay with raw chicken; stays in {stays}:00 more"
    assert hand.find("TAKE OUT carrots").at >= hand.now + stays * 60
    hand.at(hand.now + 60)
    assert hand.say(cm.TakeOut(component=1)) is None
    assert hand.state.remarks[-1].text == "carrots: touched raw meat: back on the heat"
    assert any(text.startswith("PUT BACK carrots") for text in hand.offered())


def test_the_first_cue_done_too_soon_is_no_way_round_it() -> None:
    hand = left_out(27)
    hand.at(hand.now + 60).done("TAKE OUT carrots")
    assert hand.state.remarks[-1].text == "carrots: touched raw meat: back on the heat"


def test_what_was_seared_beside_raw_meat_stays_a_while_after_it() -> None:
    pan = {"name": "pan", "preheat": "2 min"}
    oven = {"name": "oven", "preheat": "3 min"}
    chops: dict[str, Any] = {"name": "chops", "food": "pork_whole"}
    sear, roast = step("cook", "sear", "4 min", on="pan"), step("cook", "x", "10 min", on="oven")
    chops["steps"] = [sear, roast]
    onions: dict[str, Any] = {"name": "onions", "food": "plant"}
    onions["steps"] = [step("cook", "y", "6 min", on="pan"), step("finish", "toss", "8 min")]
    meal = {"title": "t", "serves": 2, "appliance": [pan, oven], "component": [chops, onions]}
    hand = Hand(meal)
    hand.cook_to(hand.state.schedule.ends[0][0])
    assert alert(hand, 1) == "touched raw meat: stays 1:00 more"
    hand.at(hand.now + 60)
    assert alert(hand, 1) == ""


def test_meat_that_is_left_out_keeps_nobody_from_dinner() -> None:
    """Its three minutes of rest (FSIS) are of what is on no plate any more."""
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[0][1])
    read(hand, 150.0, "12", 0)
    assert hand.say(cm.TakeOut(component=0)) is None
    assert safety_rest_end(hand.state, 0) == hand.now + 180
    assert hand.say(cm.Skip(component=0)) is None
    assert hand.say(cm.TakeOut(component=1)) is None
    assert hand.say(cm.Done(cue=CueKey("dish_up", 0).id)) is None
    assert verdict(hand.state, 0).rest_s == 180


def test_hands_that_held_raw_meat_are_washed_before_the_key_and_after_its_prep() -> None:
    hand = Hand(TRAY)
    begins = hand.find("PREPARE chicken thighs")
    assert begins.how == "pat dry; then wash hands"
    hand.at(begins.at)
    assert hand.say(cm.Done(cue=begins.key.id)) is None
    assert hand.find("PREPARED? chicken thighs").how == "pat dry; wash hands, then the key"
    assert hand.find("ADD chicken thighs").how == "skin up; wash hands, then the key"
    assert "wash" not in hand.find("PREPARE carrots").how


def test_food_that_waits_says_how_hot_it_is_or_that_nobody_knows() -> None:
    """Hot holding is 140 °F or above (FSIS)."""
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[1][0] - 1)
    assert held_hot(hand.state, 1) == ""
    assert hand.say(cm.TakeOut(component=1)) is None
    assert held_hot(hand.state, 1) == "hold: temperature not known"
    read(hand, 150.0, "1", 1)
    assert held_hot(hand.state, 1) == "hold: 150 °F"
    hand.at(hand.now + 5)
    assert hand.say(cm.SetIce(shown=Temperature.parse("34F"))) is None
    read(hand, 141.5, "1", 1)
    assert "139.5 °F is under 140 °F" in held_hot(hand.state, 1)
    hand.done("FINISH rice")
    assert held_hot(hand.state, 1) == ""


def test_food_that_is_out_is_not_told_to_stay_where_it_is() -> None:
    hand = cooked(34 * 60)
    read(hand, 150.0)
    assert verdict(hand.state, CHICKEN).advice[0].startswith("It stays on the heat; probe")
    hand.at(hand.now + 1)
    assert hand.say(cm.TakeOut(component=CHICKEN)) is None
    assert verdict(hand.state, CHICKEN).advice[0].startswith("Back to the heat; probe")


@pytest.mark.parametrize("way", ["out", "off"])
def test_a_hold_begins_anew_once_the_heat_is_back(way: str) -> None:
    """UK chart: 70 °C for two minutes (FSA 'Prove it'); half an hour of cooling is none of them."""
    hand = Hand(plan_of(CHOPS, chart="uk"))
    hand.cook_to(hand.state.schedule.ends[0][1])
    out, back = (
        (cm.TakeOut(component=0), cm.PutBack(component=0))
        if way == "out"
        else (cm.HeatOff(), cm.HeatOn())
    )
    hot = cm.Probe(component=0, place="1", shown=71.0, scale="C")
    assert hand.say(hot) is None
    assert hand.say(out) is None
    hand.at(hand.now + 1800)
    assert hand.say(back) is None
    hand.at(hand.now + 30)
    assert hand.say(hot) is None
    judged = verdict(hand.state, 0)
    assert (judged.verdict, judged.hold_until) == ("hold", hand.now + 120)
    assert not any("TAKE OUT pork" in text for text in hand.offered())
    hand.at(hand.now + 120)
    assert hand.say(hot) is None
    assert verdict(hand.state, 0).verdict == "met"
    assert any("TAKE OUT pork" in text for text in hand.offered())


def test_food_that_waits_in_a_hot_room_has_one_hour() -> None:
    """FSIS: two hours outside the fridge, one above 90 °F; the program does not know the room."""
    hand = out_of_the_pan(150.0)
    left = hand.now
    for minutes, words in (
        (44, ""),
        (45, "Over 90 °F / 32 °C? 15 min left of 1 h."),
        (60, "Over 90 °F / 32 °C? Throw it away."),
        (105, "Chill or heat it: 15 min left of 2 h."),
        (120, "Throw it away: out for 2 h or longer."),
    ):
        hand.at(left + 60 * minutes)
        assert alert(hand, 0) == words
