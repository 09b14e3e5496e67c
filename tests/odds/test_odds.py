"""The odds: against a closed form, a headless cook of the engine, and themselves."""

from math import log, sqrt
from typing import Any

from scipy import stats

from passbell.cook.engine import begin
from passbell.cook.fold import fold
from passbell.cook.state import CookState
from passbell.odds.hand import Hand
from passbell.odds.luck import Luck, Spread
from passbell.odds.matter import Matter, matters
from passbell.odds.odds import WITHIN, Draws, Odds, odds_of, served_in
from passbell.odds.say import chance_words, matter_line, odds_line, percent
from passbell.session.crew import Crew
from tests.cook.meals import TRAY, plan_of, step
from tests.cook.meals import Hand as Cook

NONE = Spread(0.0, 0.0, 0.0)
"""A kitchen in which everything takes as long as planned."""

ONE: dict[str, Any] = {
    "title": "Invented: one thing to peel",
    "serves": 1,
    "component": [
        {
            "name": "roots",
            "steps": [step("prep", "peel", "20 min"), step("finish", "serve", "0 min")],
        }
    ],
}
POTS: dict[str, Any] = {
    "title": "Invented: two pots",
    "serves": 2,
    "appliance": [{"name": "burner"}],
    "component": [
        {
            "name": "greens",
            "food": "plant",
            "steps": [
                step("prep", "wash", "60 min"),
                step("cook", "simmer", "6 min", on="burner"),
                step("finish", "dress", "2 min"),
            ],
        },
        {
            "name": "rice",
            "food": "plant",
            "steps": [
                step("cook", "lid on", "12 min", on="burner"),
                step("finish", "fluff", "1 min"),
            ],
        },
    ],
}


def cook(data: dict[str, Any], serve: int | None = None) -> CookState:
    return begin(plan_of(data), serve).state


def test_one_uncertain_step_has_the_chance_of_its_distribution() -> None:
    """Served on time when a lognormal time of mean 20 and sd 5 min is no longer than 20 + 5 min."""
    runs = 250
    known = stats.lognorm(s=sqrt(log(1.0625)), scale=1200 / sqrt(1.0625))
    chance = known.cdf(1200 + WITHIN)
    found = odds_of(cook(ONE, 1200), Draws(5, runs))
    assert abs(found.chance - chance) < 3.5 * sqrt(chance * (1 - chance) / runs)
    late = known.ppf(0.9) - 1200
    slope = sqrt(0.09 / runs) / known.pdf(known.ppf(0.9))
    assert abs(found.late_90 - late) < 3.5 * slope


def test_the_same_seed_gives_the_same_cooks_and_another_others() -> None:
    state = cook(POTS)
    one, again = odds_of(state, Draws(2, 6)), odds_of(state, Draws(2, 6))
    assert one == again
    assert odds_of(state, Draws(3, 6)).served != one.served


def test_cooks_shared_out_among_processes_are_the_same_cooks() -> None:
    state, draws = cook(POTS), Draws(2, 5)
    with Crew(2) as crew:
        assert crew.odds(state, draws) == odds_of(state, draws)


def test_a_child_that_died_changes_nothing() -> None:
    state, draws = cook(ONE), Draws(2, 4)
    with Crew(1) as crew:
        crew.odds(state, draws)
        crew._children[0].kill()
        crew._children[0].wait()
        assert crew.odds(state, draws) == odds_of(state, draws)


def test_where_nothing_varies_the_meal_is_on_the_table_when_the_plan_says() -> None:
    for serve in (None, 5400):
        state = cook(POTS, serve)
        found = odds_of(state, Draws(1, 1, NONE))
        assert found.served == (state.schedule.dish_up,)
        assert found.chance == 1
        assert found.late_90 == 0


def test_food_ended_by_the_probe_is_read_at_every_place_and_leaves() -> None:
    """Nothing varied: done at its planned time, found so at the look after it."""
    state = cook(TRAY, 3600)
    hand = Hand(state, Luck(1, 0, NONE))
    served = hand.cook()
    places = {e.place for e in hand.events if e.type == "was_read"}
    assert places == {"1", "2"}
    assert served is not None
    assert served - state.schedule.dish_up < WITHIN


