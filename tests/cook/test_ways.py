"""Ways out of a delay: what they do, in what order they stand, and what is never offered."""

from typing import Any

from passbell.cook import commands as cm
from passbell.cook.preview import effects
from passbell.cook.ways import ways_out
from tests.cook.meals import CHOPS, TRAY, Hand, plan_of, step

ROAST: dict[str, Any] = {
    "title": "Invented roast",
    "serves": 2,
    "appliance": [{"name": "oven", "stage": [{"name": "roast", "temp": "200 °C"}]}],
    "component": [
        {
            "name": "beets",
            "food": "plant",
            "shares": "beet tray",
            "steps": [step("cook", "in", "30 min", on="oven")],
        },
        {
            "name": "leeks",
            "food": "plant",
            "shares": "leek tray",
            "steps": [step("cook", "in", "20 min", on="oven")],
        },
        {
            "name": "pork",
            "food": "pork_whole",
            "steps": [
                step("cook", "in", "30 min", on="oven", until="63 °C"),
                step("rest", "on a board", "10 min"),
                step("finish", "slice", "2 min"),
            ],
        },
    ],
}
"""Two trays of vegetables beside a pork roast that rests longer than its chart asks for."""


def test_a_longer_stage_offers_to_take_the_others_out_on_time() -> None:
    hand = Hand(ROAST).cook_to(15 * 60)
    change = cm.ExtendStage(appliance=0, by=240)
    found = ways_out(hand.state, change, hand.now)
    words = [way.words for way in found]
    assert "take beets out on time and hold it 4 min" in words
    way = next(w for w in found if w.words.startswith("take beets"))
    moved = {e.name: e.change for e in way.effects}
    assert moved["beets"] == 0
    assert moved["pork"] == 240
    assert hand.say(way.command) is None
    assert hand.state.steps[0][0].extra == 0


def test_what_a_way_promises_is_what_it_does() -> None:
    hand = Hand(ROAST).cook_to(15 * 60)
    change = cm.ExtendStep(component=2, by=240)
    for way in ways_out(hand.state, change, hand.now):
        other = Hand(ROAST).cook_to(15 * 60)
        before = other.state
        assert other.say(way.command) is None
        assert effects(before, other.state) == way.effects
        assert other.say(cm.TakeBack()) is None, "one command, taken back at once"
        assert other.state.schedule == before.schedule


def test_a_quality_rest_may_be_eaten_into_but_never_the_safety_rest() -> None:
    """Pork, US chart: 3 min of rest (FSIS); of the plan's 10 at most 7 can be given."""
    hand = Hand(ROAST).cook_to(15 * 60)
    change = cm.ExtendStep(component=2, by=1200)
    way = next(w for w in ways_out(hand.state, change, hand.now) if w.words.startswith("rest pork"))
    assert way.words == "rest pork 7 min less"
    assert hand.say(way.command) is None
    assert hand.say(cm.Several(commands=(cm.ExtendStep(component=2, by=-900, step=1),))) is None
    schedule = hand.state.schedule
    assert schedule.ends[2][1] - schedule.starts[2][1] == 180


def test_the_least_harmful_way_stands_first() -> None:
    hand = Hand(ROAST).cook_to(15 * 60)
    found = ways_out(hand.state, cm.ExtendStep(component=2, by=300), hand.now)
    assert [w.harm for w in found] == sorted(w.harm for w in found)
    dish_up = {e.thing: e.change for e in found[0].effects}["dish_up"]
    assert dish_up == 0, "the rest takes it up"


def test_nothing_that_lies_with_raw_meat_is_offered() -> None:
    hand = Hand(TRAY).cook_to(30 * 60)
    words = [w.words for w in ways_out(hand.state, cm.ExtendStage(appliance=0, by=300), hand.now)]
    assert not any(word.startswith("take ") for word in words)


def test_no_way_out_of_what_delays_nothing_or_cannot_be() -> None:
    hand = Hand(CHOPS)
    assert ways_out(hand.state, cm.ExtendStep(component=9, by=60), 0) == ()
    assert ways_out(hand.state, cm.ExtendStep(component=2, by=-60), 0) == ()


def test_several_are_refused_together() -> None:
    hand = Hand(plan_of(ROAST)).cook_to(15 * 60)
    before = hand.state
    both = cm.Several(
        commands=(cm.ExtendStep(component=0, by=60), cm.ExtendStep(component=9, by=60))
    )
    assert hand.say(both) == "there is no such component"
    assert hand.state == before
