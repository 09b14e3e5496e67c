"""Nothing offers meat for taking out before every place reads its minimum on the heat."""

import pytest

from passbell.cook import cues
from tests.cook.early import FORECAST, cook

OFF_THE_HEAT = (8, 33)
"""Cooks in which readings off the heat would carry food past a gate that counts them, or that does
not let them speak against it."""


@pytest.mark.parametrize("seed", [*OFF_THE_HEAT, *range(41, 41 + 2 * FORECAST)])
def test_meat_is_never_offered_too_early(seed: int) -> None:
    assert cook(seed, acts=24).faults == []


def test_cooks_come_to_where_it_may_be_offered_and_to_where_it_may_not() -> None:
    found = [cook(seed) for seed in (41, 42, 43)]
    assert sum(one.allowed for one in found) > 2
    assert sum(one.looked - one.allowed for one in found) > 50


def test_an_engine_that_offers_too_early_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cues, "_may_come_out", lambda state, component, index: True)
    faults = [fault for seed in (41, 42) for fault in cook(seed, acts=10).faults]
    assert any(fault.startswith("cue take_out") for fault in faults)
