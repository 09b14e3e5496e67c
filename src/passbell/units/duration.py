"""Durations: whole seconds that always carry a unit when a person writes them."""

import re
from fractions import Fraction
from typing import Self

from passbell.units.base import UnitError, Written
from passbell.units.number import DECIMAL, decimal, two_ways
from passbell.units.text import quoted

LONGEST = 72 * 3600
"""The longest duration a plan may hold, in seconds (72 h)."""

_UNITS = {"h": 3600, "hr": 3600, "hrs": 3600, "hour": 3600, "hours": 3600}
_UNITS |= {"m": 60, "min": 60, "mins": 60, "minute": 60, "minutes": 60}
_UNITS |= {"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1}
_PART = re.compile(rf"\s*({DECIMAL})\s*([a-z]+)\s*")
_ISO = re.compile(
    rf"P(?:(?P<days>[0-9]{{1,3}})D)?(?:T(?=[0-9])"
    rf"(?:(?P<h>{DECIMAL})H)?(?:(?P<m>{DECIMAL})M)?(?:(?P<s>{DECIMAL})S)?)?"
)
_MEND = 'write it with a unit, for example "35 min", "90 s" or "1 h 20 min"'


class Duration(int, Written):
    """A length of time in whole seconds, 0 s to 72 h.

    In a plan it is written with its unit ("6 min", "1 h 20 min", "PT35M"); a bare number or a
    colon is refused, because one reader takes them for seconds and another for hours.
    """

    __slots__ = ()
    _MEND = _MEND

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a duration with its unit.

        Raises:
            UnitError: when there is no unit, an unknown one, a fraction of a second, or too much.
        """
        trimmed = text.strip()
        if trimmed.upper().startswith("P"):
            return cls._whole(_iso_seconds(trimmed), text)
        return cls._whole(_worded_seconds(trimmed.casefold(), text), text)

    @classmethod
    def _whole(cls, seconds: Fraction, text: str) -> Self:
        if seconds.denominator != 1:
            what = f"{quoted(text)} is not a whole number of seconds"
            raise UnitError(what, "round it to the second")
        if seconds > LONGEST:
            raise UnitError(f"{quoted(text)} is longer than 72 h", "plan at most three days")
        return cls(int(seconds))

    @classmethod
    def minutes(cls, value: float) -> Self:
        """The duration of so many minutes, rounded to the second."""
        return cls(round(value * 60))

    def __str__(self) -> str:
        """Words a cook reads, which `parse` reads back: "1 h 20 min", "90 s", "0 min"."""
        hours, rest = divmod(int(self), 3600)
        minutes, seconds = divmod(rest, 60)
        parts = [(hours, "h"), (minutes, "min"), (seconds, "s")]
        return " ".join(f"{n} {unit}" for n, unit in parts if n) or "0 min"

    def __repr__(self) -> str:
        return f"Duration({int(self)})"


def _iso_seconds(text: str) -> Fraction:
    match = _ISO.fullmatch(text.upper())
    if match is None or len(text) < 3:
        raise UnitError(f"{quoted(text)} is not a duration", _MEND)
    parts = (decimal(match[name] or "0") for name in ("days", "h", "m", "s"))
    days, hours, minutes, seconds = parts
    return days * 86400 + hours * 3600 + minutes * 60 + seconds


def _worded_seconds(text: str, typed: str) -> Fraction:
    if not text:
        raise UnitError("the duration is empty", _MEND)
    total, place, seen = Fraction(0), 0, 86400
    while place < len(text):
        match = _PART.match(text, place)
        size = _UNITS.get(match[2]) if match else None
        if match is None or size is None or size >= seen:
            raise UnitError(_fault(text, typed), _MEND)
        if two_ways(match[1]):
            what = f"the comma in {quoted(typed)} can be read in two ways"
            raise UnitError(what, "write the number without it, or with a point")
        total += decimal(match[1]) * size
        place, seen = match.end(), size
    return total


def _fault(text: str, typed: str) -> str:
    if re.fullmatch(r"[0-9.,]+", text):
        return f"{quoted(typed)} has no unit"
    if ":" in text:
        return f"{quoted(typed)} could be minutes or hours"
    if text[0] in "-−":
        return f"{quoted(typed)} is negative"
    return f"{quoted(typed)} is not a duration"
