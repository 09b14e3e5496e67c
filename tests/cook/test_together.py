"""Acts a little apart at one appliance, proposed for one opening with what each loses."""

from typing import Any

import pytest

from passbell.cook import commands as cm
from passbell.cook.cards import cards
from passbell.cook.cue import CueKey
from passbell.cook.together import Joint, joint_openings
from passbell.cook.whose import NotUnderstood
from passbell.cook.words import read_words
from tests.cook.meals import Hand, cooked, plan_of, step

ONIONS, LEEKS = 0, 1


def oven(*components: dict[str, Any], **more: Any) -> Hand:
    """Vegetables in one oven that is hot at once."""
    data = {
        "title": "Invented vegetables",
        "serves": 1,
        "appliance": [{"name": "oven", **more}],
        "component": list(components),
    }
    return Hand(plan_of(data))


def roast(name: str, time: str, **more: Any) -> dict[str, Any]:
    """A component that is only roasted."""
    return {"name": name, "steps": [step("cook", "in", time, on="oven", **more)]}


def proposed(hand: Hand) -> Joint:
    """The one opening that is proposed now."""
    (found,) = joint_openings(hand.state, hand.now)
    return found


def test_a_turn_comes_forward_to_the_adding_of_another() -> None:
    """Onions from 0:00 to 20:00, turned at 11:30; leeks need 10 and go in at 10:00."""
    turn = [{"at": "11 min 30 s", "do": "turn them"}]
    hand = oven(roast("onions", "20 min", during=turn), roast("leeks", "10 min")).cook_to(7 * 60)
    joint = proposed(hand)
    assert joint.acts == ("ADD leeks", "TURN onions")
    assert joint.losses == ("TURN onions 90 s earlier",)
    assert (joint.at, joint.delay) == (600, 0)
    assert hand.say(joint.command) is None
    card = next(c for c in cards(hand.state) if c.place == "oven")
    assert [(c.verb, c.at) for c in card.lines] == [("TURN", 600), ("ADD", 600)]
    assert joint_openings(hand.state, hand.now) == ()
    hand.at(600)
    assert sum("TURN" in text or "ADD" in text for text in hand.due()) == 2


def test_taking_out_later_says_that_it_cooks_longer() -> None:
    """Onions out at 20:00, leeks, which bear no waiting either, at 21:30: both served together."""
    hand = oven(
        {"name": "onions", "steps": [step("cook", "in", "20 min", on="oven"),
                                     step("rest", "aside", "90 s")]},
        roast("leeks", "21 min 30 s"),
    ).cook_to(17 * 60)  # fmt: skip
    joint = proposed(hand)
    assert joint.acts == ("TAKE OUT onions", "TAKE OUT leeks")
    assert joint.losses == ("onions cooks 90 s longer",)
    assert joint.at == 21 * 60 + 30
    assert joint.delay == 90, "the rest of the onions comes after"
    assert hand.say(joint.command) is None
    hand.at(21 * 60)
    assert not any("TAKE OUT" in text for text in hand.due())
    hand.at(21 * 60 + 30)
    assert sum("TAKE OUT" in text for text in hand.due()) == 2


def test_food_that_is_ready_joins_the_opening_before_it() -> None:
    """Leeks go in 90 s before their time, with the onions' turning, and are held so much longer."""
    turn = [{"at": "8 min 30 s", "do": "turn them"}]
    hand = oven(roast("onions", "20 min", during=turn), roast("leeks", "10 min")).cook_to(7 * 60)
    joint = proposed(hand)
    assert joint.acts == ("TURN onions", "ADD leeks")
    assert joint.losses in (
        ("TURN onions 90 s later",),
        ("leeks goes in 90 s earlier and is held 90 s longer",),
    )
    early = cm.Together(cues=(CueKey("add", LEEKS, 0).id,), at=510)
    assert hand.say(early) is None
    hand.at(510)
    assert any("ADD leeks" in text for text in hand.due())


def test_nothing_goes_in_before_it_is_prepared_or_its_stage_runs() -> None:
    """At 22:00 chicken goes in and the oven is switched; the beans' prep ends at 24:00."""
    hand = cooked(21 * 60)
    beans = CueKey("add", 2, 1).id
    refusal = hand.say(cm.Together(cues=(beans,), at=22 * 60))
    assert refusal == "ADD green beans cannot wait for the other, nor come before it"
    joint = proposed(hand)
    assert joint.losses == ("ADD chicken thighs 2 min later", "SWITCH oven 2 min later")
    assert joint.delay == 120
    assert hand.say(joint.command) is None
    assert hand.find("ADD chicken").at == 24 * 60


def test_food_is_never_taken_out_earlier_nor_more_time_dialled_in_later() -> None:
    hand = cooked(25 * 60)
    out = CueKey("take_out", 0, 1).id
    assert hand.say(cm.Together(cues=(out,), at=26 * 60)) is not None
    hand.say(cm.Dial(appliance=0, seconds=6 * 60))
    dial = hand.find("SET")
    refusal = hand.say(cm.Together(cues=(dial.key.id,), at=dial.at + 60))
    assert refusal is not None
    assert hand.find("SET").at == dial.at


@pytest.mark.parametrize("cue", ["add.9.9.-.0", "nonsense"])
def test_what_is_done_or_unknown_is_refused(cue: str) -> None:
    hand = cooked(25 * 60)
    assert hand.say(cm.Together(cues=(cue,), at=26 * 60)) == "that has been done already"


def test_what_goes_back_on_the_heat_waits_for_nobody() -> None:
    hand = cooked(34 * 60)
    hand.say(cm.TakeOut(component=1))
    back = hand.find("PUT BACK").key.id
    assert hand.say(cm.Together(cues=(back,), at=hand.now + 60)) is not None


def test_further_apart_or_far_ahead_nothing_is_proposed() -> None:
    turn = [{"at": "13 min", "do": "turn them"}]
    hand = oven(roast("onions", "20 min", during=turn), roast("leeks", "10 min")).cook_to(7 * 60)
    assert joint_openings(hand.state, hand.now) == (), "three minutes apart"
    turn = [{"at": "11 min 30 s", "do": "turn them"}]
    hand = oven(roast("onions", "20 min", during=turn), roast("leeks", "10 min")).cook_to(60)
    assert joint_openings(hand.state, hand.now) == (), "nine minutes ahead"
    assert isinstance(read_words("together", hand.state), cm.Together), "unless it is asked for"
    assert hand.say(read_words("together", hand.state)) is None
    with pytest.raises(NotUnderstood, match="no two openings"):
        read_words("together", hand.state)


def test_it_can_be_typed_and_taken_back() -> None:
    hand = cooked(21 * 60)
    command = read_words("together", hand.state)
    assert command == proposed(hand).command
    assert hand.say(command) is None
    assert hand.say(cm.TakeBack()) is None
    assert hand.find("ADD chicken").at == 22 * 60
