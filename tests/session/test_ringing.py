"""Which alarms are armed: a function of the state."""

from passbell.cook import commands as cm
from passbell.session.ringing import alarms
from tests.cook.meals import CHOPS, Hand


def armed(hand: Hand) -> dict[str, tuple[str, float]]:
    found = alarms(hand.state, hand.now, float)
    return {key: (alarm.kind, alarm.at) for key, alarm in found.items()}


def test_a_cue_rings_when_it_is_due_and_is_heralded_a_minute_before() -> None:
    hand = Hand().cook_to(7 * 60)
    cue = hand.find("ADD green beans").key.id
    assert armed(hand)[cue] == ("do_it", 24 * 60)


def test_soon_is_left_out_where_cues_crowd() -> None:
    """Add at 24:00 follows the switch by two minutes; dish-up comes with the end of a rest."""
    hand = Hand().cook_to(7 * 60)
    found = armed(hand)
    add = hand.find("ADD green beans").key.id
    assert found[f"{add}/soon"] == ("soon", 23 * 60)
    assert f"{hand.find('DISH UP').key.id}/soon" not in found


def test_seen_silences_that_one_only() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    cue = hand.find("ADD carrots").key.id
    assert cue in armed(hand)
    hand.say(cm.Seen(cue=cue))
    assert cue not in armed(hand)
    assert hand.find("TOSS").key.id in armed(hand)


def test_put_off_rings_again() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    cue = hand.find("ADD carrots").key.id
    hand.say(cm.PutOff(cue=cue))
    assert armed(hand)[cue] == ("do_it", 7 * 60)


def test_probes_ring_as_probes_and_preps_softly() -> None:
    hand = Hand().cook_to(7 * 60)
    found = armed(hand)
    assert found[hand.find("PROBE").key.id][0] == "probe"
    prep = hand.find("PREPARE chicken").key.id
    assert found[prep] == ("soon", 17 * 60)
    assert found[f"{prep}/late"] == ("late", 18 * 60)


def test_one_opening_rings_once() -> None:
    hand = Hand().cook_to(21 * 60)
    found = armed(hand)
    add, mode = hand.find("ADD chicken").key.id, hand.find("SWITCH oven").key.id
    assert found[add] == ("do_it", 22 * 60)
    assert found[mode][0] == "late"
    hand.at(22 * 60).done("ADD chicken")
    assert armed(hand)[mode] == ("do_it", 22 * 60 + 25), "she is at the oven already"


def test_an_expected_end_of_work_is_silent() -> None:
    hand = Hand(CHOPS).at(0)
    hand.cook_to(hand.state.schedule.starts[0][0])
    assert not any(key.startswith("prep.0.0.end") for key in armed(hand))


def test_a_kind_the_cook_wants_silent_is_heard_only_when_it_is_late() -> None:
    hand = Hand().cook_to(7 * 60)
    found = alarms(hand.state, hand.now, float, frozenset({"add"}))
    add = hand.find("ADD green beans").key.id
    assert (found[add].kind, found[add].at) == ("late", 25 * 60)
    assert f"{add}/soon" not in found
    assert found[hand.find("PROBE").key.id].kind == "probe"


def test_without_soon_nothing_is_heralded_and_everything_else_sounds() -> None:
    hand = Hand().cook_to(7 * 60)
    plain = alarms(hand.state, hand.now, float)
    found = alarms(hand.state, hand.now, float, frozenset({"soon"}))
    assert {alarm.kind for alarm in plain.values()} - {a.kind for a in found.values()} == {"soon"}
    assert found == {key: alarm for key, alarm in plain.items() if alarm.kind != "soon"}


def test_what_waits_for_the_heat_is_heard_once_it_is_on_again() -> None:
    hand = Hand().cook_to(23 * 60)
    cue = hand.find("ADD green beans").key.id
    assert cue in armed(hand)
    hand.say(cm.HeatOff(appliance=0))
    for _ in range(8):
        hand.at(hand.now + 20)
        assert not [key for key in armed(hand) if key.startswith(cue)]
    hand.say(cm.HeatOn(appliance=0))
    assert cue in armed(hand)
