"""The engine with a hand-moved clock: what the commands of the whole meal and its acts mean."""

from passbell.cook import commands as cm
from tests.cook.meals import CHOPS, TRAY, Hand


def test_the_example_comes_out_best() -> None:
    """Worked out by hand: one pair of hands, thighs rest 5 min, all three leave the oven at 36:00.

    The program is 16 + 14 min, so carrots that need 30 start with it; before that they are peeled
    (6 min), the oven heats for 3: program 6:00-36:00, dish-up after the rest at 41:00.
    """
    schedule = Hand().state.schedule
    assert schedule.dish_up == 41 * 60
    assert schedule.bounds == ((6 * 60, 22 * 60, 36 * 60),)
    assert schedule.starts[0] == (0, 6 * 60)
    assert schedule.starts[1] == (17 * 60, 22 * 60, 36 * 60)
    assert schedule.starts[2] == (21 * 60, 24 * 60)
    assert (schedule.over_hold, schedule.wait, schedule.start) == (0, 10 * 60, 0)
    assert schedule.proven


def test_food_is_in_only_when_the_cook_says_so() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    assert any("ADD carrots" in text for text in hand.due())
    hand.at(8 * 60)
    assert hand.state.steps[0][1].began is None
    hand.done("ADD carrots")
    assert hand.state.steps[0][1].began == 8 * 60
    assert hand.state.schedule.dish_up == 43 * 60


def test_an_overdue_act_slides_the_rest() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    assert hand.state.schedule.dish_up == 41 * 60
    hand.at(9 * 60)
    assert 43 * 60 + 30 <= hand.state.schedule.dish_up <= 44 * 60


def test_earlier_moves_the_last_act_back_to_when_it_was_due_at_most() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    hand.at(7 * 60 + 30)
    hand.done("ADD carrots")
    assert hand.say(cm.Earlier()) is None
    assert hand.state.steps[0][1].began == 6 * 60 + 30
    assert hand.say(cm.Earlier()) is None
    assert hand.state.steps[0][1].began == 6 * 60
    assert hand.say(cm.Earlier()) == "it cannot have been earlier than it was due"
    assert hand.state.steps[0][1].began_noted == 7 * 60 + 30
    assert hand.state.schedule.dish_up == 41 * 60


def test_put_off_comes_again_and_moves_the_rest() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    cue = hand.find("ADD carrots")
    assert hand.say(cm.PutOff(cue=cue.key.id)) is None
    assert not any("ADD carrots" in text for text in hand.due())
    hand.at(7 * 60 - 1)
    assert not any("ADD carrots" in text for text in hand.due())
    hand.at(7 * 60)
    assert any("ADD carrots" in text for text in hand.due())
    assert hand.state.schedule.dish_up == 42 * 60


def test_seen_stops_the_sound_and_nothing_else() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    cue = hand.find("ADD carrots")
    before = hand.state.schedule
    assert hand.say(cm.Seen(cue=cue.key.id)) is None
    known = hand.state.cue(cue.key.id)
    assert known is not None
    assert known.standing == "seen"
    assert hand.state.schedule == before
    assert hand.say(cm.Seen(cue=cue.key.id)) == "nothing rings"


def test_away_stops_hands_on_work_only() -> None:
    hand = Hand().cook_to(18 * 60)
    assert hand.say(cm.Away()) is None
    hand.at(20 * 60)
    assert hand.say(cm.Back()) is None
    assert hand.state.steps[1][0].idle == 120
    assert hand.state.steps[0][1].off == 0
    assert hand.state.schedule.ends[1][0] == 23 * 60
    assert hand.say(cm.Back()) == "you are not away"


def test_serve_at_holds_back_what_is_still_free() -> None:
    hand = Hand().cook_to(2 * 60)
    assert hand.say(cm.ServeAt(at=60 * 60)) is None
    assert hand.state.schedule.dish_up == 60 * 60
    assert hand.state.schedule.starts[0][1] >= 20 * 60


def test_skip_leaves_a_component_out() -> None:
    hand = Hand().cook_to(2 * 60)
    assert hand.say(cm.Skip(component=2)) is None
    assert not any("green beans" in text for text in hand.offered())
    hand.cook_to(30 * 60)
    assert hand.state.steps[2][1].began is None


def test_going_on_finishes_the_work_before() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    hand.done("ADD carrots")
    assert hand.state.steps[0][0].ended == 6 * 60


def test_a_whole_meal_can_be_cooked_and_dished_up() -> None:
    hand = Hand().cook_to(33 * 60)
    for place in ("1", "2"):
        hand.say(cm.Probe(component=1, place=place, shown=170.0, scale="F"))
    hand.cook_to(60 * 60)
    assert hand.state.served == hand.state.schedule.dish_up
    assert hand.say(cm.Mark()) == "the meal has been dished up; only notes can be added"
    assert hand.say(cm.Note(text="crisp enough")) is None


def test_dish_up_waits_for_food_on_the_heat() -> None:
    hand = Hand().cook_to(36 * 60)
    refusal = hand.say(cm.Done(cue="dish_up.0.0.-.0"))
    assert refusal is not None
    assert "on the heat" in refusal


def test_a_component_that_is_a_single_finish_has_its_line() -> None:
    hand = Hand(CHOPS)
    assert any("butter" in text for text in hand.offered())


def test_no_meal_without_its_start() -> None:
    assert Hand(TRAY, serve=3600).state.schedule.dish_up == 3600
