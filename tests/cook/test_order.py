"""The order of acts of one instant: nothing is done to food that is not on the heat."""

from typing import Any

from passbell.cook.cards import cards
from passbell.cook.cues import raw_cues
from tests.cook.meals import Hand, step

Data = dict[str, Any]


def pan_of(*dishes: Data, holds: int = 1) -> Data:
    components = [{"name": f"dish {n}", "steps": [one]} for n, one in enumerate(dishes)]
    pan = {"name": "pan", "holds": holds}
    return {"title": "invented", "serves": 1, "appliance": [pan], "component": components}


def fry(minutes: int, *, at: tuple[str, ...] = (), **more: Any) -> Data:
    during = [{"at": when, "do": do} for when, do in zip(at, ("stir", "uncover"), strict=False)]
    return step("cook", "fry", f"{minutes} min", on="pan", during=during, **more)


def told(data: Data) -> list[str]:
    found = raw_cues(Hand(data).state)
    return [f"{cue.verb} {cue.what[-1]}" for cue in found if cue.place == "pan"]


def test_what_is_done_in_the_last_moment_comes_before_food_leaves() -> None:
    assert told(pan_of(fry(10, at=("5 min", "10 min"), check="10 min"))) == [
        "ADD 0", "STIR 0", "CHECK 0", "UNCOVER 0", "TAKE OUT 0", "SWITCH OFF n"
    ]  # fmt: skip


def test_what_is_done_at_once_comes_after_food_has_joined() -> None:
    assert told(pan_of(fry(10, at=("0 min",))))[:2] == ["ADD 0", "STIR 0"]


def test_food_joins_before_it_leaves_however_short_it_stays() -> None:
    assert told(pan_of(fry(0, at=("0 min",)))) == ["ADD 0", "STIR 0", "TAKE OUT 0"]


def test_what_leaves_still_makes_room_for_what_joins() -> None:
    found = told(pan_of(fry(10, at=("5 min", "10 min")), fry(0, at=("0 min",))))
    assert found == [
        "ADD 0", "STIR 0", "UNCOVER 0", "TAKE OUT 0", "ADD 1", "STIR 1", "TAKE OUT 1",
        "SWITCH OFF n",
    ]  # fmt: skip


def test_in_one_opening_food_leaves_after_what_was_due_to_be_done_to_it() -> None:
    hand = Hand(pan_of(fry(10, at=("5 min", "10 min")), fry(10), holds=2)).cook_to(590).at(601)
    card = next(card for card in cards(hand.state) if card.place == "pan")
    assert [f"{cue.verb} {cue.what[-1]}" for cue in card.lines[:3]] == [
        "TAKE OUT 1", "UNCOVER 0", "TAKE OUT 0"
    ]  # fmt: skip
