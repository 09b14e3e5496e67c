"""Instants that are passed over: the cook is the one that went through every one of them."""

from typing import Any

import pytest

from passbell.cook.cue import CueKey
from passbell.cook.engine import begin
from passbell.cook.events import Event
from passbell.cook.state import CookState
from passbell.odds.hand import Hand, Lead
from passbell.odds.luck import Luck
from passbell.schedule import Contradiction
from tests.bench.bench_odds import meal
from tests.cook.meals import CHOPS, TRAY, plan_of
from tests.schedule.random_plans import random_plan


def both(state: CookState, luck: Luck, *leads: Lead) -> tuple[Hand, Hand]:
    """The same cook twice: through every instant, and passing over some."""
    plain, leaping = Hand(state, luck, leads, leaps=False), Hand(state, luck, leads)
    assert plain.cook() == leaping.cook()
    assert plain.state == leaping.state
    return plain, leaping


def passed_over(plain: list[Event], leaping: list[Event]) -> list[Event]:
    """The events that only the plain cook has; all others are the same, in the same order."""
    rest, found = iter(plain), []
    for event in leaping:
        for other in rest:
            if other == event:
                break
            found.append(other)
        else:
            raise AssertionError(f"only the leaping cook has {event}")
    return [*found, *rest]


@pytest.mark.parametrize("run", range(3))
@pytest.mark.parametrize(
    ("data", "serve"), [(TRAY, None), (TRAY, 3600), (CHOPS, None), (CHOPS, 3000)]
)
def test_the_same_cook(data: dict[str, Any], serve: int | None, run: int) -> None:
    plain, leaping = both(begin(plan_of(data), serve).state, Luck(11, run))
    assert {e.type for e in passed_over(plain.events, leaping.events)} <= {"replanned"}


@pytest.mark.parametrize("seed", range(3000, 3030))
def test_the_same_cook_of_an_invented_meal(seed: int) -> None:
    try:
        state = begin(*random_plan(seed, 2 + seed % 5)).state
    except Contradiction:
        return
    plain, leaping = both(state, Luck(seed, 0))
    assert {e.type for e in passed_over(plain.events, leaping.events)} <= {"replanned"}


@pytest.mark.parametrize("by", [7, 120, 600])
def test_the_same_cook_with_something_done_early(by: int) -> None:
    state = begin(meal(4), 3600).state
    for n, kind in ((1, "prep"), (2, "prep"), (3, "add")):
        key = CueKey("prep", n, 0, "begin") if kind == "prep" else CueKey("add", n, 1)
        plain, leaping = both(state, Luck(5, n), Lead(key, by))
        assert {e.type for e in passed_over(plain.events, leaping.events)} == {"replanned"}


def test_many_instants_of_a_meal_of_six_are_passed_over() -> None:
    plain, leaping = both(begin(meal(6), 4440).state, Luck(1, 0))
    over = passed_over(plain.events, leaping.events)
    assert len(over) >= 10
    assert all(e.type == "replanned" and e.schedule is not None for e in over)
