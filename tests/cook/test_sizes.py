"""Other sizes today: the range of times, the look, the stagger; the file stays as it is."""

from dataclasses import replace
from pathlib import Path

import pytest

from passbell.cook.engine import begin
from passbell.cook.kept import Kept
from passbell.cook.kitchen import Habit
from passbell.cook.lessons import lessons_of
from passbell.cook.own_times import own_times
from passbell.cook.revise import proposals
from passbell.cook.sizes import TodayError, resized
from passbell.plan.read import read_plan
from passbell.plan.write import set_values
from passbell.planfiles import find_plan
from passbell.session.today import of_sizes, read_size
from passbell.units import Duration, Length
from tests.cook.kept_runs import run

TRAY = find_plan("tray-supper")
CHICKEN = 2


def test_a_thicker_piece_is_looked_at_by_the_linear_time_and_reckoned_with_the_expected_one() -> (
    None
):
    """Common practice: a 1-inch chop 8 min, of 1.5 inch 12 min, which is the linear rule; the
    stagger counts on 13.0 (exponent 1.2), the band ends at 14.7 (exponent 1.5)."""
    plan = TRAY.plan
    step = (
        plan.components[CHICKEN].steps[1].model_copy(update={"time": Duration(480), "check": None})
    )
    dish = plan.components[CHICKEN]
    steps = (dish.steps[0], step, *dish.steps[2:])
    dish = dish.model_copy(update={"steps": steps, "size": Length.parse("1 in")})
    plan = plan.model_copy(update={"components": (*plan.components[:2], dish)})
    today = resized(plan, CHICKEN, Length.parse("1.5 in"))
    path = ("component", CHICKEN, "steps", 1)
    assert today.changes[(*path, "time")] == 13 * 60
    look = today.changes[(*path, "check")]
    assert isinstance(look, Duration)
    assert look <= 12 * 60
    assert "12 to 15 min, reckoned with 13 instead of 8" in today.notes[0]


def test_the_stagger_moves_and_the_stage_with_it() -> None:
    made, notes = of_sizes(TRAY, dict([read_size(TRAY.plan, "chicken=38mm")]))
    before, after = begin(TRAY.plan).state.schedule, begin(made.plan).state.schedule
    assert after.dish_up > before.dish_up
    assert made.plan.components[CHICKEN].steps[1].time == 24 * 60
    assert made.plan.appliances[0].stages[1].time == 24 * 60
    assert notes[0].startswith("chicken thighs 38mm instead of 30 mm: 23 to 26 min")
    assert notes[1] == "oven, crisp: 6 min longer for it"
    assert made.file == TRAY.file
    assert Path(TRAY.file).read_text(encoding="utf-8") == TRAY.text != made.text
    others = [c for i, c in enumerate(made.plan.components) if i != CHICKEN]
    assert others == [c for i, c in enumerate(TRAY.plan.components) if i != CHICKEN]


def test_a_thinner_piece_is_looked_at_before_the_earliest_time() -> None:
    made, _ = of_sizes(TRAY, dict([read_size(TRAY.plan, "chicken thighs=20 mm")]))
    step = made.plan.components[CHICKEN].steps[1]
    assert step.time == round(18 * (20 / 30) ** 1.2 * 2) * 30
    assert step.check is not None
    assert step.check <= 18 * 60 * (20 / 30) ** 1.5
    begin(made.plan)


def test_vegetables_get_a_look_and_their_turns_move() -> None:
    made, _ = of_sizes(TRAY, dict([read_size(TRAY.plan, "potatoes=30 mm")]))
    step, old = made.plan.components[0].steps[1], TRAY.plan.components[0].steps[1]
    assert step.check is not None
    assert step.check <= step.time
    assert int(step.during[0].at) > int(old.during[0].at)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("chicken", "no size of a component"),
        ("turnips=2cm", "is no component"),
        ("chicken=38", "is not a length"),
        ("green=10mm", "does not say what size"),
        ("chicken=20cm", "too far from"),
    ],
)
def test_what_cannot_be_is_said_with_its_mend(text: str, said: str) -> None:
    with pytest.raises(TodayError, match=said) as caught:
        of_sizes(TRAY, dict([read_size(TRAY.plan, text)]))
    assert caught.value.mend


