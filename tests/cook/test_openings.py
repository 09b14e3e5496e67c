"""When an appliance was opened, by the events of a cook."""

import pytest

from passbell.cook.commands import Done, Earlier, Redo, TakeBack
from passbell.cook.openings import openings
from tests.cook.meals import Hand


@pytest.fixture(scope="module")
def at_the_toss() -> Hand:
    hand = Hand().cook_to(20 * 60)
    return hand.at(hand.find("TOSS").at + 150)


def acts(hand: Hand) -> list[tuple[int, tuple[str, ...]]]:
    return [(o.at, o.acts) for o in openings(hand.state, hand.events)]


def again(hand: Hand) -> Hand:
    other = object.__new__(Hand)
    other.state, other.events, other.now = hand.state, list(hand.events), hand.now
    return other


def test_before_the_toss_only_what_went_in_opened_it(at_the_toss: Hand) -> None:
    assert [words for _, words in acts(at_the_toss)] == [("carrots in",)]


def test_a_toss_counts_until_it_is_taken_back_and_again_when_redone(at_the_toss: Hand) -> None:
    hand = again(at_the_toss)
    hand.say(Done(cue=hand.find("TOSS").key.id))
    assert acts(hand)[-1] == (hand.now, ("carrots: toss them",))
    hand.say(TakeBack())
    assert [words for _, words in acts(hand)] == [("carrots in",)]
    hand.say(Redo())
    assert acts(hand)[-1] == (hand.now, ("carrots: toss them",))


def test_told_earlier_it_happened_earlier(at_the_toss: Hand) -> None:
    hand = again(at_the_toss)
    hand.say(Done(cue=hand.find("TOSS").key.id))
    hand.say(Earlier())
    assert acts(hand)[-1] == (hand.now - 60, ("carrots: toss them",))
