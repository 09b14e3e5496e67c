"""A reading seen from one row of a chart: corrected, compared, in the unit it was taken in."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from passbell.safety.chart import ChartRow, printed
from passbell.safety.exact import converted, exact, span_converted
from passbell.safety.reading import Reading, Setup
from passbell.safety.shipped import table
from passbell.safety.table import Scale
from passbell.safety.thermometer import correction
from passbell.units import Temperature


@dataclass(frozen=True, slots=True)
class Point:
    """One reading against one row.

    Attributes:
        reading: as it was shown.
        value: corrected, in the unit it was taken in.
        over: how far above the row's minimum it is, in `unit`; negative under it.
        under: whether it is under the minimum.
        unit: the unit of the comparison: the reading's own where the chart prints that one.
        impossible: whether it is no temperature of food in a kitchen.
    """

    reading: Reading
    value: Fraction
    over: Fraction
    under: bool
    unit: Scale
    impossible: bool

    @property
    def over_c(self) -> Fraction:
        """`over` in degrees Celsius, to order readings of different units by."""
        return span_converted(self.over, self.unit, "C")


def points(chosen: ChartRow, series: Iterable[Reading], setup: Setup) -> tuple[Point, ...]:
    """The readings of one place against a row that has a figure."""
    return tuple(_point(chosen, reading, setup) for reading in series)


def _point(chosen: ChartRow, reading: Reading, setup: Setup) -> Point:
    figure = printed(chosen.row, reading.scale)
    assert figure is not None
    value, impossible, _ = _measured(reading.shown, reading.scale, setup.ice)
    over = _over(reading.shown, reading.scale, setup.ice, figure)
    return Point(reading, value, over, over < 0, figure[1], impossible)


# A state of the cook is judged again and again on the same few readings, so what each comes to
# is kept: exact fractions are slow.
@lru_cache(maxsize=4096)
def _over(
    shown: float, scale: Scale, ice: Temperature | None, figure: tuple[float, Scale]
) -> Fraction:
    minimum, unit = figure
    return converted(_measured(shown, scale, ice)[0], scale, unit) - exact(minimum)


@lru_cache(maxsize=4096)
def _measured(shown: float, scale: Scale, ice: Temperature | None) -> tuple[Fraction, bool, bool]:
    """The corrected value, whether it is impossible, and whether it asks for the other unit."""
    value = exact(shown) - correction(ice, scale)
    impossible = is_impossible(value, scale)
    if impossible:
        return value, True, not is_impossible(exact(shown), "C" if scale == "F" else "F")
    low, high = table().thermometer.unit_question_f
    return value, False, scale == "F" and low <= shown <= high


def corrected(reading: Reading, setup: Setup) -> Fraction:
    """The reading less what the thermometer shows too much in ice water, in its own unit."""
    return _measured(reading.shown, reading.scale, setup.ice)[0]


def asks_unit(reading: Reading, setup: Setup) -> bool:
    """Whether the number makes more sense in the other unit; the unit is never switched.

    So does an impossible one that is possible in the other, and one of 40 to 95 typed as °F.
    """
    return _measured(reading.shown, reading.scale, setup.ice)[2]


def is_impossible(value: Fraction, scale: Scale) -> bool:
    """Whether a temperature is none of food in a kitchen."""
    limits = table().thermometer
    low, high = limits.plausible_f if scale == "F" else limits.plausible_c
    return not low <= value <= high


def run(series: Iterable[Point], least: Fraction = Fraction(0)) -> tuple[Point, ...]:
    """The latest unbroken run of readings at least `least` above the minimum.

    A reading under that ends what was before it. An impossibly hot one says nothing: it neither
    counts nor breaks.
    """
    kept: list[Point] = []
    for point in series:
        if point.under or (least and point.over < least):
            kept.clear()
        elif not point.impossible:
            kept.append(point)
    return tuple(kept)
