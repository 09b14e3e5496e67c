"""Exact arithmetic on temperatures: a verdict never turns on a rounding of binary fractions."""

from fractions import Fraction
from functools import lru_cache

from passbell.safety.table import Scale


@lru_cache(maxsize=4096)
def exact(value: float) -> Fraction:
    """The decimal number as it was typed: 62.9 is 629/10, not its binary neighbour.

    Raises:
        ValueError: when the value is not finite.
    """
    return Fraction(repr(float(value)))


def converted(value: Fraction, scale: Scale, to: Scale) -> Fraction:
    """A temperature in the other unit, by definition t_F = 9/5 t_C + 32."""
    if scale == to:
        return value
    return value * 9 / 5 + 32 if to == "F" else (value - 32) * 5 / 9


def span_converted(span: Fraction, scale: Scale, to: Scale) -> Fraction:
    """A difference of temperatures in the other unit (9 °F are 5 °C)."""
    if scale == to:
        return span
    return span * 9 / 5 if to == "F" else span * 5 / 9


@lru_cache(maxsize=1024)
def degrees(value: Fraction, scale: Scale) -> str:
    """A temperature as text; it is cut, never rounded up, after three decimals.

    So 144.9996 °F never shows as 145.
    """
    return f"{_decimals(value * 1000 // 1)} °{scale}"


def shortfall(span: Fraction, scale: Scale) -> str:
    """A difference as text, rounded up to a tenth of a degree, so that it never shows as 0."""
    return f"{_decimals(-(-span * 10 // 1) * 100)} °{scale}"


def _decimals(thousandths: int) -> str:
    sign, size = ("-" if thousandths < 0 else ""), abs(thousandths)
    tail = f"{size % 1000:03}".rstrip("0")
    return f"{sign}{size // 1000}{'.' + tail if tail else ''}"
