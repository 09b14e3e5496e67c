"""A verdict in words: which published minimum, where, by whose chart. Never a promise."""

from collections.abc import Sequence

from passbell.safety.chart import ChartRow, figure_text, printed
from passbell.safety.exact import converted, degrees, exact, shortfall, span_converted
from passbell.safety.foods import food_name
from passbell.safety.model import spoken_place
from passbell.safety.point import Point, corrected
from passbell.safety.reading import Setup
from passbell.safety.thermometer import trust
from passbell.safety.weigh import Weighed
from passbell.units import Duration


def minimum(top: Weighed) -> str:
    """The minimum as the chart prints it, in the unit of the lowest reading where it does."""
    chart, low = top.chosen.chart, top.low
    scale = low.reading.scale if low else chart.primary_unit
    return figure_text(top.chosen.row, scale, top.hold.pair if top.hold else None)


def reading_text(point: Point) -> str:
    """A reading, corrected, in its own unit, with the chart's where it prints only that."""
    text = degrees(point.value, point.reading.scale)
    if point.unit == point.reading.scale:
        return text
    cut = converted(point.value, point.reading.scale, point.unit) * 10 // 1
    return f"{text} ({degrees(exact(cut) / 10, point.unit)})"


def below_by(point: Point) -> str | None:
    """How far under the minimum, in the unit it was taken in; None: it is not under it."""
    if not point.under:
        return None
    return shortfall(
        span_converted(-point.over, point.unit, point.reading.scale), point.reading.scale
    )


def named(labels: Sequence[str]) -> str:
    """Places in a sentence: "place 1, place 2 and thickest breast"."""
    spoken = [spoken_place(label) for label in labels]
    return " and ".join([part for part in (", ".join(spoken[:-1]), *spoken[-1:]) if part])


def whose(chosen: ChartRow) -> str:
    """Whose figure it is: "Chart: …", and that it is a general row where it is."""
    general = " (its general row: it has none of its own for this food)"
    return f"Chart: {chosen.chart.name}{general if chosen.general else ''}."


def subject(chosen: ChartRow) -> str:
    """What the figure is for: the row in words, or the food where the row is a general one."""
    return food_name(chosen.food) if chosen.general else chosen.row.name


def sentence(top: Weighed, setup: Setup) -> str:
    """What the readings say by the row that decides, in one line."""
    speak = {
        "met": _met,
        "below": _below,
        "incomplete": _incomplete,
        "hold": _hold,
        "recheck": _recheck,
    }
    text = f"{speak[top.word](top, setup)} {whose(top.chosen)}"
    return text[0].upper() + text[1:]


def _met(top: Weighed, _: Setup) -> str:
    low, read = top.low, [place for place in top.places if place.points]
    assert low is not None
    count = {1: "the place", 2: "both places"}.get(len(read), f"all {len(read)} places")
    verb = "was held" if top.hold else "was reached"
    return (
        f"the minimum of {minimum(top)} for {subject(top.chosen)} {verb} at {count} probed; "
        f"the lowest is {reading_text(low)} at {_where(top)}."
    )


def _below(top: Weighed, _: Setup) -> str:
    low = top.low
    assert low is not None
    return (
        f"{_where(top)} reads {reading_text(low)}, {below_by(low)} under the minimum of "
        f"{minimum(top)} for {subject(top.chosen)}."
    )


def _incomplete(top: Weighed, _: Setup) -> str:
    figure = f"The minimum for {subject(top.chosen)} is {minimum(top)}."
    if top.low is None:
        return f"no reading yet: probe {named(top.missing)}. {figure}"
    so_far = f"The lowest so far is {reading_text(top.low)} at {_where(top)}."
    return f"still to probe: {named(top.missing)}. {so_far} {figure}"


def _hold(top: Weighed, _: Setup) -> str:
    low, hold = top.low, top.hold
    assert low is not None
    assert hold is not None
    scale = top.chosen.row.pair_unit or low.unit
    return (
        f"{_where(top)} reads {reading_text(low)}: hold at {degrees(exact(hold.pair[0]), scale)} "
        f"or above for {Duration(hold.pair[1])}, then probe every place again "
        f"(for {subject(top.chosen)})."
    )


def _recheck(top: Weighed, setup: Setup) -> str:
    if trust(setup.ice) == "refuse":
        return (
            f"ice water shows {setup.ice}: with a thermometer so far off there is no verdict; "
            "adjust or replace it."
        )
    odd = next(place for place in top.places if place.points and place.points[-1].impossible)
    point = odd.points[-1]
    text = degrees(corrected(point.reading, setup), point.reading.scale)
    return (
        f"{text} at {spoken_place(odd.label)} is no temperature of food in a kitchen: "
        "no verdict, probe there again."
    )


def _where(top: Weighed) -> str:
    assert top.lowest is not None
    return spoken_place(top.places[top.lowest].label)


def beside(rows: Sequence[ChartRow]) -> tuple[str, ...]:
    """A line for every chart that names the food and sets no centre temperature."""
    return tuple(
        f"{one.chart.name}: no centre temperature set for {one.row.name}"
        f"{f'; its own sign is {one.row.visual}' if one.row.visual else ''}."
        for one in rows
        if one.no_figure
    )


def without_row(chart_name: str, food: str) -> str:
    """The line for a chart that has no row for a food."""
    return f"{chart_name}: no row for {food_name(food)}."


def elsewhere(rows: Sequence[ChartRow]) -> tuple[str, ...]:
    """What other charts print for a food, for the cook to choose; nothing is judged by it."""
    return tuple(
        f"{one.chart.name} prints {figure_text(one.row, one.chart.primary_unit)} for "
        f"{food_name(one.food)}: to be judged by it, choose that chart."
        for one in rows
        if printed(one.row, one.chart.primary_unit)
    )