def test_a_made_up_thermometer_feeds_no_forecast() -> None:
    """It shows 40 °C until food is done; a forecast would believe that and put off the looks."""
    data = {**TRAY, "component": [dict(dish) for dish in TRAY["component"]]}
    sized = {**data, "component": [{**dish, "size": "30 mm"} for dish in data["component"]]}
    draws = Draws(2, 4)
    assert odds_of(cook(sized, 3600), draws).served == odds_of(cook(data, 3600), draws).served
    hand = Hand(cook(sized, 3600), Luck(2, 0))
    hand.cook()
    assert hand.state.served != odds_of(cook(sized, 3600), draws).served[0], "it would matter"


def test_a_later_serving_time_never_lowers_the_chance() -> None:
    """It need not raise it: the plan then begins that much later."""
    found = [odds_of(cook(POTS, serve), Draws(4, 12)).chance for serve in (4080, 4500, 6600)]
    assert found == sorted(found)
    assert 0 < found[0] < 1


def test_the_made_up_cook_is_a_cook_of_the_engine() -> None:
    """Nothing varied: act for act, at the same instants, what a headless cook does."""
    plan = plan_of(POTS)
    outcome = begin(plan)
    hand = Hand(outcome.state, Luck(1, 0, NONE))
    served = hand.cook()
    other = Cook(plan).cook_to(served or 0)
    told = [e for e in (*outcome.events, *hand.events) if e.type == "acted"]
    same = [e for e in other.events if e.type == "acted"]
    more = {(e.cue, e.happened) for e in told} ^ {(e.cue, e.happened) for e in same}
    assert more == {("finish.0.2.end.0", served)}, "she finishes before she dishes up"
    assert served == other.state.served


def test_a_cook_with_luck_folds_like_any_other() -> None:
    plan = plan_of(TRAY)
    outcome = begin(plan)
    hand = Hand(outcome.state, Luck(9, 2))
    hand.cook()
    again = fold(outcome.state.plan, (*outcome.events, *hand.events))
    assert again == hand.state
    assert any(e.type == "replanned" and e.schedule is not None for e in hand.events)


def test_a_cook_under_way_goes_on_from_where_it_stands() -> None:
    """Work that has begun takes at least what has passed of it."""
    other = Cook(plan_of(POTS)).cook_to(60)
    served = served_in(other.state, Draws(1, 4), range(4))
    assert all(at >= other.state.at for at in served)
    assert len(set(served)) > 1


def test_a_step_begun_earlier_is_cooked_again_with_the_same_luck() -> None:
    state, draws = cook(POTS, 4380), Draws(11, 24)
    base = odds_of(state, draws)
    found = matters(state, base, draws, lambda s, leads: odds_of(s, draws, leads))
    assert found
    assert all(m.before == base.chance < m.after for m in found)
    assert found == tuple(sorted(found, key=lambda m: -m.after))
    line = matter_line(state, found[0])
    assert percent(found[0].after) in line
    assert state.component(found[0].component).name in line


def test_with_no_time_before_it_a_prep_is_done_ahead() -> None:
    state, draws = cook(ONE, 1200), Draws(1, 12)
    base = odds_of(state, draws)
    found = matters(state, base, draws, lambda s, leads: odds_of(s, draws, leads))
    assert found == (Matter(0, 0, "ahead", 1200, base.chance, 1.0),)
    assert matter_line(state, found[0]).endswith("to 99 %")


def test_the_words_never_promise() -> None:
    assert chance_words(1.0) == "19 in 20 or better"
    assert chance_words(0.71) == "7 in 10"
    assert chance_words(0.0) == "1 in 20 or less"
    assert (percent(0.0), percent(0.884), percent(1.0)) == ("1 %", "88 %", "99 %")
    line = odds_line(Odds(3600, (3600,) * 8 + (4000, 4201)), lambda at: f"t{at}")
    assert line == "8 in 10 to serve by t3900; 1 in 10 is later by 7 min or more"
