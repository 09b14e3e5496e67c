"""What is said aloud is what Now shows."""

from passbell.cook import commands as cm
from passbell.session.spoken import cue_words, now_line
from passbell.tui.views.now import now_cards
from tests.cook.meals import Hand


def test_the_words_spoken_are_the_line_of_now() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    line = now_cards(hand.state, hand.now, None)[0].lines[0]
    said = now_line(hand.state, hand.now, [line.cue])
    assert said.casefold() == f"{line.verb} {line.what}, {line.how}, due now".casefold()
    assert said == "add carrots, single layer, due now"


def test_a_herald_says_in_how_long() -> None:
    hand = Hand().cook_to(23 * 60)
    add = hand.find("ADD green beans").key.id
    assert now_line(hand.state, hand.now, [f"{add}/soon"]).endswith(", in 1 minute")


def test_how_late_it_is_said_in_words() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    hand.at(8 * 60 + 5)
    cue = hand.find("ADD carrots")
    assert (
        cue_words(hand.state, cue, hand.now) == "add carrots, single layer, due 2 minutes ago, late"
    )
    assert cue_words(hand.state, cue, cue.at + 3900).endswith("due 1 hour 5 minutes ago, late")


def test_what_is_done_already_is_not_said_and_never_more_than_two() -> None:
    hand = Hand().cook_to(6 * 60 - 1).at(6 * 60)
    hand.done("READY?")
    cue = hand.find("ADD carrots").key.id
    everything = [line.key.id for line in (hand.find("ADD carrots"), hand.find("TOSS"))]
    rest = [hand.find("ADD green beans").key.id]
    assert now_line(hand.state, hand.now, everything + rest).count(". ") == 1
    hand.say(cm.Done(cue=cue))
    assert now_line(hand.state, hand.now, [cue]) == ""
