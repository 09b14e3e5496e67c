"""Lengths and areas: thickness of food, size of a tray."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Self

from passbell.units.base import UnitError, Written

_UNITS = {"mm": 1.0, "cm": 10.0, "in": 25.4, "inch": 25.4, "inches": 25.4, '"': 25.4}
_NUMBER = r"\d{1,4}(?:[.,]\d{1,4})?(?:\s+\d{1,3}\s*/\s*\d{1,3})?|\d{1,3}\s*/\s*\d{1,3}"
_LENGTH = re.compile(rf"\s*({_NUMBER})\s*(mm|cm|inches|inch|in|\")\s*", re.IGNORECASE)
_AREA = re.compile(
    rf"\s*({_NUMBER})\s*(?:mm|cm|in)?\s*[x×]\s*({_NUMBER})\s*(mm|cm|inches|inch|in)\s*",
    re.IGNORECASE,
)
_LENGTH_MEND = 'write it with its unit, for example "25 mm", "3 cm" or "1 1/2 in"'
_AREA_MEND = 'write both sides and the unit, for example "33 x 45 cm"'


def _number(text: str) -> float:
    try:
        parts = [Fraction(p.replace(",", ".").replace(" ", "")) for p in _split(text)]
    except ZeroDivisionError:
        raise UnitError(f"{text!r} divides by nothing", _LENGTH_MEND) from None
    return float(sum(parts))


def _split(text: str) -> list[str]:
    mixed = re.fullmatch(r"\s*(\S+)\s+(\d+\s*/\s*\d+)\s*", text)
    return list(mixed.groups()) if mixed else [text]


@dataclass(frozen=True, slots=True)
class Length(Written):
    """A length, kept as it was written.

    Attributes:
        mm: the length in millimetres (1 in = 25.4 mm exactly).
        text: as the cook wrote it.
    """

    mm: float
    text: str
    _MEND = _LENGTH_MEND

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read "25 mm", "3 cm", "1 in" or "1 1/2 in".

        Raises:
            UnitError: when the unit is missing, or the number is none or nothing.
        """
        match = _LENGTH.fullmatch(text)
        mm = _number(match[1]) * _UNITS[match[2].lower()] if match else 0.0
        if mm <= 0:
            raise UnitError(f"{text!r} is not a length", _LENGTH_MEND)
        return cls(mm, text.strip())

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
    _MEND = _AREA_MEND

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read "33 x 45 cm".

        Raises:
            UnitError: when a side or the unit is missing, or a side is nothing.
        """
        match = _AREA.fullmatch(text)
        scale = _UNITS[match[3].lower()] / 10 if match else 0.0
        cm2 = _number(match[1]) * _number(match[2]) * scale * scale if match else 0.0
        if cm2 <= 0:
            raise UnitError(f"{text!r} is not an area", _AREA_MEND)
        return cls(cm2, text.strip())

    def __str__(self) -> str:
        return self.text
