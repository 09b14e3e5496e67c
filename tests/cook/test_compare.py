"""Runs side by side, and whether a plan is ready to be published."""

from dataclasses import replace

import pytest

from passbell.cook.compare import agree, compared, tolerance
from passbell.cook.kitchen import Habit
from passbell.cook.prepare import prepared
from passbell.cook.ready import Ready, ready
from passbell.plan.read import read_plan
from tests.cook.kept_runs import TEXT, run

PLAN = prepared(read_plan(TEXT, "roots.toml"))


def points(found: Ready) -> list[bool]:
    return [point.holds for point in found.points]


@pytest.mark.parametrize(
    ("time", "seconds"), [(None, 60), (0, 60), (12 * 60, 60), (40 * 60, 120), (3 * 3600, 540)]
)
def test_the_tolerance_is_a_minute_or_a_twentieth(time: int | None, seconds: int) -> None:
    assert tolerance(time) == seconds


def test_what_is_missing_agrees_only_with_what_is_missing() -> None:
    assert agree((None, None), 0)
    assert not agree((None, 10), 1000)
    assert agree((10, 70), 60)
    assert not agree((10, 71), 60)


def test_two_equal_runs_differ_in_nothing_whenever_they_were_begun() -> None:
    found = compared((run(1), run(2, later={"carrots": 300, "green beans": 300})))
    assert all(side.differs == frozenset() for side in found.sides)
    assert found.same_text
    carrots, beans = found.sides
    assert (carrots.went[0].went_in, beans.went[0].went_in) == (0, 28 * 60)
    assert (beans.went[1].came_out, beans.went[1].time) == (40 * 60, 12 * 60)


def test_what_differs_is_marked_where_it_does() -> None:
    runs = (run(1), run(2, {("green beans", 1): 180}, {"green beans": "over"}))
    carrots, beans = compared(runs).sides
    assert carrots.differs == frozenset()
    assert beans.differs == {"out", "time", "score"}


def test_a_component_that_only_one_run_has_is_shown_for_both() -> None:
    other = TEXT.replace('name  = "green beans"', 'name  = "leeks"')
    found = compared((run(1), run(2, text=other)))
    assert [side.name for side in found.sides] == ["carrots", "leeks", "green beans"]
    assert [w.present for w in found.sides[1].went] == [False, True]
    assert {"in", "out"} <= found.sides[1].differs
    assert not found.same_text


def test_two_that_agree_and_the_last_from_the_text_are_ready() -> None:
    found = ready((run(1, {("green beans", 1): 50}), run(2)), PLAN)
    assert found.ready
    assert "runs 1 and 2 agree" in found.points[0].text


def test_only_the_last_two_cooks_count_and_rehearsals_do_not() -> None:
    far = run(1, {("green beans", 1): 400})
    assert ready((far, run(2), run(3)), PLAN).ready
    assert not ready((far, run(2, rehearsal=True), run(3)), PLAN).ready
    assert "two are needed" in ready((run(1), run(2, rehearsal=True)), PLAN).points[0].text
    assert "no cook counts yet" in ready((), PLAN).points[0].text


def test_runs_that_do_not_agree_are_not_ready_and_it_says_by_how_much() -> None:
    found = ready((run(1, {("green beans", 1): 90}), run(2)), PLAN)
    assert points(found) == [False, True]
    assert "green beans out 1:30 apart, 1 min allowed" in found.points[0].text


def test_a_last_run_that_was_changed_on_the_way_is_not_from_the_text() -> None:
    long = {("green beans", 1): 90}
    found = ready((run(1, long), run(2, long)), PLAN)
    assert points(found) == [True, False]
    assert "green beans on the heat for 13:30 instead of 12:00" in found.points[1].text
    found = ready((run(1), run(2, stage_extra=120)), PLAN)
    assert "oven given 2 min more" in found.points[1].text


def test_a_plan_changed_since_or_gone_is_not_ready_but_a_comment_is_no_change() -> None:
    runs = (run(1), run(2))
    changed = prepared(read_plan(TEXT.replace('"12 min"', '"11 min"'), "roots.toml"))
    assert points(ready(runs, changed)) == [True, False]
    assert "the plan file is gone" in ready(runs, None).points[1].text
    assert ready(runs, prepared(read_plan("# a word\n" + TEXT, "roots.toml"))).ready


def test_a_last_run_for_another_number_of_people_is_not_from_the_text() -> None:
    four = prepared(read_plan(TEXT.replace("serves = 2", "serves = 4"), "roots.toml"))
    found = ready((run(1), run(2)), four)
    assert found.points[1].text.startswith("run 2 was cooked for 2, the text is for 4")
    assert not found.ready


def test_the_kitchens_own_pace_is_no_change_but_is_said() -> None:
    kitchen = (Habit(appliance="oven", pace=1.1, runs=4),)
    found = ready((run(1, kitchen=kitchen), run(2, kitchen=kitchen)), PLAN)
    assert found.ready
    assert any("10 % slow" in remark for remark in found.remarks)


def test_meat_that_did_not_meet_its_minimum_is_never_ready() -> None:
    meat = TEXT.replace(
        'name  = "green beans"\nfood  = "plant"', 'name = "thighs"\nfood = "poultry_pieces"'
    )
    plan = prepared(read_plan(meat, "roots.toml"))
    runs = (run(1, text=meat), run(2, text=meat))
    found = ready(runs, plan)
    assert points(found) == [True, True, False]
    assert "thighs: incomplete" in found.points[2].text
    thighs = replace(runs[1].account.components[1], verdict="met")
    account = replace(runs[1].account, components=(runs[1].account.components[0], thighs))
    assert ready((runs[0], replace(runs[1], account=account)), plan).ready


def test_what_was_said_of_the_last_run_is_a_remark() -> None:
    found = ready((run(1), run(2, scores={"green beans": "over"})), PLAN)
    assert found.remarks == ("green beans was over in run 2",)
