"""The plan's own time calibrates the model."""

from dataclasses import replace

import pytest

from passbell.heat.course import body_of, course, step_for
from passbell.heat.journey import follow
from passbell.heat.prior import HIGHEST, LOWEST, calibrate
from tests.heat.samples import AIR_FRY, CHOP, TARGET, TWO


@pytest.mark.parametrize("minutes", [11, 13, 17, 20, 25, 35, 60])
@pytest.mark.parametrize("exposure", [AIR_FRY, TWO])
def test_the_core_reaches_the_target_at_the_plans_time(minutes: int, exposure) -> None:  # type: ignore[no-untyped-def]
    body = body_of(CHOP)
    found = calibrate(body, exposure, TARGET, minutes * 60)
    assert found is not None
    fitted = replace(body, coefficient=found.coefficient, half_m=body.half_m * found.thickness)
    reached = follow(fitted, course(exposure, step_for(body), 7200), (), TARGET).reach_s
    assert reached == pytest.approx(minutes * 60, abs=3)


def test_a_trade_time_no_coefficient_explains_bends_the_pace() -> None:
    """8 min for a 1-inch chop at 325 °F air fry is common practice and no physics."""
    found = calibrate(body_of(CHOP), AIR_FRY, TARGET, 8 * 60)
    assert found is not None
    assert found.coefficient == HIGHEST
    assert found.thickness < 0.9


def test_a_longer_time_is_a_smaller_coefficient() -> None:
    times = [14, 18, 24, 32]
    found = [calibrate(body_of(CHOP), AIR_FRY, TARGET, t * 60) for t in times]
    values = [one.coefficient for one in found if one is not None]
    assert len(values) == 4
    assert values == sorted(values, reverse=True)
    assert all(LOWEST <= value <= HIGHEST for value in values)


def test_what_does_not_belong_together_is_refused() -> None:
    assert calibrate(body_of(CHOP), AIR_FRY, TARGET, 60) is None
    assert calibrate(body_of(CHOP), AIR_FRY, 150.0, 1200) is None
