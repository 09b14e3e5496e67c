"""Which rows of which charts apply to a food, and what they print."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from passbell.safety.exact import converted, degrees, exact
from passbell.safety.shipped import CHART_KEYS, table
from passbell.safety.table import Chart, Row, Scale
from passbell.units import Duration, Temperature

STRICTEST = "strictest"
GENERAL = "general"


@dataclass(frozen=True, slots=True)
class ChartRow:
    """A row of a chart, chosen for a food.

    Attributes:
        chart: the chart.
        row: what it prints.
        food: the food key it was chosen for.
        general: whether it is the chart's general row, there being none of the food's own.
    """

    chart: Chart
    row: Row
    food: str
    general: bool

    @property
    def no_figure(self) -> bool:
        """Whether the chart names the food and sets no centre temperature."""
        return self.row.no_figure

    @property
    def rest_min(self) -> int:
        """Minutes of rest the chart asks for; 0: none printed."""
        return self.row.rest_min


def first_unit(chart: str) -> Scale:
    """The unit a chart prints first; for "strictest" that of the chart used unless one is named.

    Raises:
        KeyError: when there is no such chart.
    """
    known = table()
    return known.chart(known.default_chart if chart == STRICTEST else chart).primary_unit


def charts_of(chart: str) -> tuple[Chart, ...]:
    """The charts that judge under a plan's `chart`: one, or all for "strictest".

    Raises:
        KeyError: when there is no such chart.
    """
    keys = CHART_KEYS if chart == STRICTEST else (chart,)
    return tuple(table().chart(key) for key in keys)


def chart_rows(food: Iterable[str], chart: str) -> tuple[ChartRow, ...]:
    """Every row that judges these foods, chart by chart; empty: no chart has one.

    A chart's general row stands in for every meat, poultry and fish key (dishes of them and
    reheated food with them) that it has no row for; nothing else is ever borrowed.

    Args:
        food: food keys; "plant" and unknown keys have no row.
        chart: a chart key or "strictest".

    Raises:
        KeyError: when there is no such chart.
    """
    keys = tuple(dict.fromkeys(food))
    found = (_row(one, key) for one in charts_of(chart) for key in keys)
    return tuple(row for row in found if row is not None)


def _row(chart: Chart, key: str) -> ChartRow | None:
    own = chart.row(key)
    if own is not None:
        return ChartRow(chart, own, key, general=False)
    food = table().foods.get(key)
    general = chart.row(GENERAL) if food is not None and food.general else None
    return ChartRow(chart, general, key, general=True) if general else None


def printed(row: Row, scale: Scale) -> tuple[float, Scale] | None:
    """The lowest temperature a row lets pass, in `scale` where it prints that, else the other.

    Of pairs it is the coldest. None: the row sets no figure.
    """
    if row.pairs:
        assert row.pair_unit is not None
        return row.pairs[0][0], row.pair_unit
    own, other = (row.temp_f, row.temp_c) if scale == "F" else (row.temp_c, row.temp_f)
    if own is not None:
        return own, scale
    return (other, "C" if scale == "F" else "F") if other is not None else None


def figure_text(row: Row, scale: Scale, pair: tuple[float, int] | None = None) -> str:
    """What a row prints, as text: "145 °F", or a pair as "70 °C for 2 min".

    Args:
        row: a row with a figure.
        scale: the unit wanted; the other is given where the row prints only that.
        pair: the pair meant; None: the coldest.
    """
    figure = printed(row, scale)
    assert figure is not None
    if not row.pairs:
        return degrees(exact(figure[0]), figure[1])
    temp, seconds = pair or row.pairs[0]
    return f"{degrees(exact(temp), figure[1])} for {Duration(seconds)}"


def minimum_text(food: Iterable[str], chart: str, scale: Scale | None = None) -> str | None:
    """The highest minimum the chart prints for these foods, as text; None: it prints none.

    Args:
        food: food keys.
        chart: a chart key or "strictest".
        scale: the unit wanted where the chart prints it; None: the chart's own first unit.
    """
    rows = [r for r in chart_rows(food, chart) if not r.no_figure]
    if not rows:
        return None
    top = max(rows, key=height)
    return figure_text(top.row, scale or top.chart.primary_unit)


def height(chosen: ChartRow) -> Fraction:
    """Its minimum in °C, to order rows by and for nothing else; −1 where it sets none."""
    figure = printed(chosen.row, "C")
    return converted(exact(figure[0]), figure[1], "C") if figure else Fraction(-1)


def rest_asked(food: Iterable[str], chart: str) -> int:
    """Seconds of rest the chart asks for after the minimum, the longest of its rows; 0: none."""
    return max((row.rest_min * 60 for row in chart_rows(food, chart)), default=0)


def governing(until: Temperature, food: Iterable[str], chart: str, scale: Scale) -> Temperature:
    """What governs taking out: a plan's `until`, or the chart's highest minimum where it is more.

    Args:
        until: what the plan cooks it to.
        food: food keys.
        chart: a chart key or "strictest".
        scale: the unit wanted where the chart prints it.
    """
    rows = chart_rows(food, chart)
    if falls_short(until, food, chart) is None:
        return until
    figure = printed(max(rows, key=height).row, scale)
    assert figure is not None, "what falls short falls short of a figure"
    return Temperature(float(figure[0]), figure[1])


def falls_short(until: Temperature, food: Iterable[str], chart: str) -> str | None:
    """The minimum that a plan's `until` lies under, with its chart, as text; None: it is not."""
    for chosen in sorted(chart_rows(food, chart), key=height, reverse=True):
        figure = printed(chosen.row, until.scale)
        if figure and converted(exact(until.value), until.scale, figure[1]) < exact(figure[0]):
            return f"{figure_text(chosen.row, until.scale)} ({chosen.chart.name})"
    return None
