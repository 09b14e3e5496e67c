"""One layer and its ways out: each way is a schedule, checked here second by second."""

import pytest

from passbell.cook.engine import begin
from passbell.cook.layers import too_much, ways_out
from passbell.cook.state import CookState
from passbell.plan.dump import plan_text
from passbell.plan.read import read_plan
from passbell.plan.room import room_of
from passbell.plan.rounds import on_trays, two_rounds
from passbell.units import Length
from tests.cook.layered import meal


def fullest(state: CookState) -> float:
    """The most on one tray at any second, counted by hand."""
    most = 0.0
    for at in range(0, state.schedule.dish_up + 1, 15):
        trays: dict[str | None, float] = {}
        for c, component in enumerate(state.plan.components):
            for i, one in enumerate(component.steps):
                inside = state.schedule.starts[c][i] <= at < state.schedule.ends[c][i]
                room = room_of(component)
                if one.on and inside and room:
                    full = trays.get(component.shares, 0.0) + room.cm2
                    trays[component.shares] = full
        most = max(most, *trays.values(), 0.0)
    return most


def test_what_fits_has_no_ways_out() -> None:
    plan = meal({"beets": "20 x 20 cm"})
    state = begin(plan).state
    assert too_much(state) == ()
    assert ways_out(plan, state, None) == ()


@pytest.mark.parametrize("stages", [True, False])
def test_each_way_is_a_plan_in_which_it_fits(stages: bool) -> None:
    plan = meal({"beets": "20 x 30 cm", "leeks": "20 x 20 cm"}, stages)
    state = begin(plan).state
    assert fullest(state) > 900
    assert "more than one layer" in too_much(state)[0]
    trays, rounds = ways_out(plan, state, None)
    assert trays.text.startswith("leeks on a second tray")
    assert "in two rounds" in rounds.text
    for way in (trays, rounds):
        found = begin(way.plan).state
        assert fullest(found) <= 900
        text = plan_text(way.plan)
        assert read_plan(text, "x") == way.plan
    # A second round costs its time on the heat; the first has half as much to cut before it.
    later = begin(rounds.plan).state.schedule.dish_up - state.schedule.dish_up
    assert later >= 20 * 60 - 2 * 60
    assert begin(trays.plan).state.schedule.dish_up == state.schedule.dish_up


def test_rounds_follow_each_other_and_keep_their_heat() -> None:
    plan = meal({"beets": "20 x 30 cm", "leeks": "20 x 20 cm"})
    for other in two_rounds(plan, (0,)):
        try:
            state = begin(other).state
        except ValueError:
            continue
        names = [c.name for c in other.components]
        one, two = names.index("beets, first round"), names.index("beets, second round")
        assert state.schedule.ends[one][1] <= state.schedule.starts[two][1]
        stages = other.appliances[0].stages
        bounds = state.schedule.bounds[0]
        for index in (one, two):
            start = state.schedule.starts[index][1]
            now = max(k for k in range(len(stages)) if bounds[k] <= start)
            assert stages[now].mode == "fan"
        break


def test_rounds_of_meat_are_probed_each() -> None:
    data = meal({"beets": "20 x 30 cm"}).components[0]
    meat = data.model_copy(update={"food": ("poultry_pieces",), "pieces": 3})
    plan = meal({"beets": "20 x 30 cm"}).model_copy(update={"components": (meat,)})
    other = next(two_rounds(plan, (0,)))
    assert [c.pieces for c in other.components] == [2, 2]
    assert [c.food for c in other.components] == [("poultry_pieces",)] * 2
    assert [c.ingredients for c in other.components] == [("200 g beets",)] * 2


def test_what_is_larger_than_a_tray_is_shared_out() -> None:
    plan = meal({"beets": "30 x 50 cm", "leeks": "10 x 10 cm"}, stages=False)
    laid = on_trays(plan, (1, 0), 900)
    assert laid.trays == 2
    sizes: dict[str | None, float] = {}
    for component in laid.plan.components:
        assert component.area is not None
        sizes[component.shares] = sizes.get(component.shares, 0) + component.area.cm2
    assert all(size <= 900 for size in sizes.values())
    assert sum(sizes.values()) == pytest.approx(1600, rel=0.01)
    assert laid.moved == ("beets, part 2",)


def test_without_an_area_it_is_reckoned_from_weight_and_size() -> None:
    plan = meal({"beets": "20 x 30 cm", "leeks": "20 x 20 cm"})
    bare = [
        c.model_copy(update={"area": None, "size": Length.parse("15 mm")} if n < 2 else {})
        for n, c in enumerate(plan.components)
    ]
    plan = plan.model_copy(update={"components": tuple(bare)})
    state = begin(plan).state
    # 400 g of 15 mm each: 267 cm² of food; spread with air 488 of a tray, laid closely 294.
    assert "about 975 cm² of beets, leeks at once" in too_much(state)[0]
    assert "unless laid closely" in too_much(state)[0]
    trays, rounds = ways_out(plan, state, None)
    assert "on a second tray" in trays.text
    assert "in two rounds" in rounds.text
    assert fullest(begin(trays.plan).state) <= 900
    assert fullest(begin(rounds.plan).state) <= 900


def test_two_rounds_of_all_where_one_alone_is_not_enough() -> None:
    plan = meal({"beets": "28 x 28 cm", "leeks": "27 x 28 cm"}, stages=False)
    rounds = ways_out(plan, begin(plan).state, None)[1]
    assert rounds.text.startswith("leeks and beets in two rounds")
    assert fullest(begin(rounds.plan).state) <= 900


@pytest.mark.parametrize("stages", [True, False])
def test_trays_and_rounds_together_where_neither_is_enough(stages: bool) -> None:
    # 5.3 trays of beets: more than three trays, and a round of them more than one.
    plan = meal({"beets": "80 x 60 cm", "leeks": "10 x 10 cm"}, stages)
    state = begin(plan).state
    (both,) = ways_out(plan, state, None)
    assert "beets in two rounds, each on 3 trays" in both.text
    found = begin(both.plan).state
    assert fullest(found) <= 900
    names = {c.shares for c in both.plan.components}
    assert len(names) == 3
    assert read_plan(plan_text(both.plan), "x") == both.plan
    assert sum(a.cm2 for c in both.plan.components if (a := c.area)) == pytest.approx(
        sum(a.cm2 for c in plan.components if (a := c.area)), rel=0.01
    )
    assert found.schedule.dish_up >= state.schedule.dish_up + 18 * 60


def test_more_than_all_of_that_has_no_way_out() -> None:
    plan = meal({"beets": "100 x 90 cm"}, stages=False)
    state = begin(plan).state
    assert ways_out(plan, state, None) == ()
