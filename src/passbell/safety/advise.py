"""What to do and to know beside a verdict, a line each."""

from collections.abc import Iterable, Sequence

from passbell.safety.cautions import WASH_FIRST, WASH_PROBE
from passbell.safety.model import Flag, Word, spoken_place
from passbell.safety.places import wanted_places
from passbell.safety.point import asks_unit
from passbell.safety.reading import Setup
from passbell.safety.shipped import table
from passbell.safety.table import Row
from passbell.safety.thermometer import trust
from passbell.safety.weigh import Weighed
from passbell.units import Duration, Temperature

_REST = "Then rest it"

OFF_HEAT = (
    "Reached only after it left the heat; the chart asks for it before: "
    "if in doubt, back to the heat and probe there."
)


def advice(same: Sequence[Weighed], flags: Iterable[Flag], setup: Setup) -> tuple[str, ...]:
    """Every line that belongs beside a verdict, the most pressing first.

    Args:
        same: the rows that give this verdict, the deciding one first.
        flags: the flags of them all.
        setup: what is known beside the readings.
    """
    held, top = frozenset(flags), same[0]
    lines = (
        _unit_question(same, setup),
        _next_step(top, setup),
        OFF_HEAT if "off_heat" in held else "",
        _hold_off_heat(top),
        _broken(top, held),
        _no_margin() if "no_margin" in held else "",
        _thermometer(setup),
        _sign(top.chosen.row),
        _fewer_places(top, setup),
        wash_line(top.word, any_reading=top.low is not None),
    )
    return tuple(line for line in lines if line)


def wash_line(word: Word, *, any_reading: bool) -> str:
    """When the probe is to be washed: before the first reading, and after all but `met`."""
    if not any_reading:
        return WASH_FIRST
    return "" if word == "met" else WASH_PROBE


def rest_line(row: Row) -> str:
    """The rest of a row that asks for one, as an instruction."""
    longest = f" to {row.rest_max_min}" if row.rest_max_min else ""
    return (
        f"{_REST} {row.rest_min}{longest} min, uncut: the chart asks for it. It counts from "
        "leaving the heat or from the reading that reached the minimum, whichever is later."
    )


def is_rest_line(line: str) -> bool:
    """Whether a line of advice asks for a rest, which is over some time."""
    return line.startswith(_REST)


def cut_line(rest_s: int) -> str:
    """What to say of food cut before its rest was over."""
    return f"It was cut before its rest was over; the chart asks for all of {Duration(rest_s)}."


def corrected_line() -> str:
    """What to say when only the thermometer's correction made the difference."""
    return "Met only by your thermometer's correction: look again or use another."


def _unit_question(same: Sequence[Weighed], setup: Setup) -> str:
    places = (place for one in same for place in one.places if place.points)
    latest = (place.points[-1].reading for place in places)
    reading = next((reading for reading in latest if asks_unit(reading, setup)), None)
    if reading is None:
        return ""
    other = "°C" if reading.scale == "F" else "°F"
    return (
        f"{Temperature(reading.shown, reading.scale)}: was that {other}? "
        f"It was taken as °{reading.scale}; if not, take it back and type it with its unit."
    )


def _next_step(top: Weighed, setup: Setup) -> str:
    low = top.low
    if top.word != "below" or low is None or top.lowest is None:
        return ""
    place = spoken_place(top.places[top.lowest].label)
    off = any(point.reading.off_heat for series in top.places for point in series.points)
    out = setup.removed_at is not None and (off or setup.removed_at > low.reading.at)
    where = "Back to the heat" if out else "It stays on the heat"
    if top.missing:
        unread = spoken_place(top.missing[0])
        return f"{where}; probe {unread} too, then {place} again{again()}."
    return f"{where}; probe {place} again{again()}."


def again() -> str:
    """When to probe again what is below its minimum, where no forecast says it."""
    return f" in {Duration(table().handling.look_again_s)} or by the forecast"


def _hold_off_heat(top: Weighed) -> str:
    if top.word != "hold" or not any(p.points[-1].reading.off_heat for p in top.places if p.points):
        return ""
    return "It is off the heat: if it cools under that before the second reading, back to the heat."


def _broken(top: Weighed, flags: frozenset[Flag]) -> str:
    if "rest_broken" in flags:
        return "That reading broke the rest; it begins anew once the minimum is reached."
    return "An earlier rest was broken; the whole rest counts anew." if top.past.again else ""


def _no_margin() -> str:
    limits = table().thermometer
    return (
        f"No margin: a usual thermometer is out by {limits.accuracy_f:g} °F, "
        f"{limits.accuracy_c:g} °C."
    )


def _thermometer(setup: Setup) -> str:
    if trust(setup.ice) != "adjust":
        return ""
    return f"Ice water shows {setup.ice}: adjust the thermometer or replace it."


def _sign(row: Row) -> str:
    if not row.visual:
        return ""
    return f"The chart also offers a sign: {row.visual}. It changes nothing in this verdict."


def _fewer_places(top: Weighed, setup: Setup) -> str:
    if setup.spots is None:
        return ""
    usual = len(wanted_places((top.chosen,), Setup(pieces=setup.pieces)))
    asked = len(wanted_places((top.chosen,), setup))
    if asked >= usual:
        return ""
    return f"Asked for {_count(asked)}; without that it would be {_count(usual)}."


def _count(places: int) -> str:
    return f"{places} place{'' if places == 1 else 's'}"
