"""One layer and its ways out: each way is a schedule, checked here second by second."""

import pytest

from passbell.cook.engine import begin
from passbell.cook.layers import too_much, ways_out
from passbell.cook.state import CookState
from passbell.plan.dump import plan_text
from passbell.plan.read import read_plan
from passbell.plan.rounds import on_trays, two_rounds
from tests.cook.layered import meal


def fullest(state: CookState) -> float:
    """The most on one tray at any second, counted by hand."""
    most = 0.0
    for at in range(0, state.schedule.dish_up + 1, 15):
        trays: dict[str | None, float] = {}
        for c, component in enumerate(state.plan.components):
            for i, one in enumerate(component.steps):
                inside = state.schedule.starts[c][i] <= at < state.schedule.ends[c][i]
                if one.on and inside and component.area:
                    full = trays.get(component.shares, 0.0) + component.area.cm2
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
    for other in two_rounds(plan, 0):
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
    other = next(two_rounds(plan, 0))
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
