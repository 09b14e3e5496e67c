"""Is the thermometer right: ice water, and water boiling at the height of the kitchen.

Height changes the check, never a minimum.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from typing import Literal

from passbell.safety.exact import degrees, exact, span_converted
from passbell.safety.shipped import table
from passbell.safety.table import Scale
from passbell.units import Temperature, UnitError, quoted

Trust = Literal["fine", "adjust", "refuse"]

_HIGHEST_M = 6000.0
_LOWEST_M = -500.0
_FOOT = 0.3048
_HEIGHT = re.compile(r"\s*(-?\d{1,2},?\d{3}|-?\d{1,4})\s*(m|metres|meters|ft|feet)\s*")
_HEIGHT_MEND = 'write the height above the sea with its unit, for example "1500 m" or "5,000 ft"'

# IAPWS R7-97(2012), Industrial Formulation 1997, table 34: coefficients of region 4.
_N1, _N2, _N3, _N4, _N5 = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
)
_N6, _N7, _N8, _N9, _N10 = (
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)


@dataclass(frozen=True, slots=True)
class Check:
    """What a check of the thermometer says.

    Attributes:
        shown: what it shows.
        expected: what a true one would show, in the same unit.
        trust: "fine" within a usual thermometer's error, "adjust" beyond it, "refuse" when no
            verdict is given by it.
        words: one sentence for the cook.
    """

    shown: Temperature
    expected: Temperature
    trust: Trust
    words: str


def correction(ice: Temperature | None, scale: Scale) -> Fraction:
    """Degrees to take off every reading in `scale`, by what ice water shows (0 unchecked)."""
    if ice is None:
        return Fraction(0)
    freezing = Fraction(32 if ice.scale == "F" else 0)
    return span_converted(exact(ice.value) - freezing, ice.scale, scale)


def trust(ice: Temperature | None) -> Trust:
    """How far a thermometer that shows `ice` in ice water can be believed.

    Within ±2 °F / ±1 °C (asked of food businesses by FDA Food Code 4-203.11) it is fine, beyond
    ±4 °F / ±2 °C (our limit) it gives no verdict.
    """
    if ice is None:
        return "fine"
    return _trust(abs(correction(ice, ice.scale)), ice.scale)


def _trust(error: Fraction, scale: Scale) -> Trust:
    limits = table().thermometer
    fine = limits.accuracy_f if scale == "F" else limits.accuracy_c
    most = limits.refuse_f if scale == "F" else limits.refuse_c
    return "fine" if error <= exact(fine) else "adjust" if error <= exact(most) else "refuse"


def ice_check(shown: Temperature) -> Check:
    """The check in ice water: 32 °F, 0 °C."""
    expected = Temperature(32.0 if shown.scale == "F" else 0.0, shown.scale)
    return _checked(shown, expected, "ice water")


def boiling_check(shown: Temperature, metres: float) -> Check:
    """The check in boiling water at a height above the sea.

    Raises:
        UnitError: when the height is outside −500 m to 6000 m.
    """
    celsius = round(boiling_point(metres), 1)
    value = celsius if shown.scale == "C" else round(boiling_point(metres) * 1.8 + 32, 1)
    return _checked(shown, Temperature(value, shown.scale), "boiling water")


def _checked(shown: Temperature, expected: Temperature, where: str) -> Check:
    error = exact(shown.value) - exact(expected.value)
    level = _trust(abs(error), shown.scale)
    means = {
        "fine": "fine",
        "adjust": "adjust or replace it",
        "refuse": "no verdict with this thermometer: adjust or replace it",
    }[level]
    off = (
        f"{degrees(abs(error), shown.scale)} {'high' if error > 0 else 'low'}" if error else "true"
    )
    words = f"{where} should show {expected}, it shows {shown}, {off}: {means}"
    return Check(shown, expected, level, words[0].upper() + words[1:])


def parse_height(text: str) -> float:
    """A height above the sea in metres, from "1500 m" or "5,000 ft".

    Raises:
        UnitError: when it has no unit or is no height.
    """
    match = _HEIGHT.fullmatch(text.casefold())
    if match is None:
        raise UnitError(f"{quoted(text)} is no height", _HEIGHT_MEND)
    number = float(match[1].replace(",", ""))
    return number * (_FOOT if match[2].startswith("f") else 1.0)


def standard_pressure(metres: float) -> float:
    """Air pressure in pascals at a height, by the ISA standard atmosphere (ISO 2533:1975).

    p = 101325 (1 − 0.0065 h / 288.15)^5.25588, h in metres of geopotential height, troposphere.

    Raises:
        UnitError: when the height is outside −500 m to 6000 m.
    """
    if not _LOWEST_M <= metres <= _HIGHEST_M:
        raise UnitError(f"{metres:g} m is no height of a kitchen", _HEIGHT_MEND)
    return 101325.0 * float((1 - 0.0065 * metres / 288.15) ** 5.25588)


def boiling_point(metres: float) -> float:
    """The temperature in °C at which water boils at a height above the sea.

    The standard atmosphere's pressure, then the saturation temperature of IAPWS R7-97(2012),
    equation 31.

    Raises:
        UnitError: when the height is outside −500 m to 6000 m.
    """
    return saturation_temperature(standard_pressure(metres) / 1e6) - 273.15


def saturation_temperature(mpa: float) -> float:
    """The boiling temperature of water in kelvin at a pressure in MPa (IAPWS R7-97, eq. 31)."""
    beta = sqrt(sqrt(mpa))
    e = beta * beta + _N3 * beta + _N6
    f = _N1 * beta * beta + _N4 * beta + _N7
    g = _N2 * beta * beta + _N5 * beta + _N8
    d = 2 * g / (-f - sqrt(f * f - 4 * e * g))
    return (_N10 + d - sqrt((_N10 + d) ** 2 - 4 * (_N9 + _N10 * d))) / 2