def test_the_record_keeps_the_sizes_of_the_day() -> None:
    """What the journal holds is the text of today, from which a cook is taken up again."""
    made, _ = of_sizes(TRAY, dict([read_size(TRAY.plan, "chicken=38mm")]))
    assert replace(made, plan=TRAY.plan).text.count('"38mm"') == 1


STEP = 1
LATER = {("chicken thighs", STEP): 240}


def cooked_at(size: str, scores: dict[str, str], text: str = TRAY.text) -> Kept:
    loaded = replace(TRAY, text=text)
    made, _ = of_sizes(loaded, dict([read_size(TRAY.plan, f"chicken={size}")]))
    return run(4, LATER, scores, text=made.text)


def test_her_own_run_with_a_size_is_what_is_said_of_that_size() -> None:
    """38 mm took 4 min longer than the rule's 24 and was just right: 28 min next time."""
    own = own_times(TRAY.plan, [cooked_at("38mm", {"chicken thighs": "just right"})])
    assert [one.time_s for one in own[CHICKEN, STEP]] == [28 * 60]
    made, notes = of_sizes(TRAY, dict([read_size(TRAY.plan, "chicken=38mm")]), own)
    assert made.plan.components[CHICKEN].steps[STEP].time == 28 * 60
    assert "25 to 31 min, reckoned with 28 instead of 18" in notes[0]
    assert notes[0].endswith("from your own time in run 4")
    begin(made.plan)


def test_the_pace_of_the_kitchen_is_not_counted_twice() -> None:
    runs = [cooked_at("38mm", {"chicken thighs": "just right"})]
    own = own_times(TRAY.plan, runs, (Habit(appliance="oven", pace=1.12, runs=3),))
    assert own[CHICKEN, STEP][0].time_s == pytest.approx(28 * 60 / 1.12)


def test_what_tells_nothing_of_a_size_is_not_learned_from() -> None:
    """Under or over without a reading, a rehearsal, the plan's own size, another setting."""
    assert not own_times(TRAY.plan, [cooked_at("38mm", {"chicken thighs": "over"})])
    right = {"chicken thighs": "just right"}
    assert not own_times(TRAY.plan, [run(4, LATER, right, text=TRAY.text)])
    kept = cooked_at("38mm", right)
    assert not own_times(TRAY.plan, [replace(kept, source=replace(kept.source, rehearsal=True))])
    hotter = TRAY.text.replace("400 °F", "425 °F")
    assert hotter != TRAY.text
    assert not own_times(TRAY.plan, [cooked_at("38mm", right, hotter)])


def test_a_reckoned_time_says_nothing_of_the_ovens_pace() -> None:
    """The rule's error is not the oven's: the rest of the tray still teaches."""
    right = {"chicken thighs": "just right", "carrots": "just right"}
    (oven,) = lessons_of(cooked_at("38mm", right))
    (plain,) = lessons_of(cooked_at("38mm", {"carrots": "just right"}))
    assert (oven.pace, oven.preheat) == (plain.pace, plain.preheat)
    (own,) = lessons_of(run(4, LATER, right, text=TRAY.text))
    assert own.pace != oven.pace


def test_pieces_of_another_size_ask_for_no_change_of_the_plans_time() -> None:
    """However much longer they took: the time in the plan is that of its own size."""
    kept = cooked_at("38mm", {"chicken thighs": "just right"})
    time = kept.plan.components[CHICKEN].steps[STEP].time
    text = set_values(TRAY.text, {("component", CHICKEN, "steps", STEP, "time"): time})
    assert not proposals(read_plan(text, TRAY.file), (kept,))
