"""Ways out of a delay: what they do, in what order they stand, and what is never offered."""

from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from passbell.cook import commands as cm
from passbell.cook.engine import tell
from passbell.cook.expect import safety_rest_end
from passbell.cook.preview import effects, preview
from passbell.cook.ways import ways_out
from tests.cook.meals import CHOPS, TRAY, Hand, cooked, plan_of, step

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
    more = cm.Several(commands=(cm.ExtendStep(component=2, by=-900, step=1),))
    assert hand.say(more) == "pork cannot be shorter"
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


def test_serving_later_stands_among_the_ways_with_what_it_holds_back() -> None:
    hand = cooked(23 * 60)
    found = ways_out(hand.state, cm.ExtendStage(appliance=0, by=240), hand.now)
    way = next(w for w in found if w.words.startswith("serve"))
    assert way.words == "serve 4 min later, adding green beans 4 min later"
    assert way.command == cm.ExtendStage(appliance=0, by=240)
    assert way.harm.later == 240
    assert (way.harm.over_hold, way.harm.rest) == (0, 0)


def test_the_next_food_can_be_added_later_where_it_would_wait() -> None:
    """Guests 19 min late, carrots in: what is not in yet would wait beyond its hold."""
    hand = cooked(23 * 60)
    later = cm.ServeAt(at=60 * 60)
    as_it_is = preview(hand.state, later, hand.now).after
    way = next(w for w in ways_out(hand.state, later, hand.now) if w.words.startswith("add"))
    assert way.words == "add green beans 24 min later"
    start = hand.state.schedule.starts[2][1]
    assert hand.say(way.command) is None
    assert hand.state.schedule.starts[2][1] == start + 24 * 60
    assert hand.state.schedule.dish_up == 60 * 60
    assert hand.state.schedule.over_hold < as_it_is.schedule.over_hold
    assert not any("ADD green beans" in text for text in hand.at(30 * 60).due())


def test_a_change_that_moves_nothing_has_no_way_out() -> None:
    hand = cooked(30 * 60)
    assert ways_out(hand.state, cm.ExtendStep(component=0, by=60), hand.now) == ()


RAW = {"poultry_pieces": 165.0, "pork_whole": 145.0}
"""US chart, °F, from FSIS."""

deltas = st.integers(-5, 15).map(lambda n: n * 60).filter(bool)
states = st.tuples(
    st.sampled_from([TRAY, CHOPS, ROAST]),
    st.sampled_from([5, 12, 18, 23, 28, 32]),
    st.lists(st.tuples(st.integers(0, 2), st.sampled_from(["1", "2"]), st.integers(140, 170))),
    st.lists(st.integers(0, 2), max_size=1),
)
some_change = st.one_of(
    st.builds(cm.ExtendStage, appliance=st.integers(0, 1), by=deltas),
    st.builds(cm.ExtendStep, component=st.integers(0, 2), by=deltas),
    st.builds(cm.ServeAt, at=st.integers(2400, 6000)),
)


def proven(hand: Hand, index: int) -> bool:
    """Whether the last reading of each of two places is at or above the printed minimum."""
    food = hand.state.plan.components[index].food
    minimum = RAW.get(food[0]) if food else None
    told = {r.place: r.shown for r in hand.state.readings if r.component == index}
    hot = minimum is not None and len(told) == 2 and min(told.values()) >= minimum
    return minimum is None or hot


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)
@given(states, some_change)
def test_no_way_out_is_one_that_safety_forbids(
    where: tuple[dict[str, Any], int, list[tuple[int, str, int]], list[int]], change: cm.Command
) -> None:
    meal, minute, readings, out = where
    hand = cooked(minute * 60, meal)
    for component, place, shown in readings:
        hand.say(cm.Probe(component=component, place=place, shown=shown, scale="F"))
    for component in out:
        hand.say(cm.TakeOut(component=component))
    rests = [safety_rest_end(hand.state, c) for c in range(3)]
    for way in ways_out(hand.state, change, hand.now):
        outcome = tell(hand.state, way.command, hand.now)
        assert outcome.refusal is None, way.words
        for component, plan in enumerate(hand.state.plan.components):
            assert (safety_rest_end(outcome.state, component) or 0) >= (rests[component] or 0)
            last = plan.last_cook
            if plan.food == ("pork_whole",) and last is not None:
                after = outcome.state.schedule
                rest = after.ends[component][last + 1] - after.starts[component][last + 1]
                assert rest >= 180, way.words
            if way.words.startswith(f"take {plan.name}"):
                mates = [
                    i for i, c in enumerate(hand.state.plan.components) if c.shares == plan.shares
                ]
                assert all(proven(hand, i) or not was_in(hand, i) for i in mates), way.words


def was_in(hand: Hand, index: int) -> bool:
    """Whether it has been put on the heat."""
    plan = hand.state.plan.components[index]
    return (
        plan.first_cook is not None and hand.state.steps[index][plan.first_cook].began is not None
    )


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
