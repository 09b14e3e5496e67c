"""Every case of the case file gets its verdict, its flags, its rest and its hold."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from passbell.safety import Reading, Setup, judge
from passbell.units import Temperature

CASES = tomllib.loads(
    (Path(__file__).parents[1] / "cases" / "safety_checks.toml").read_text(encoding="utf-8")
)["case"]


def _ice(case: dict[str, Any]) -> Temperature | None:
    if "offset" not in case:
        return None
    scale = case["readings"][0][2]
    return Temperature(case["offset"] + (32 if scale == "F" else 0), scale)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['n']}-{case['key']}")
def test_case(case: dict[str, Any]) -> None:
    taken = [
        Reading(place, float(value), unit, minutes * 60, off_heat=minutes > 0)
        for place, value, unit, minutes in case["readings"]
    ]
    found = judge(
        (case["key"],), taken, chart=case["chart"], setup=Setup(ice=_ice(case), removed_at=0)
    )
    assert found.verdict == case["expect"]
    assert set(found.flags) == set(case.get("flags", []))
    assert found.rest_s == case.get("rest", 0) * 60
    assert found.hold_s == case.get("hold_s")
    assert found.chart == case["chart"]


def test_the_case_file_is_whole() -> None:
    assert len(CASES) == 28
    assert {case["expect"] for case in CASES} == {"met", "below", "hold", "recheck", "incomplete"}
