"""Lengths and areas: thickness of food, size of a tray."""

import re
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Self

from passbell.units.base import UnitError, Written
from passbell.units.number import NUMBER, number, two_ways
from passbell.units.text import quoted

_INCH = Fraction(254, 10)
_UNITS = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "in": _INCH,
    "inch": _INCH,
    "inches": _INCH,
    '"': _INCH,
}
_UNIT = r"(mm|cm|inches|inch|in|\")"
_LENGTH = re.compile(rf"\s*({NUMBER})\s*{_UNIT}\s*", re.IGNORECASE)
_AREA = re.compile(rf"\s*({NUMBER})\s*(?:{_UNIT}\s*)?[x×]\s*({NUMBER})\s*{_UNIT}\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Length(Written):
    """A length, kept as it was written.

    Attributes:
        mm: the length in millimetres (1 in = 25.4 mm exactly).
        text: as the cook wrote it.
    """

    mm: float
    text: str
    _MEND = 'write it with its unit, for example "25 mm", "3 cm" or "1 1/2 in"'

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read "25 mm", "3 cm", "1 in" or "1 1/2 in".

        Raises:
            UnitError: when the unit is missing, or the number is none or nothing.
        """
        match = _LENGTH.fullmatch(text)
        mm = _mm(match[1], match[2]) if match else 0
        if mm <= 0:
            raise UnitError(f"{quoted(text)} is not a length", cls._MEND)
        return cls(float(mm), text.strip())

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Area(Written):
    """A rectangle on a tray, kept as it was written.

    Attributes:
        cm2: its area in square centimetres.
        text: as the cook wrote it.
    """

    cm2: float
    text: str
    _MEND = 'write both sides and the unit, for example "33 x 45 cm"'

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read "33 x 45 cm", or "33 cm x 45 cm".

        Raises:
            UnitError: when a side or the unit is missing, or a side is nothing.
        """
        match = _AREA.fullmatch(text)
        cm2 = Fraction(0)
        if match is not None:
            one, first, other, second = match.groups()
            cm2 = _mm(one, first or second) * _mm(other, second) / 100
        if cm2 <= 0:
            raise UnitError(f"{quoted(text)} is not an area", cls._MEND)
        return cls(float(cm2), text.strip())

    def times(self, factor: Fraction) -> Self:
        """So many times as much room: the second side longer or shorter, never rounded down.

        Args:
            factor: more than 0.
        """
        match = _AREA.fullmatch(self.text)
        assert match is not None
        one, first, other, second = match.groups()
        side = _mm(other, second) / _UNITS[second.lower()] * factor
        text = f"{float(Fraction(ceil(side * 100), 100)):.2f}".rstrip("0").rstrip(".")
        return self.parse(f"{one} {first or ''}".strip() + f" x {text} {second}")

    def __str__(self) -> str:
        return self.text


def _mm(text: str, unit: str) -> Fraction:
    """A side in millimetres; 0 where the number is none, or can be read in two ways."""
    value = None if two_ways(text) else number(text)
    return (value or Fraction(0)) * _UNITS[unit.lower()]
