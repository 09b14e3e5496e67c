"""What runs ask for: changes with reasons and figures."""

import pytest

from passbell.cook.engine import begin
from passbell.cook.kept import Kept
from passbell.cook.kitchen import Habit
from passbell.cook.revise import Proposal, proposals, unheard
from passbell.cook.scores import Score
from passbell.cook.state import TakenReading
from passbell.plan.read import read_plan
from passbell.session.revise import revised
from tests.cook.kept_runs import MEAT, TEXT, run

BEANS = ("green beans", 1)


def asked(*runs: Kept, habits: tuple[Habit, ...] = (), text: str = TEXT) -> tuple[Proposal, ...]:
    return proposals(read_plan(text, "roots.toml"), runs, habits)


def beans(number: int, longer: int, score: Score | None = None) -> Kept:
    return run(number, {BEANS: longer}, {"green beans": score} if score else {})


def test_over_twice_and_in_longer_than_planned_go_in_that_much_later() -> None:
    (found,) = asked(beans(1, 180, "over"), beans(2, 170, "over"))
    assert found.change == (
        "green beans: 9 min on the heat instead of 12 min (in with 9:00 left instead of 12:00)"
    )
    assert found.reason == "over twice, in 3 min longer than planned"
    assert found.runs == (1, 2)
    assert [(e.path, e.value) for e in found.edits] == [
        (("component", 1, "steps", 1, "time"), 540),
        (("component", 1, "steps", 1, "check"), 420),
    ]
    assert found.comment.endswith("(runs 1, 2)")


@pytest.mark.parametrize(("longer", "score"), [(420, "over"), (-420, "under")])
def test_food_far_from_its_time_says_nothing_of_that_time(longer: int, score: Score) -> None:
    far = beans(2, longer, score)
    assert asked(far) == ()
    (said,) = unheard(read_plan(TEXT, "roots.toml"), (far,))
    assert said.startswith(f"green beans: {score} after {(720 + longer) // 60}:00, so its 12:00")
    assert said.endswith("cook it to the plan first (run 2)")
    near = beans(1, 180 if longer > 0 else -180, score)
    (found,) = asked(near, far)
    assert found.runs == (1,), "the run that tried it still speaks"
    assert unheard(read_plan(TEXT, "roots.toml"), (near, far)) == ()


def test_what_becomes_the_longest_goes_in_first_and_is_not_told_when() -> None:
    (found,) = asked(beans(1, 40 * 60, "just right"))
    assert found.change == (
        "green beans: 52 min on the heat instead of 12 min, "
        "so oven, roast: 52 min instead of 40 min"
    )


def test_over_in_its_own_time_takes_a_tenth_off_and_at_least_a_minute() -> None:
    (found,) = asked(beans(1, 0, "over"))
    assert found.edits[0].value == 11 * 60
    assert found.reason == "over after 12:00, 1 min taken off"
    (found,) = asked(run(1, scores={"carrots": "over"}))
    assert found.edits[0].value == 36 * 60
    assert "left" not in found.change


def test_under_adds_what_was_missing_or_a_tenth() -> None:
    (found,) = asked(beans(1, -150, "under"))
    assert (found.edits[0].value, found.reason) == (870, "under, in 2 min shorter than planned")
    (found,) = asked(beans(1, 0, "under"))
    assert found.edits[0].value == 13 * 60
    (found,) = asked(beans(1, 240, "under"))
    assert found.edits[0].value == 17.5 * 60, "a tenth on top of what was not enough"


def test_what_needs_longer_than_the_program_lasts_makes_its_first_stage_longer() -> None:
    (found,) = asked(run(1, scores={"carrots": "under"}))
    assert found.change == (
        "carrots: 44 min on the heat instead of 40 min, so oven, roast: 44 min instead of 40 min"
    )
    assert [(e.path, e.value) for e in found.edits] == [
        (("component", 0, "steps", 1, "time"), 44 * 60),
        (("appliance", 0, "stage", 0, "time"), 44 * 60),
    ]
    untimed = TEXT.replace('  time = "40 min"\n\n[[comp', "\n[[comp")
    (found,) = asked(run(1, scores={"carrots": "under"}, text=untimed), text=untimed)
    assert len(found.edits) == 1, "a stage lasts as long as its food needs"


