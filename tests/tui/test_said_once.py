"""What the screen says of one thing in two places agrees, and its reasons fit what they explain."""

from typing import Any

from passbell.cook.serving import ServingLater
from passbell.session.outlooks import Outlooks
from passbell.tui.letters import spelled
from passbell.tui.live_change import serving_lines
from passbell.tui.paint import span
from passbell.tui.views.probe import HEAT_OFF
from passbell.tui.widgets.headline import draw_head, head_part
from passbell.tui.widgets.now import draw_now
from passbell.tui.widgets.now_part import now_part
from tests.cook.meals import step
from tests.tui.drawn import text, texts
from tests.tui.live_kitchen import Kitchen
from tests.tui.real_cook import RealCook

ONE_PAIR: dict[str, Any] = {
    "title": "Invented squash and peas",
    "serves": 2,
    "slack": "3 min",
    "appliance": [{"name": "pan"}],
    "component": [
        {
            "name": "squash",
            "food": "plant",
            "steps": [step("prep", "dice", "4 min"), step("cook", "fry", "40 min", on="pan")],
        },
        {
            "name": "peas",
            "food": "plant",
            "steps": [step("prep", "pod", "6 min"), step("cook", "boil", "5 min", on="pan")],
        },
    ],
}
"""One pair of hands, and seven minutes until something is to go in."""
SHORT = [step("prep", "pod", "2 min"), step("cook", "boil", "5 min", on="pan")]


def test_an_earlier_dish_up_is_explained_by_what_was_ready_sooner() -> None:
    cook = RealCook().to(3300)
    found = cook.desk.tick().dish_up
    assert found.drift <= -30
    assert found.reason.endswith("sooner")
    assert "longer" not in found.reason


def test_what_is_on_the_table_was_served() -> None:
    view = RealCook().to(3300).desk.tick()
    assert view.dish_up.served
    assert "served 18:2" in text(draw_head(head_part(view), 80))
    assert ", now " not in text(draw_head(head_part(view), 80))


def test_below_its_minimum_only_the_forecast_says_when_to_look_again() -> None:
    cook = RealCook().to(2700, probing=False)
    assert cook.desk.enter("1 158")
    probe = cook.desk.tick().probe
    assert "It stays on the heat; probe place 2 too, then place 1 again." in probe.advice
    assert any("look in" in line for line in probe.expect)


def test_with_the_heat_off_the_forecast_does_not_ask_for_more_heat() -> None:
    cook = RealCook().to(2200)
    cook.desk._outlooks = Outlooks(beside=False)
    cook.clock.move(1)
    cook.desk.press("heat_off")
    cook.clock.move(1)
    assert cook.desk.tick().probe.expect == (HEAT_OFF,)


def test_an_oven_that_is_to_be_on_by_now_has_no_countdown() -> None:
    cook = RealCook()
    assert cook.desk.tick().appliances[0].coming == "convection roast 400 °F to be on by now"


def test_an_act_at_an_oven_without_heat_waits_for_it_everywhere() -> None:
    cook = RealCook().to(2180)
    cook.clock.move(1)
    cook.desk.press("heat_off")
    cook.clock.move(40)
    view = cook.desk.tick()
    add = view.cards[0].lines[0]
    assert (add.verb, add.what, add.waits) == ("ADD", "green beans", "once the oven is on again")
    assert view.rows[3].left is None
    assert view.hands.waits == add.waits
    drawn = texts(draw_now(now_part(view), 80, 9, None))
    assert "once the oven is on again" in drawn
    assert spelled("NO HEAT", 70, 3)[0] in drawn
    assert not any(run.role.endswith("digits") for line in draw_now(now_part(view), 80, 9, None)
                   for run in line if run.text.strip()), "no figure that is none"  # fmt: skip
    cook.desk.press("heat_off")
    cook.clock.move(1)
    assert cook.desk.tick().cards[0].lines[0].waits == ""


def test_the_minutes_off_are_those_between_the_times_shown() -> None:
    cook, seen = RealCook(), set()
    for moment in range(60, 3300, 61):
        dish = cook.to(moment).desk.tick().dish_up
        planned, expected = (
            60 * int(shown[:2]) + int(shown[3:]) for shown in (dish.planned, dish.expected)
        )
        assert dish.minutes == expected - planned
        assert abs(dish.minutes * 60 - dish.drift) < 60
        seen.add(dish.minutes)
    assert seen > {0}


def test_what_follows_stands_in_order_of_time() -> None:
    cook = RealCook()
    for moment in range(60, 3000, 61):
        view = cook.to(moment).desk.tick()
        coming = [cue.due_in for cue in view.following if cue.tone == "coming"]
        assert coming == sorted(coming)


def test_nothing_is_proposed_for_meanwhile_to_hands_that_are_away() -> None:
    cook = RealCook().to(1500)
    assert cook.desk.tick().hands.prepare
    cook.clock.move(1)
    cook.desk.press("away")
    cook.clock.move(1)
    assert not cook.desk.tick().hands.prepare


