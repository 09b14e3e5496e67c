"""The table of a cook, read by Python's csv module and by NumPy's own reader in C."""

import io
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings

from passbell.export.table import COLUMNS, harmless, table
from tests.cook.meals import TRAY
from tests.export.meals import cooked, hostile, names, planned
from tests.export.readers import rows


def test_planned_and_actual_stand_side_by_side() -> None:
    head, thighs, beans = rows(table(cooked()))
    assert tuple(head) == COLUMNS
    found = dict(zip(head, thighs, strict=True))
    assert found["planned minutes"] == "30"
    assert float(found["actual minutes"]) > 30
    assert found["verdict"] == "met"
    assert "160 °F" in found["readings"]
    assert found["doneness"] == "juices run clear"
    assert found["actual in"].startswith("2027-01-15T")
    assert beans[0] == "green beans"


def test_a_plan_has_no_actual_figures() -> None:
    for row in rows(table(planned(TRAY)))[1:]:
        found = dict(zip(COLUMNS, row, strict=True))
        assert found["planned in"]
        assert not found["actual in"] + found["actual out"] + found["actual minutes"]


def test_lines_end_with_cr_lf() -> None:
    text = table(planned(TRAY))
    assert text.count("\r\n") == text.count("\n") == 4


@pytest.mark.parametrize(
    "cell", ["=1+1", "+1", "-1", "@SUM(A1)", "  =1", "\t=1", "\t1", "＝1", "\u2028-1"]
)
def test_what_begins_like_a_formula_is_made_harmless(cell: str) -> None:
    assert harmless(cell) == f"'{cell}"


def test_a_plain_cell_stays() -> None:
    assert harmless("green beans = good") == "green beans = good"


@settings(max_examples=12)
@given(hostile)
def test_hostile_names_are_read_alike_by_two_readers(data: dict[str, Any]) -> None:
    meal = planned(data)
    found = rows(table(meal))
    assert [r[0] for r in found[1:]] == [harmless(c.name) for c in meal.account.components]
    assert not any(cell.strip()[:1] in tuple("=+-@") for r in found for cell in r if cell.strip())
    other = np.loadtxt(io.StringIO(table(meal)), dtype=str, delimiter=",", quotechar='"',
                       comments=None, encoding=None)  # fmt: skip
    # NumPy strips nothing and keeps every cell but its trailing blanks.
    assert [[cell.rstrip() for cell in row] for row in found] == other.tolist()


@settings(max_examples=40)
@given(names)
def test_no_cell_begins_like_a_formula(text: str) -> None:
    assert harmless(text).lstrip()[:1] not in {"=", "+", "-", "@"}
