"""What runs teach of a kitchen, against the textbook's own posterior mean."""

import math

import pytest
from scipy import integrate

from passbell.cook.kitchen import Habit, adjusted, paced
from passbell.cook.lessons import DOUBT, Lesson, habits, held_back, lessons_of, thermometer_error
from passbell.cook.state import TakenReading
from passbell.plan.read import read_plan
from passbell.units import Temperature
from tests.cook.kept_runs import MEAT, TEXT, run

RATIOS = [[1.08], [1.08, 1.1, 1.05, 1.09], [0.7, 1.4], [0.9] * 12]


@pytest.mark.parametrize("ratios", RATIOS)
def test_the_mean_is_that_of_the_normal_posterior_found_by_quadrature(ratios: list[float]) -> None:
    """Prior N(0, 1), lessons N(θ, DOUBT), on the logarithm; integrated without the formula.

    "Bayesian Data Analysis", third edition, CRC Press 2013, section 2.5.
    """
    logs = [math.log(ratio) for ratio in ratios]

    def weight(theta: float) -> float:
        lessons = sum((log - theta) ** 2 for log in logs) / DOUBT
        return math.exp(-(theta**2 + lessons) / 2)

    total = integrate.quad(weight, -6, 6, epsabs=1e-14)[0]
    mean = integrate.quad(lambda t: t * weight(t), -6, 6, epsabs=1e-14)[0] / total
    assert held_back(ratios) == pytest.approx(math.exp(mean), rel=1e-6)


def test_without_lessons_the_plan_is_right_and_with_many_the_lessons_are() -> None:
    assert held_back([]) == 1
    assert held_back([1.2] * 1000) == pytest.approx(1.2, rel=1e-3)


def lesson(number: int, preheat: float | None = None, pace: float | None = None) -> Lesson:
    return Lesson(run=number, began=number, appliance="oven", preheat=preheat, pace=pace)


def test_one_run_changes_no_plan_and_next_to_nothing_is_nothing() -> None:
    assert habits([lesson(1, pace=1.3)])[0].pace == 1
    assert habits([lesson(1, pace=1.03), lesson(2, pace=1.03)])[0].pace == 1
    (oven,) = habits([lesson(n, preheat=1.4, pace=1.08) for n in range(4)])
    assert oven.preheat == pytest.approx(1.4 ** (4 / 6), abs=1e-4)
    assert oven.pace == pytest.approx(1.08 ** (4 / 6), abs=1e-4)
    assert oven.runs == 4


def test_a_time_teaches_only_where_it_is_known_to_be_right() -> None:
    long = {("carrots", 1): 240, ("green beans", 1): 240}
    assert lessons_of(run(1, long))[0].pace is None
    (oven,) = lessons_of(run(1, long, {"carrots": "just right", "green beans": "over"}))
    assert oven.pace == pytest.approx(44 / 40)
    assert oven.preheat == 1


@pytest.mark.parametrize(
    ("readings", "pace"),
    [
        (((700, 70.0), (760, 76.0)), 730 / 720),
        (((600, 60.0), (700, 70.0), (760, 75.0), (800, 77.0)), 730 / 720),
        (((760, 76.0),), None),
        (((300, 60.0), (760, 76.0)), None),
        (((700, 70.0), (760, 74.0)), None),
    ],
)
def test_the_probe_teaches_only_by_readings_on_both_sides(
    readings: tuple[tuple[int, float], ...], pace: float | None
) -> None:
    zero = run(1, text=MEAT).account.components[1].went_in
    assert zero is not None
    taken = tuple(
        TakenReading(1, None, heat, "C", zero + at, off_heat=False) for at, heat in readings
    )
    (oven,) = lessons_of(run(1, {("thighs", 1): 100}, text=MEAT, readings=taken))
    assert oven.pace == (pace if pace is None else pytest.approx(pace, abs=1e-3))


def test_preheat_teaches_by_what_the_cook_said_and_an_odd_one_does_not() -> None:
    assert lessons_of(run(1, preheat=840))[0].preheat == pytest.approx(1.4)
    assert lessons_of(run(1, preheat=3000)) == ()


def test_rehearsals_teach_nothing() -> None:
    assert lessons_of(run(1, scores={"carrots": "just right"}, rehearsal=True)) == ()


def test_lessons_are_over_the_text_not_over_what_the_kitchen_made_of_it() -> None:
    kitchen = (Habit(appliance="oven", preheat=1.4, pace=1.1, runs=4),)
    (oven,) = lessons_of(run(1, scores={"carrots": "just right"}, kitchen=kitchen, preheat=840))
    assert oven.preheat == pytest.approx(1.4)
    assert oven.pace == pytest.approx(1.1)


def test_the_plan_in_this_kitchen_still_fits_and_looks_no_later() -> None:
    plan = adjusted(read_plan(TEXT, "x"), (Habit(appliance="oven", preheat=1.41, pace=1.083),))
    assert plan.appliances[0].preheat == 14 * 60
    assert plan.appliances[0].stages[0].time == 43.5 * 60
    carrots, beans = plan.components
    assert carrots.steps[1].time == 43 * 60
    assert carrots.steps[1].during[0].at == 21.5 * 60
    assert (carrots.steps[0].time, beans.steps[1].time) == (8 * 60, 12.5 * 60)
    assert beans.steps[1].check == 10 * 60


@pytest.mark.parametrize(("time", "pace", "paced_to"), [
    (50, 1.07, 50), (90, 1.07, 95), (240, 1.08, 255), (720, 1.05, 750), (720, 0.95, 660),
    (63, 1.02, 63), (240, 0.9, 215),
])  # fmt: skip
def test_a_slow_appliance_shortens_nothing_and_a_fast_one_lengthens_nothing(
    time: int, pace: float, paced_to: int
) -> None:
    assert paced(time, pace) == paced_to


@pytest.mark.parametrize("pace", [0.5, 0.9, 0.97, 1.02, 1.083, 1.31, 2.0])
def test_food_that_filled_its_stage_never_outgrows_it(pace: float) -> None:
    plan = adjusted(read_plan(TEXT, "x"), (Habit(appliance="oven", pace=pace),))
    stage = plan.appliances[0].stages[0].time
    assert stage is not None
    step = plan.components[0].steps[1]
    assert step.time <= stage
    assert step.during[0].at != "halfway"
    assert step.during[0].at <= step.time
    fast = plan.components[1].steps[1]
    assert fast.check is not None
    assert fast.check <= fast.time


def test_a_thermometer_is_told_of_and_corrects_nothing() -> None:
    shown = [Temperature(33, "F"), Temperature(0.6, "C"), Temperature(34, "F")]
    found = [
        Lesson(run=n, began=n, appliance="thermometer", ice=ice) for n, ice in enumerate(shown)
    ]
    assert thermometer_error(found) == (0.6, 3)
    assert habits(found) == ()