def test_two_changes_that_need_a_longer_stage_both_have_room() -> None:
    text = TEXT.replace('time = "12 min", check', 'time = "40 min", check')
    scores = {"carrots": "under", "green beans": "under"}
    found = asked(run(1, {("carrots", 1): 180}, scores, text=text), text=text)
    assert [p.about for p in found] == ["carrots", "green beans"]
    needed = [p.edits[-1].value for p in found]
    assert needed[0] > needed[1]
    for order in (found, found[::-1]):
        plan = read_plan(revised(text, order, "2027-01-01"), "roots.toml")
        assert plan.appliances[0].stages[0].time == needed[0]
        begin(plan)


def test_just_right_in_another_time_writes_that_time() -> None:
    (found,) = asked(beans(1, 240, "just right"), beans(2, 180, "just right"))
    assert (found.edits[0].value, found.reason) == (930, "just right twice after 15:30")
    assert asked(beans(1, 50, "just right")) == ()


def test_the_last_word_counts_not_an_older_one() -> None:
    (found,) = asked(beans(1, 0, "over"), beans(2, 120, "just right"))
    assert found.edits[0].value == 14 * 60
    assert asked(beans(1, 0, "over"), beans(2, 0, "just right")) == ()


def test_runs_of_an_older_figure_have_been_heard() -> None:
    now = TEXT.replace('time = "12 min", check = "10 min"', 'time = "9 min"')
    assert asked(beans(1, 180, "over"), beans(2, 180, "over"), text=now) == ()
    (found,) = asked(
        beans(1, 180, "over"), run(3, scores={"green beans": "under"}, text=now), text=now
    )
    assert found.runs == (3,)


def test_rehearsals_and_what_was_left_out_say_nothing() -> None:
    rehearsed = run(1, {BEANS: 180}, {"green beans": "over"}, rehearsal=True)
    assert asked(rehearsed) == ()
    assert asked(run(1), run(2)) == ()


def test_a_prep_that_is_longer_as_a_habit() -> None:
    peel = ("carrots", 0)
    assert asked(run(1, {peel: 300})) == ()
    (found,) = asked(run(1, {peel: 300}), run(2, {peel: 360}))
    assert (found.about, found.edits[0].value) == ("carrots", 13.5 * 60)
    assert found.change == "carrots, peel: 13 min 30 s instead of 8 min"
    assert asked(run(1, {peel: 300}), run(2, {peel: -120})) == (), "no habit"


def test_a_stage_made_longer_again_and_again() -> None:
    (found,) = asked(run(1, stage_extra=180), run(2, stage_extra=240))
    assert found.edits[0].path == ("appliance", 0, "stage", 0, "time")
    assert (found.edits[0].value, found.reason) == (43.5 * 60, "made 4 min longer, twice")
    assert asked(run(1, stage_extra=180), run(2, stage_extra=-180)) == ()


@pytest.mark.parametrize("pace", [1.08, 0.9])
def test_the_pace_of_the_kitchen_is_not_written_into_the_plan_as_well(pace: float) -> None:
    habit = Habit(appliance="oven", pace=pace, runs=4)
    took = round(40 * 60 * pace) - 40 * 60
    right = run(1, {("carrots", 1): took}, {"carrots": "just right"})
    assert asked(right, habits=(habit,)) == ()
    (found,) = asked(right)
    assert found.about == "carrots"


def test_what_follows_a_shorter_time_stays_inside_it() -> None:
    text = TEXT.replace('{ at = "20 min", do = "turn" }', '{ at = "38 min", do = "turn" }')
    (found,) = asked(run(1, {("carrots", 1): 600}, {"carrots": "over"}, text=text), text=text)
    assert found.edits[0].value == 30 * 60
    assert found.edits[1].path == ("component", 0, "steps", 1, "during", 0, "at")
    assert found.edits[1].value == 28.5 * 60


def test_the_probe_says_how_long_it_takes_where_nobody_gave_a_word() -> None:
    def probed(number: int) -> Kept:
        zero = run(number, text=MEAT).account.components[1].went_in
        assert zero is not None
        taken = tuple(
            TakenReading(1, None, heat, "C", zero + at, off_heat=False)
            for at, heat in ((840, 71.0), (960, 76.0))
        )
        return run(number, {("thighs", 1): 300}, text=MEAT, readings=taken)

    assert asked(probed(1), text=MEAT) == ()
    (found,) = asked(probed(1), probed(2), text=MEAT)
    assert found.edits[0].value == 15 * 60
    assert found.reason == "done by the probe twice after 15:00"
