"""A meal as a table: one row a component, planned beside actual. CSV by RFC 4180."""

import csv
import io
from datetime import UTC, datetime, timedelta, timezone

from passbell.cook.account import ComponentAccount
from passbell.cook.state import TakenReading
from passbell.export.meal import Meal

COLUMNS = (
    "component", "planned in", "actual in", "planned out", "actual out", "planned minutes",
    "actual minutes", "readings", "verdict", "doneness", "turned out", "notes",
)  # fmt: skip

_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")


def table(meal: Meal) -> str:
    """The rows under a line of names; lines end with CR LF, as RFC 4180 has them.

    Times are local, ISO 8601; minutes carry a decimal point. What has no heat has no in and out,
    and what did not happen is empty.

    Args:
        meal: the meal.
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for found in meal.account.components:
        writer.writerow([harmless(cell) for cell in _row(meal, found)])
    return out.getvalue()


def harmless(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: one that begins like it gets an apostrophe.

    Args:
        cell: its text.
    """
    acts = cell.lstrip().startswith(_FORMULA) or cell.startswith(("\t", "\r"))
    return f"'{cell}" if acts else cell


def _row(meal: Meal, found: ComponentAccount) -> list[str]:
    def local(at: int | None) -> str:
        if at is None:
            return ""
        zone = timezone(timedelta(seconds=meal.offset))
        when = datetime.fromtimestamp(meal.utc(at), UTC).astimezone(zone)
        return when.isoformat(timespec="seconds")

    left_out = ("left out",) if found.skipped else ()
    return [
        found.name,
        local(found.planned_in),
        local(found.went_in),
        local(found.planned_out),
        local(found.came_out),
        _minutes(found.planned_heat_time),
        _minutes(found.heat_time),
        "; ".join(_reading(meal, r) for r in found.readings),
        found.verdict,
        found.doneness,
        found.score or "",
        "; ".join((*left_out, *found.notes)),
    ]


def _minutes(seconds: int | None) -> str:
    return "" if seconds is None else f"{seconds / 60:.2f}".rstrip("0").rstrip(".")


def _reading(meal: Meal, reading: TakenReading) -> str:
    where = f"{reading.place}: " if reading.place else ""
    off = " off the heat" if reading.off_heat else ""
    minute = reading.at // 60
    return f"{where}{reading.shown:g} °{reading.scale} at {minute} min{off}"
