"""No figure, no verdict: why, in words that reassure nobody."""

from collections.abc import Sequence

from passbell.safety.cautions import WASH_PROBE
from passbell.safety.chart import STRICTEST, ChartRow, chart_rows, charts_of
from passbell.safety.foods import PLANT, food_name, known_foods, nearest_food
from passbell.safety.model import Place, Reason, Verdict
from passbell.safety.say import elsewhere
from passbell.units import Temperature


def no_figure(
    food: Sequence[str],
    chart: str,
    rows: Sequence[ChartRow],
    places: tuple[Place, ...],
    lines: tuple[str, ...],
) -> Verdict:
    """The verdict `no_figure`.

    Args:
        food: the food keys that have no figure.
        chart: the chart asked for.
        rows: rows that name the food and set none.
        places: what was read, shown without a judgement.
        lines: what stands beside it already.
    """
    reason = _reason(food, rows)
    read = [place for place in places if place.reading is not None]
    name = "every chart" if chart == STRICTEST else charts_of(chart)[0].name
    others = elsewhere(chart_rows(food, STRICTEST)) if reason in ("no_row", "no_centre") else ()
    return Verdict(
        verdict="no_figure",
        chart=chart,
        chart_name=name,
        sentence=_sentence(reason, food, name, rows),
        reason=reason,
        row=rows[0].row.key if rows else None,
        row_name=rows[0].row.name if rows else "",
        places=places,
        lowest=min(read, key=_celsius, default=None),
        advice=(*_advice(reason, food), *others, *([WASH_PROBE] if read else [])),
        beside=lines,
    )


def _celsius(place: Place) -> float:
    assert place.reading is not None
    return Temperature(place.reading.shown, place.reading.scale).celsius


def _reason(food: Sequence[str], rows: Sequence[ChartRow]) -> Reason:
    if not food:
        return "no_food"
    if any(key not in known_foods() for key in food):
        return "unknown"
    if any(key != PLANT and not any(row.food == key for row in rows) for key in food):
        return "no_row"
    return "no_centre" if rows else "plant"


def _sentence(
    reason: Reason, food: Sequence[str], chart_name: str, rows: Sequence[ChartRow]
) -> str:
    if reason == "no_food":
        return "No food named, no verdict."
    if reason == "plant":
        return f"No minimum published for {food_name(PLANT)}; no verdict."
    if reason == "unknown":
        strange = ", ".join(repr(key) for key in food if key not in known_foods())
        return f"Not a known food: {strange}; no verdict."
    named = [row.food for row in rows]
    if reason == "no_centre":
        return f"No centre temperature set for {rows[0].row.name}; no verdict. Chart: {chart_name}."
    missing = ", ".join(food_name(key) for key in food if key != PLANT and key not in named)
    return f"No row for {missing}; no verdict. Chart: {chart_name}."


def _advice(reason: Reason, food: Sequence[str]) -> tuple[str, ...]:
    if reason != "unknown":
        return ()
    near = [nearest_food(key) for key in food if key not in known_foods()]
    return tuple(f"Perhaps {key} was meant." for key in near if key)
