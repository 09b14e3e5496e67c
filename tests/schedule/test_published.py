"""Published time plans: the printed starts come back, and their known clashes are reported.

The plans stand in tests/cases/time_plans, each with its source. Instants are seconds since
midnight, so that a printed clock time can be compared as it stands.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from passbell.cook.cues import cues
from passbell.cook.engine import begin
from passbell.plan.model import Plan
from passbell.plan.read import read_plan
from passbell.schedule import (
    Problem,
    Schedule,
    problem_of,
    solve,
    solve_live,
    violations,
    why_late,
)

FOLDER = Path(__file__).parents[1] / "cases" / "time_plans"
Printed = dict[tuple[str, int], str]
A, C, D = "a_finish_together", "c_chicken_and_rice", "d_check_and_extend"
E, F, H = "e_two_courses", "f_noon", "h_forgotten_dish"

SERVED = {A: "14:00", C: "18:00", D: "14:15", E: "15:45", F: "12:00", H: "13:00"}

PRINTED: dict[str, Printed] = {
    # Every line with both a start and a length: to the minute.
    A: {
        ("turkey", 0): "06:30",
        ("turkey", 1): "08:30",
        ("turkey", 2): "12:00",
        ("squash", 0): "12:50",
        ("honey parsnips", 0): "12:50",
        ("parsnips", 0): "13:10",
        ("potatoes", 0): "13:15",
        ("cheese parcel", 0): "13:15",
        ("cauliflower", 0): "13:15",
        ("carrot and swede", 0): "13:20",
        ("red cabbage", 0): "13:20",
        ("sausages", 0): "13:25",
    },
    C: {
        ("chicken", 0): "16:00",
        ("brown rice", 0): "16:50",
        ("brown rice", 1): "17:05",
        ("cheese sauce", 0): "17:45",
    },
    D: {
        ("turkey", 0): "09:45",
        ("turkey", 1): "10:45",
        ("turkey", 2): "13:00",
        ("turkey", 3): "14:10",
        ("potatoes", 1): "13:10",
        ("onions and sausages", 0): "13:30",
        ("onions and sausages", 1): "13:35",
        ("roots", 0): "13:35",
        ("sprouts", 0): "13:45",
    },
    E: {
        ("turkey", 0): "11:50",
        ("turkey", 1): "12:00",
        ("turkey", 2): "15:10",
        ("potatoes and parsnips", 0): "13:45",
        ("potatoes and parsnips", 1): "15:20",
        ("greens", 0): "14:55",
        ("greens", 1): "15:25",
        ("gravy", 0): "15:15",
        ("gravy", 2): "15:40",
        ("starter", 1): "15:30",
    },
    F: {
        ("turkey", 0): "05:30",
        ("turkey", 1): "06:30",
        ("turkey", 2): "11:15",
        ("turkey", 3): "11:45",
        ("sweet potatoes", 0): "10:45",
        ("bean bake", 1): "11:15",
        ("rolls", 0): "09:00",
        ("rolls", 2): "10:00",
        ("rolls", 4): "11:30",
        ("white potatoes", 0): "10:45",
    },
    H: {
        ("turkey", 0): "08:00",
        ("turkey", 1): "12:10",
        ("turkey", 2): "12:20",
        ("vegetable bakes", 0): "11:50",
        ("rolls", 0): "12:35",
        ("mashed potatoes", 0): "11:45",
        ("mashed potatoes", 1): "12:40",
    },
}

# Lines whose place the published plan leaves open: no later than the plan needs them, which is at
# or after the printed start (the difference is the slack that the author gave herself).
LEFT_OPEN: dict[str, Printed] = {
    D: {("potatoes", 0): "11:00"},
    E: {("starter", 0): "14:45"},
    F: {("bean bake", 0): "09:30"},
}


def clock(text: str) -> int:
    hours, minutes = text.split(":")
    return int(hours) * 3600 + int(minutes) * 60


def plan_of(name: str) -> Plan:
    return read_plan((FOLDER / f"{name}.toml").read_text("utf-8"), name)


def solved(name: str) -> tuple[Problem, Schedule]:
    problem = problem_of(plan_of(name), clock(SERVED[name]))
    return problem, solve(problem)


def start(problem: Problem, schedule: Schedule, place: tuple[str, int]) -> int:
    return schedule.starts[problem.names.index(place[0])][place[1]]


def shifted(problem: Problem, schedule: Schedule, at: Printed) -> Schedule:
    """A schedule with some steps at their printed times."""
    starts, ends = [list(r) for r in schedule.starts], [list(r) for r in schedule.ends]
    for (name, index), when in at.items():
        c = problem.names.index(name)
        starts[c][index] = clock(when)
        ends[c][index] = clock(when) + problem.works[c][index].time
    return replace(schedule, starts=tuple(map(tuple, starts)), ends=tuple(map(tuple, ends)))


def lasting(problem: Problem, name: str, index: int, seconds: int) -> Problem:
    """The same meal, one step of which takes another time."""
    c = problem.names.index(name)
    row = list(problem.works[c])
    row[index] = replace(row[index], time=seconds)
    works = (*problem.works[:c], tuple(row), *problem.works[c + 1 :])
    return replace(problem, works=works)


def by_then(problem: Problem, schedule: Schedule, now: int) -> Problem:
    """The same meal at an instant, everything so far as planned."""
    works = []
    for chain, begins, ends in zip(problem.works, schedule.starts, schedule.ends, strict=True):
        row = []
        for work, began, ended in zip(chain, begins, ends, strict=True):
            past = replace(work, began=began, ended=ended if ended < now else None)
            row.append(past if began < now else work)
        works.append(tuple(row))
    machines = tuple(
        replace(m, on=on, bounds=tuple(b for b in bounds if b < now) if m.stages else ())
        if on is not None and on < now
        else m
        for m, on, bounds in zip(problem.machines, schedule.on, schedule.bounds, strict=True)
    )
    return replace(problem, works=tuple(works), machines=machines, now=now)


@pytest.mark.parametrize("name", sorted(PRINTED))
def test_the_printed_starts_come_back(name: str) -> None:
    problem, schedule = solved(name)
    assert violations(problem, schedule) == []
    assert (schedule.dish_up, schedule.late) == (clock(SERVED[name]), 0)
    found = {place: start(problem, schedule, place) for place in PRINTED[name]}
    assert found == {place: clock(when) for place, when in PRINTED[name].items()}
    for place, when in LEFT_OPEN.get(name, {}).items():
        assert start(problem, schedule, place) >= clock(when)


def test_a_the_oven_is_switched_on_at_eight_and_everything_lands_at_ten_to_two() -> None:
    problem, schedule = solved(A)
    assert schedule.on[0] == clock("08:00")
    main = [w for chain in problem.works for w in chain if w.machine == 0][1:]
    ends = {schedule.ends[w.component][w.index] for w in main}
    assert ends == {clock("13:50")}
    assert schedule.over_hold == 0


def test_a_the_printed_frying_overlaps_the_boiling_it_needs() -> None:
    problem, schedule = solved(A)
    printed = {("sprouts", 0): "13:30", ("sprouts", 1): "13:30"}
    told = violations(problem, shifted(problem, schedule, printed))
    assert any("fry with bacon" in fault and "540 s too soon" in fault for fault in told)
    boil, fry = (start(problem, schedule, ("sprouts", step)) for step in (0, 1))
    assert fry == boil + 9 * 60


@pytest.mark.parametrize("minutes", [30, 60])
def test_a_the_printed_further_half_hour_or_hour_moves_the_table_with_it(minutes: int) -> None:
    problem, schedule = solved(A)
    now = by_then(problem, schedule, clock("12:00"))
    longer = lasting(now, "turkey", 1, (210 + minutes) * 60)
    again = solve_live(longer, like=schedule)
    assert again.late == minutes * 60
    assert "turkey" in why_late(longer, again)
    assert start(problem, again, ("sausages", 0)) == clock("13:25") + minutes * 60


def test_c_the_turn_is_halfway_and_the_call_a_quarter_of_an_hour_before() -> None:
    state = begin(plan_of(C), clock("18:00")).state
    turn = [cue for cue in cues(state) if cue.key.kind == "during"]
    call = [cue for cue in cues(state) if cue.key.kind == "call"]
    assert [cue.at for cue in (*turn, *call)] == [clock("17:00"), clock("17:45")]
    assert state.schedule.on[0] == clock("15:55")


def test_c_two_hands_on_jobs_overlap_as_printed_and_do_not_in_our_answer() -> None:
    problem, schedule = solved(C)
    told = violations(problem, shifted(problem, schedule, {("table", 0): "17:50"}))
    assert any(fault.startswith("hands: 2 at once") and "lay it" in fault for fault in told)
    assert start(problem, schedule, ("table", 0)) + 10 * 60 <= clock("17:45")
    assert schedule.over_hold == 0
    two = replace(problem, hands=2)
    assert start(problem, solve(two), ("table", 0)) == clock("17:50")


def test_d_the_oven_steps_up_when_the_bird_comes_out() -> None:
    _, schedule = solved(D)
    assert schedule.bounds[0][:2] == (clock("10:45"), clock("13:00"))


def extended(rest: int, *, any_heat: bool = False) -> tuple[Problem, Schedule]:
    """Plan D at its look at 13:00, with twenty minutes more and a rest of so many minutes."""
    problem, schedule = solved(D)
    now = by_then(problem, schedule, clock("13:00"))
    now = lasting(lasting(now, "turkey", 1, 155 * 60), "turkey", 2, rest * 60)
    if any_heat:
        works = [
            tuple(replace(w, runs=((0, 1),)) if w.runs and w.component else w for w in chain)
            for chain in now.works
        ]
        now = replace(now, works=tuple(works))
    return now, solve_live(now, like=schedule)


def test_d_twenty_minutes_more_move_the_oven_the_potatoes_and_the_table() -> None:
    problem, again = extended(70)
    assert again.bounds[0][1] == clock("13:20")
    assert start(problem, again, ("potatoes", 1)) == clock("13:30")
    assert again.ends[problem.names.index("potatoes")][1] == clock("14:20")
    assert again.dish_up == clock("14:35")
    assert again.late == 20 * 60
    assert "turkey" in why_late(problem, again)


def test_d_a_shorter_rest_absorbs_it_only_if_the_potatoes_take_the_lower_heat() -> None:
    problem, again = extended(50)
    assert again.late == 10 * 60
    assert "potatoes" in why_late(problem, again)
    _, shared = extended(50, any_heat=True)
    assert (shared.late, shared.dish_up) == (0, clock("14:15"))


def test_e_the_oven_is_down_for_a_quarter_of_an_hour_only() -> None:
    _, schedule = solved(E)
    assert schedule.on[0] == clock("11:45")
    assert schedule.bounds[0][:3] == (clock("12:00"), clock("13:30"), clock("13:45"))


def test_f_one_pair_of_hands_cannot_do_what_is_printed_at_a_quarter_to_twelve() -> None:
    problem, schedule = solved(F)
    alone = replace(problem, hands=1)
    told = violations(alone, schedule)
    assert any(fault.startswith("hands: 4 at once") for fault in told)
    answer = solve(alone)
    assert violations(alone, answer) == []
    assert answer.late == 0
    assert answer.wait > schedule.wait


def test_h_the_forgotten_peas_cost_the_ten_minutes_they_did() -> None:
    problem, schedule = solved(H)
    assert start(problem, schedule, ("peas", 0)) == clock("12:49")
    now = by_then(problem, schedule, clock("12:59"))
    peas = problem.names.index("peas")
    works = (*now.works[:peas], problem.works[peas], *now.works[peas + 1 :])
    late = replace(now, works=works)
    again = solve_live(late, like=schedule)
    assert (again.dish_up, again.late) == (clock("13:10"), 600)
    assert "peas" in why_late(late, again)
