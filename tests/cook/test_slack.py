"""Slack is spent on what is late, and brings dinner no sooner where nothing is."""

import pytest

from tests.cook.meals import Hand, plan_of, step

MINUTE = 60


def peas(slack: str, serve: int | None) -> Hand:
    """Peas podded for four minutes and boiled for ten, with slack between."""
    steps = [step("prep", "pod", "4 min"), step("cook", "boil", "10 min", on="pan")]
    data = {
        "title": "Invented peas",
        "serves": 1,
        "slack": slack,
        "appliance": [{"name": "pan"}],
        "component": [{"name": "peas", "food": "plant", "steps": steps}],
    }
    return Hand(plan_of(data), serve)


@pytest.mark.parametrize("serve", [None, 30 * MINUTE])
@pytest.mark.parametrize(
    ("late", "over"), [(-60, -60), (0, 0), (45, 0), (90, 0), (120, 0), (121, 1), (300, 180)]
)
def test_what_is_late_spends_the_slack_first(late: int, over: int, serve: int | None) -> None:
    """Two minutes of slack, by hand: dinner is late by what goes beyond them."""
    hand = peas("2 min", serve)
    planned = hand.state.schedule.dish_up
    hand.at(hand.state.schedule.starts[0][0]).done("PREPARE")
    hand.at(hand.now + 4 * MINUTE + late).done("PREPARED?")
    expected = planned + (over if serve is None else max(0, over))
    assert hand.state.schedule.dish_up == expected
    assert hand.state.schedule.starts[0][1] == expected - 10 * MINUTE


def test_what_still_takes_longer_spends_it_too() -> None:
    hand = peas("2 min", None)
    planned = hand.state.schedule.dish_up
    hand.done("PREPARE")
    assert hand.at(4 * MINUTE + 110).state.schedule.dish_up == planned
    assert hand.at(4 * MINUTE + 180).state.schedule.dish_up == planned + MINUTE
