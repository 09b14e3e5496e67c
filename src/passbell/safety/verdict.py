"""The verdict on a food: every row that applies judges, the worst stands.

Pure: the same readings, chart and setup give the same verdict. The clock takes no part, and a
forecast cannot: this room cannot import one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache

from passbell.safety.advise import advice, corrected_line, cut_line, rest_line
from passbell.safety.chart import ChartRow, chart_rows, charts_of
from passbell.safety.exact import degrees
from passbell.safety.foods import PLANT
from passbell.safety.model import FLAGS, Flag, Place, Verdict, Word, rank
from passbell.safety.nofigure import no_figure
from passbell.safety.places import tracks, wanted_places
from passbell.safety.point import corrected
from passbell.safety.reading import Reading, Setup
from passbell.safety.say import below_by, beside, minimum, reading_text, sentence, without_row
from passbell.safety.shipped import table
from passbell.safety.thermometer import correction
from passbell.safety.weigh import Weighed, weigh

__all__ = ["Place", "Reading", "Setup", "Verdict", "Word", "judge"]

_UNSET = Setup()


def judge(
    food: Iterable[str],
    readings: Sequence[Reading],
    *,
    chart: str = "us",
    setup: Setup = _UNSET,
) -> Verdict:
    """The verdict on readings of a food by a chart.

    Args:
        food: keys of the food; each is judged and the worst stands. Empty: no food named.
        readings: in the order they were taken.
        chart: a chart key, or "strictest": every chart judges for itself, the worst stands.
        setup: pieces, places, ice water, and when it left the heat and was cut.

    Raises:
        KeyError: when there is no such chart.
    """
    return _judged(tuple(dict.fromkeys(food)), tuple(readings), chart, setup)


@lru_cache(maxsize=512)
def _judged(
    food: tuple[str, ...], readings: tuple[Reading, ...], chart: str, setup: Setup
) -> Verdict:
    rows = chart_rows(food, chart)
    weighed = _weighed(rows, readings, setup)
    seen = {row.food for row in rows} | {PLANT}
    unjudged = tuple(key for key in food if key not in seen)
    lines = _beside(food, chart, rows)
    if not weighed and len(charts_of(chart)) == 1:
        lines = beside(rows)
    if not weighed:
        return no_figure(food, chart, rows, _unjudged(readings, setup), lines)
    top = min(weighed, key=lambda one: one.severity)
    if unjudged and top.word in ("met", "hold"):
        # A stuffed chop whose stuffing has no row has not passed because the chop has.
        return no_figure(unjudged, chart, (), _places(top), (*lines, sentence(top, setup)))
    found = _verdict(top, weighed, setup, lines)
    if found.verdict in ("met", "hold") and _correction_decides(rows, readings, setup, top):
        return replace(found, advice=(corrected_line(), *found.advice))
    return found


def _weighed(rows: Sequence[ChartRow], readings: Sequence[Reading], setup: Setup) -> list[Weighed]:
    found = []
    for key in dict.fromkeys(row.chart.key for row in rows):
        own = [row for row in rows if row.chart.key == key and not row.no_figure]
        placed = tracks(wanted_places(own, setup), readings) if own else ()
        found += [weigh(row, placed, setup) for row in own]
    return found


def _correction_decides(
    rows: Sequence[ChartRow], readings: Sequence[Reading], setup: Setup, top: Weighed
) -> bool:
    """Whether a correction that raises readings alone made the verdict better."""
    if setup.ice is None or correction(setup.ice, setup.ice.scale) >= 0:
        return False
    plain = _weighed(rows, readings, replace(setup, ice=None))
    return min(one.severity for one in plain)[0] < rank(top.word)


def _beside(food: Sequence[str], chart: str, rows: Sequence[ChartRow]) -> tuple[str, ...]:
    lines = list(beside(rows))
    for one in charts_of(chart):
        own = {row.food for row in rows if row.chart.key == one.key} | {PLANT}
        lines += [
            without_row(one.name, key) for key in food if key in table().foods and key not in own
        ]
    return tuple(lines)


def _verdict(
    top: Weighed, weighed: Sequence[Weighed], setup: Setup, lines: tuple[str, ...]
) -> Verdict:
    same = sorted((w for w in weighed if w.word == top.word), key=lambda one: one.severity)
    flags = tuple(flag for flag in FLAGS if any(flag in one.flags for one in same))
    asking = max(weighed, key=lambda one: (len(one.missing), one is top))
    chosen, hold = top.chosen, top.hold if top.word == "hold" else None
    rest_s, rest_from = _rest(weighed, setup) if top.word == "met" else (0, None)
    rest_until = None if rest_from is None else rest_from + rest_s
    cut = setup.cut_at is not None and rest_until is not None and setup.cut_at < rest_until
    places = _places(asking)
    return Verdict(
        verdict=top.word,
        flags=flags,
        minimum=minimum(top),
        chart=chosen.chart.key,
        chart_name=chosen.chart.name,
        row=chosen.row.key,
        row_name=chosen.row.name,
        covers=chosen.row.covers,
        general=chosen.general,
        rest_s=rest_s,
        rest_from=rest_from,
        rest_until=rest_until,
        hold_s=hold.pair[1] if hold else None,
        hold_until=hold.until if hold else None,
        spots_missing=len(asking.missing),
        places=places,
        lowest=None if top.lowest is None else _places(top)[top.lowest],
        below_by=below_by(top.low) if top.low else None,
        next_place=_next_place(asking, top),
        look_again_s=table().handling.look_again_s if top.word == "below" else None,
        sentence=sentence(top, setup),
        advice=_advice(same, flags, setup, rest_s if cut else 0),
        beside=lines,
    )


def _rest(weighed: Sequence[Weighed], setup: Setup) -> tuple[int, int | None]:
    """Seconds of rest and when it began: of all charts that ask for one, the last to end."""
    asked = [one for one in weighed if one.chosen.rest_min]
    if not asked:
        return 0, None
    out = setup.removed_at
    begins = [(one.chosen.rest_min * 60, max(out or 0, one.reached or 0)) for one in asked]
    rest_s, began = max(begins, key=sum)
    return rest_s, None if out is None else began


def _places(one: Weighed) -> tuple[Place, ...]:
    return tuple(
        Place(
            label=place.label,
            wanted=place.wanted,
            reading=place.points[-1].reading,
            text=reading_text(place.points[-1]),
            under=place.points[-1].under,
        )
        if place.points
        else Place(place.label, place.wanted)
        for place in one.places
    )


def _unjudged(readings: Sequence[Reading], setup: Setup) -> tuple[Place, ...]:
    """The readings of food without a figure: shown, corrected, and no more."""
    wanted = wanted_places((), setup)
    latest = [(t, t.series[-1]) for t in tracks(wanted, readings) if t.series]
    return tuple(
        Place(t.label, t.wanted, last, degrees(corrected(last, setup), last.scale))
        for t, last in latest
    )


def _next_place(asking: Weighed, top: Weighed) -> str | None:
    if top.word in ("met", "no_figure"):
        return None
    odd = [p.label for p in top.places if p.points and p.points[-1].impossible]
    if odd or asking.missing:
        return (odd or list(asking.missing))[0]
    if top.word == "hold":
        return min(top.places, key=lambda place: place.points[-1].reading.at).label
    return None if top.lowest is None else top.places[top.lowest].label


def _advice(
    same: Sequence[Weighed], flags: tuple[Flag, ...], setup: Setup, cut_of: int
) -> tuple[str, ...]:
    resting = [w.chosen.row for w in same if w.word == "met" and w.chosen.rest_min]
    longest = max(resting, key=lambda row: (row.rest_min, row.rest_max_min or 0), default=None)
    extra = [cut_line(cut_of) if cut_of else "", rest_line(longest) if longest else ""]
    return (*advice(same, flags, setup), *(line for line in extra if line))
