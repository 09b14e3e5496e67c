"""Conductivity, density and specific heat of food from what it is made of.

The polynomials are printed in the ASHRAE Handbook - Refrigeration (2006), chapter "Thermal
properties of foods", tables 1 and 2; -40 to 150 °C. Water's specific heat begins with 4176.2 as
where they were first published (1986); the handbook's edition of 2006 prints 4128.9, which is
1.1 % low against the steam tables (IAPWS-97).
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

Poly = tuple[float, float, float]

_CONDUCTIVITY: dict[str, Poly] = {
    "water": (0.57109, 1.7625e-3, -6.7036e-6),
    "protein": (0.17881, 1.1958e-3, -2.7178e-6),
    "fat": (0.18071, -2.7604e-4, -1.7749e-7),
    "carbohydrate": (0.20141, 1.3874e-3, -4.3312e-6),
    "fibre": (0.18331, 1.2497e-3, -3.1683e-6),
    "ash": (0.32962, 1.4011e-3, -2.9069e-6),
}
_DENSITY: dict[str, Poly] = {
    "water": (997.18, 3.1439e-3, -3.7574e-3),
    "protein": (1329.9, -0.5184, 0.0),
    "fat": (925.59, -0.41757, 0.0),
    "carbohydrate": (1599.1, -0.31046, 0.0),
    "fibre": (1311.5, -0.36589, 0.0),
    "ash": (2423.8, -0.28063, 0.0),
}
_HEAT: dict[str, Poly] = {
    "water": (4176.2, -0.090864, 5.4731e-3),
    "protein": (2008.2, 1.2089, -1.3129e-3),
    "fat": (1984.2, 1.4733, -4.8008e-3),
    "carbohydrate": (1548.8, 1.9625, -5.9399e-3),
    "fibre": (1845.9, 1.8306, -4.6509e-3),
    "ash": (1092.6, 1.8896, -3.6817e-3),
}
_MIDDLE_C = 40.0


@dataclass(frozen=True, slots=True)
class Properties:
    """How a food takes up heat.

    Attributes:
        k: conductivity, W/mK.
        rho: density, kg/m³.
        cp: specific heat, J/kgK.
    """

    k: float
    rho: float
    cp: float

    @property
    def alpha(self) -> float:
        """Diffusivity k/(ρ cp), m²/s."""
        return self.k / (self.rho * self.cp)


def _at(poly: Poly, celsius: float) -> float:
    return poly[0] + celsius * (poly[1] + celsius * poly[2])


def part(name: str, celsius: float) -> Properties:
    """The properties of one component ("water", "protein", "fat", ...) at a temperature in °C."""
    tables = (_CONDUCTIVITY, _DENSITY, _HEAT)
    return Properties(*(_at(table[name], celsius) for table in tables))


def mixed(shares: Mapping[str, float], celsius: float = _MIDDLE_C) -> Properties:
    """The properties of a mixture.

    Specific volumes and heats add by mass. Conductivity is the mean of the parallel and the
    series model by volume: parallel alone lies 6 to 15 % above measured diffusivities of meat.

    Args:
        shares: part name to its share of the mass, in any unit; they are scaled to 1.
        celsius: the temperature, 40 °C by default (the middle of what food goes through).
    """
    total = sum(shares.values())
    parts = [(share / total, part(name, celsius)) for name, share in shares.items()]
    volume = sum(share / p.rho for share, p in parts)
    fill = [(share / p.rho / volume, p.k) for share, p in parts]
    parallel = sum(v * k for v, k in fill)
    series = 1 / sum(v / k for v, k in fill)
    return Properties((parallel + series) / 2, 1 / volume, sum(s * p.cp for s, p in parts))


@cache
def compositions() -> Mapping[str, Mapping[str, float]]:
    """Every shipped composition: food key or vegetable name to percent of the mass by part."""
    text = (files("passbell.heat") / "data" / "foods.toml").read_text(encoding="utf-8")
    foods = tomllib.loads(text)["food"]
    return MappingProxyType({key: MappingProxyType(food["of"]) for key, food in foods.items()})


@cache
def properties_of(food_key: str) -> Properties:
    """The properties of a food at 40 °C; a key that is not shipped counts as `general`."""
    shipped = compositions()
    return mixed(shipped.get(food_key, shipped["general"]))


def vegetable_named(text: str) -> str:
    """The shipped vegetable or fruit whose name stands in a text, else `plant`."""
    folded = text.casefold()
    named = [key for key in compositions() if "_" not in key and key in folded]
    return max(named, key=len, default="plant")