def test_the_probe_is_to_be_washed_when_a_reading_is_near() -> None:
    cook = RealCook().to(2120)
    probe = cook.desk.tick().probe
    assert probe.wash
    assert not probe.wash_now
    cook = RealCook().to(2700, probing=False)
    assert cook.desk.tick().probe.wash_now
    assert cook.desk.enter("1 158")
    cook.clock.move(5)
    assert cook.desk.tick().probe.wash_now, "it has just been in raw meat"


def test_a_time_to_dial_in_is_no_time_of_day() -> None:
    view = RealCook().to(1760).desk.tick()
    assert view.cards[0].lines[2].how == "air fry 400 °F, set 22 min"


def test_whether_it_is_hot_is_asked_with_the_keys_that_answer() -> None:
    view = RealCook().to(600).desk.tick()
    keys = {"done": "Enter", "not_ready": "u"}
    drawn = texts(draw_now(now_part(view, lambda name: keys.get(name, "")), 80, 9, None))
    assert "Enter: yes, u: not yet" in drawn


def test_a_choice_that_ends_now_has_no_countdown() -> None:
    found = ServingLater((), 600, "beans")
    assert serving_lines(found, lambda at: "18:20", 480)[0] == (
        "choose by 18:20, in 2:00: then ADD beans"
    )
    assert serving_lines(found, lambda at: "18:20", 600)[0] == "choose now: ADD beans is due"


def test_what_the_hands_are_at_is_a_question_only_once_its_time_is_up() -> None:
    cook = RealCook()
    cook.clock.move(1)
    cook.desk.press("done")
    cook.clock.move(1)
    begins = cook.desk.tick().cards[0].lines[0]
    assert begins.verb == "PREPARE"
    cook.desk.press("done")
    cook.clock.move(60)
    line = cook.desk.tick().cards[0].lines[0]
    assert (line.verb, line.what) == ("PREPARING", begins.what)
    drawn = texts(draw_now(now_part(cook.desk.tick()), 80, 10, None))
    assert f"about {span(line.due_in)} left" in drawn
    cook.clock.move(line.due_in)
    assert cook.desk.tick().cards[0].lines[0].verb == "PREPARED?"


def test_busy_hands_have_time_for_more_only_once_they_are_free() -> None:
    kitchen = Kitchen(ONE_PAIR)
    kitchen.press("done").wait(30)
    found = kitchen.view.hands
    add = kitchen.view.following[0]
    assert (found.busy, found.prepare) == ("squash: dice", "peas, 6 min")
    assert add.verb == "ADD"
    assert add.due_in > 6 * 60, "there would be time if the hands were free"
    assert (found.fits, found.before) == (False, f"{add.verb} {add.what}")

    short = [ONE_PAIR["component"][0], {**ONE_PAIR["component"][1], "steps": SHORT}]
    kitchen = Kitchen({**ONE_PAIR, "component": short})
    kitchen.press("done").wait(30)
    assert kitchen.view.hands.busy
    assert kitchen.view.hands.fits is True


def test_a_prep_has_time_when_the_hands_have_though_it_goes_on_by_itself() -> None:
    soak = [step("prep", "soak", "30 min", hands="2 min"), step("cook", "boil", "5 min", on="pan")]
    long = [ONE_PAIR["component"][0], {**ONE_PAIR["component"][1], "steps": soak}]
    kitchen = Kitchen({**ONE_PAIR, "component": long})
    kitchen.press("done").wait(30)
    found = kitchen.view.hands
    assert (found.prepare, found.fits) == ("peas, 30 min", True)


def test_a_prep_to_begin_before_all_else_is_next_though_it_lasts_into_that() -> None:
    beans = {
        "name": "beans",
        "food": "plant",
        "steps": [step("prep", "trim", "9 min"), step("cook", "steam", "33 min", on="pan")],
    }
    kitchen = Kitchen({**ONE_PAIR, "hands": 2, "component": [*ONE_PAIR["component"], beans]})
    kitchen.press("done").wait(30)
    found = kitchen.view.hands
    add = next(cue for cue in kitchen.view.following if cue.verb == "ADD")
    assert found.prepare == "beans, 9 min"
    assert found.begin < add.due_in < 9 * 60
    assert found.fits is None


def test_the_hands_are_told_to_do_first_what_now_says_first() -> None:
    kitchen = Kitchen(ONE_PAIR)
    kitchen.press("done").wait(240).press("done").wait(300).press("done").wait(50 * 60)
    first, second = (card.lines[0] for card in kitchen.view.cards[:2])
    assert (first.verb, second.verb) == ("TAKE OUT", "PREPARE")
    assert second.due_in < first.due_in < 0
    assert (kitchen.view.hands.free, kitchen.view.hands.until) == (0, "TAKE OUT squash")


def test_what_there_is_time_for_is_begun_with_one_key_though_now_says_something_else() -> None:
    kitchen = Kitchen({**ONE_PAIR, "appliance": [{"name": "pan", "preheat": "12 min"}]})
    found = kitchen.view.hands
    while found.prepare != "peas, 6 min" or found.busy:
        found = kitchen.press("done", 60).view.hands
    assert found.fits is True
    assert kitchen.view.cards[0].lines[0].verb != "PREPARE"
    kitchen.press("begin")
    assert kitchen.view.hands.busy == "peas: pod"
    kitchen.press("begin")
    assert any("no prep or finish can be begun now" in line for line in kitchen.view.notices)
