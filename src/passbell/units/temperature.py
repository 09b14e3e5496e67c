"""Temperatures: the value as written, and its unit; converted only when asked."""

import math
import re
from dataclasses import dataclass
from typing import Literal, Self

from passbell.units.base import UnitError, Written
from passbell.units.text import quoted

Scale = Literal["F", "C"]
_TEXT = re.compile(
    r"\s*([+−-]?[0-9]{1,5}(?:[.,][0-9]{1,6})?)\s*(?:[°º˚]?\s*([fc])|([℉℃]))\s*", re.IGNORECASE
)
_MEND = 'write it with its unit, for example "400 °F" or "200 °C"'


@dataclass(frozen=True, slots=True)
class Temperature(Written):
    """A temperature in the unit it was written in.

    Attributes:
        value: the number as written.
        scale: "F" (degrees Fahrenheit) or "C" (degrees Celsius).
    """

    value: float
    scale: Scale
    _MEND = _MEND

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a temperature with its unit ("400 °F", "400F", "62,8 C").

        Raises:
            UnitError: when the unit is missing or the number is none.
        """
        match = _TEXT.fullmatch(text)
        if match is None:
            bare = re.fullmatch(r"\s*[+−-]?[0-9.,]+\s*[°º˚]?\s*", text)
            what = "has no unit" if bare else "is not a temperature"
            raise UnitError(f"{quoted(text)} {what}", _MEND)
        scale: Scale = "F" if (match[2] or match[3]) in "Ff℉" else "C"
        return cls(float(match[1].replace(",", ".").replace("−", "-")), scale)

    @property
    def celsius(self) -> float:
        """The temperature in degrees Celsius (t_F = 1.8 t_C + 32, by definition)."""
        return self.value if self.scale == "C" else (self.value - 32) / 1.8

    @property
    def fahrenheit(self) -> float:
        """The temperature in degrees Fahrenheit (t_F = 1.8 t_C + 32)."""
        return self.value if self.scale == "F" else self.value * 1.8 + 32

    def at_least_in(self, scale: Scale) -> "Temperature":
        """It as a thermometer of that scale is read: upwards to the degree, never asking for less.

        As written where that is the scale already.
        """
        if scale == self.scale:
            return self
        value = self.fahrenheit if scale == "F" else self.celsius
        return Temperature(math.ceil(round(value, 6)), scale)

    def same_heat(self, other: "Temperature") -> bool:
        """Whether both name one oven setting, within half a degree Celsius."""
        return math.isclose(self.celsius, other.celsius, abs_tol=0.5)

    def __str__(self) -> str:
        """The number as written ("62.8 °C"); a calculated one to six decimals."""
        number = f"{self.value:.6f}".rstrip("0").rstrip(".")
        return f"{number} °{self.scale}"
