"""Take back and redo, and that a refused command changes nothing."""

from passbell.cook import commands as cm
from passbell.cook.engine import tell
from tests.cook.meals import Hand


def test_take_back_undoes_a_heat_off_as_if_it_never_was() -> None:
    hand = Hand().cook_to(10 * 60)
    hand.say(cm.HeatOff())
    hand.at(22 * 60)
    assert not any("TOSS" in text for text in hand.due())
    assert hand.say(cm.TakeBack()) is None
    assert hand.state.steps[0][1].off == 0
    assert any("TOSS" in text for text in hand.due()), "time has passed for the food"


def test_redo_brings_it_back() -> None:
    hand = Hand().cook_to(10 * 60)
    hand.say(cm.ExtendStage(appliance=0, by=180))
    with_it = hand.state.schedule
    hand.say(cm.TakeBack())
    assert hand.state.schedule != with_it
    assert hand.say(cm.Redo()) is None
    assert hand.state.schedule == with_it
    assert hand.say(cm.Redo()) == "nothing was taken back"


def test_a_command_ends_the_way_forward() -> None:
    hand = Hand().cook_to(10 * 60)
    hand.say(cm.Mark())
    hand.say(cm.TakeBack())
    hand.say(cm.Note(text="new"))
    assert hand.say(cm.Redo()) == "nothing was taken back"


def test_a_reading_taken_back_stays_in_the_record() -> None:
    hand = Hand().cook_to(34 * 60)
    hand.say(cm.Probe(component=1, place="1", shown=150.0, scale="F"))
    hand.say(cm.TakeBack())
    assert not hand.state.readings
    assert [r.shown for r in hand.state.struck] == [150.0]
    assert [line.cancelled for line in hand.state.log][-1]
    hand.say(cm.Redo())
    assert [r.shown for r in hand.state.readings] == [150.0]
    assert hand.state.struck == ()


def test_a_refused_command_changes_nothing() -> None:
    hand = Hand().cook_to(10 * 60)
    before = hand.state
    for command in (
        cm.Done(cue="add.0.1.-.0"),
        cm.TakeOut(component=1),
        cm.TakeOut(component=9),
        cm.Back(),
        cm.HeatOn(),
        cm.Dial(appliance=7, seconds=1),
        cm.ServeAt(at=5),
        cm.Skip(component=0),
    ):
        outcome = tell(hand.state, command, hand.now)
        assert outcome.refusal
        assert outcome.state == before
        assert outcome.events == ()
