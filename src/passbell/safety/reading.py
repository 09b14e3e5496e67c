"""A probe reading, how it is typed, and what was set beside it."""

import math
import re
from dataclasses import dataclass

from passbell.safety.table import Scale
from passbell.units import Duration, Temperature, UnitError, clean_text, quoted

_NUMBER = r"[+-]?[0-9]{1,5}(?:[.,][0-9]{1,6})?"
_TYPED = re.compile(
    rf"(?:(?P<place>.*?\S)(?:\s*=\s*|\s+))?(?P<value>{_NUMBER})\s*(?:[°º˚]?\s*(?P<scale>[fc])|[°º˚]|(?P<sign>[℉℃]))?",
    re.IGNORECASE,
)
_MEND = "write a number, for example 145, 145F or 62.8 C; before it the place: 2 151 or thigh 168"
_AT_MEND = 'write minutes after it left the heat with their unit: "147F@4min", before it "@-6min"'
MOST_PLACES = 600
"""The highest number a place can have: 200 pieces at three spots each."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What the thermometer showed, uncorrected.

    Attributes:
        place: where it was taken, as the cook named it; a number counts the places from 1;
            None: she named none.
        shown: the number on the display.
        scale: "F" or "C", the unit it was taken in.
        at: the instant, in whole seconds of the cook; negative before its zero.
        off_heat: whether the food had left the heat.

    Raises:
        UnitError: when `shown` is not a finite number.
    """

    place: str | None
    shown: float
    scale: Scale
    at: int = 0
    off_heat: bool = False

    def __post_init__(self) -> None:
        if not math.isfinite(self.shown):
            raise UnitError(f"{self.shown} is not a temperature", _MEND)


@dataclass(frozen=True, slots=True)
class Setup:
    """What is known beside the readings.

    Attributes:
        pieces: how many pieces have to be probed.
        spots: spots to ask for, in place of the food's own number; None: the food's own.
        ice: what the thermometer shows in ice water; None: not checked.
        removed_at: the instant the food left the heat; None: it is on the heat.
        cut_at: the instant it was cut; None: it is whole.
        reheated: when it came back to heat after it had been without any, oldest first.
    """

    pieces: int = 1
    spots: int | None = None
    ice: Temperature | None = None
    removed_at: int | None = None
    cut_at: int | None = None
    reheated: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Typed:
    """A reading as typed.

    Attributes:
        place: what stood before the number; None: nothing.
        temperature: the number with its unit.
        at: seconds after removal from the heat; None: not said.
        unit_said: whether the unit was typed, and not the thermometer's taken.
    """

    place: str | None
    temperature: Temperature
    at: int | None = None
    unit_said: bool = True


def parse_reading(text: str, unit: Scale) -> Typed:
    """Read what a cook types: `145`, `62,8 C`, `2 151`, `thigh 168`, `thigh=168F@4min`.

    Args:
        text: one reading.
        unit: the thermometer's unit, for a number typed without one.

    Raises:
        UnitError: when it is blank, holds no number, or the instant cannot be read.
    """
    line = clean_text(text).replace("−", "-")
    head, mark, tail = line.rpartition("@")
    typed = (head if mark else line).strip()
    match = _TYPED.fullmatch(typed)
    if match is None:
        raise UnitError(_fault(typed, text), _MEND)
    said = match["scale"] or match["sign"]
    scale: Scale = unit if said is None else "F" if said in "Ff℉" else "C"
    value = float(match["value"].replace(",", "."))
    at = _seconds(tail) if mark else None
    return Typed(_place(match["place"]), Temperature(value, scale), at, said is not None)


def _fault(typed: str, text: str) -> str:
    return f"{quoted(text)} is no reading" if typed else "the reading is blank"


def _place(text: str | None) -> str | None:
    if text is None:
        return None
    name = clean_text(text, longest=60)
    if re.fullmatch(_NUMBER, name) and not re.fullmatch(r"[0-9]+", name):
        raise UnitError(f"{quoted(name)} is no place", "give one reading at a time")
    if name.isdecimal() and not 1 <= int(name) <= MOST_PLACES:
        raise UnitError(f"there is no place {name}", f"places count from 1 to {MOST_PLACES}")
    if not re.search(r"\w", name):
        raise UnitError(f"{quoted(name)} is no place", _MEND)
    return str(int(name)) if name.isdecimal() else name


def _seconds(text: str) -> int:
    trimmed = text.strip()
    sign = -1 if trimmed.startswith("-") else 1
    try:
        return sign * int(Duration.parse(trimmed[1:] if trimmed[:1] in ("+", "-") else trimmed))
    except UnitError as error:
        raise UnitError(error.what, _AT_MEND) from None
