"""What the surface of moist food meets: two numbers a mode and temperature.

Evaporation keeps a moist surface far below the oven air. The flux is taken as straight between the
dry flux at a surface of 40 °C, where little evaporates yet, and nothing at a cap:
T_cap = 40 + min(κ (T_air - 40)^0.6, T_air - 40) °C. It stayed within 0.4 K rms of a non-linear
wet surface in the core, for pieces of 1 to 3 inches in every mode here (own trials).

Convection coefficients and emissivities are middles of wide published ranges (a conventional oven
was measured at 19.25 W/m²K in all, oven roasting of turkeys; no value for air fryers was found),
so they only set a prior.
"""

import math
from dataclasses import dataclass
from typing import Final

from passbell.heat.model import ModeKey

MOISTURE: Final = 3.4
"""κ of an ordinary moist surface; 2.1 stays wet, 4.3 is soon dry."""

TURN_C: Final = 40.0
"""The surface temperature at which hardly anything evaporates yet, °C."""

_STEFAN = 5.670374e-8
_KELVIN = 273.15
_AIR: dict[ModeKey, tuple[float, float]] = {
    "bake": (8.0, 0.90),
    "convection": (25.0, 0.85),
    "air_fry": (45.0, 0.85),
    "rest": (5.0, 0.90),
}
_REST_WETNESS = 0.10
_REST_POINTS = ((60.0, 78.0), (120.0, 68.0), (math.inf, 58.0))
_PRESSURE = 101325.0
_ROOM_VAPOUR = 1100.0
_LEWIS = 0.85 ** (-2 / 3)
_AIR_HEAT = 1006.0


@dataclass(frozen=True, slots=True)
class Film:
    """A straight surface: flux = h (around - T_surface).

    Attributes:
        h: coefficient, W/m²K.
        around: what the surface tends to, °C.
    """

    h: float
    around: float


def dry_flux(mode: ModeKey, air_c: float, surface_c: float = TURN_C) -> float:
    """Convection and radiation to a dry surface, W/m²; the walls are as hot as the air."""
    h, emissivity = _AIR[mode]
    walls, skin = air_c + _KELVIN, surface_c + _KELVIN
    glow = walls * walls * walls * walls - skin * skin * skin * skin
    return h * (air_c - surface_c) + emissivity * _STEFAN * glow


def cap(air_c: float, moisture: float = MOISTURE) -> float:
    """The temperature a moist surface does not pass in oven air of `air_c`, °C."""
    over = max(air_c - TURN_C, 1.0)
    return TURN_C + min(moisture * math.pow(over, 0.6), over)


def vapour_pressure(celsius: float) -> float:
    """Saturation pressure of water, Pa: the Magnus form, within 0.3 % below 60 °C."""
    return 610.94 * math.exp(17.625 * celsius / (celsius + 243.04))


def wet_flux(h: float, surface_c: float, vapour_pa: float) -> float:
    """Heat taken by evaporation from a fully wet surface, W/m².

    Chilton-Colburn analogy with the Stefan form of the mass flux, so that a wet surface stops
    short of boiling (any heat and mass transfer text).

    Args:
        h: the convection coefficient, W/m²K.
        surface_c: the surface, °C.
        vapour_pa: partial pressure of water in the air, Pa.
    """
    latent = 2.501e6 - 2400.0 * surface_c
    drive = math.log((_PRESSURE - vapour_pa) / (_PRESSURE - vapour_pressure(surface_c)))
    return h * _LEWIS * latent / _AIR_HEAT * 0.622 * drive


def _rest_flux(surface_c: float, room_c: float) -> float:
    h = _AIR["rest"][0]
    return dry_flux("rest", room_c, surface_c) - _REST_WETNESS * wet_flux(
        h, surface_c, _ROOM_VAPOUR
    )


def rest_films(room_c: float) -> list[tuple[float, Film]]:
    """The surface in room air, made straight around 78, 68 and 58 °C as it cools.

    Returns:
        how many seconds each holds (the last for ever), and the film.
    """
    films = []
    for seconds, surface in _REST_POINTS:
        flux = _rest_flux(surface, room_c)
        h = _rest_flux(surface - 0.5, room_c) - _rest_flux(surface + 0.5, room_c)
        films.append((seconds, Film(h, surface + flux / h)))
    return films
