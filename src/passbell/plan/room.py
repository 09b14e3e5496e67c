"""How much of a tray a component takes: as its plan says, else reckoned from pieces and size.

What is cut and spread by hand lies at random, each piece with air around it. Discs that are laid
down one after the other wherever there is still room cover 0.547 of a surface in the end ("Random
sequential adsorption", Journal of Theoretical Biology 87, 1980; from memory); laid as closely as
discs can be they cover π / √12 = 0.907 of it, which no arrangement exceeds.
"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from passbell.plan.model import Component
from passbell.units import Amount, Length
from passbell.units.measure import GRAMS_AN_OUNCE

SPREAD = 0.547
"""Share of a tray that spread pieces cover."""

CLOSEST = math.pi / math.sqrt(12)
"""Share of a tray that round pieces cover where they lie as closely as can be."""

GRAMS_A_CM3 = 1.0
"""Water's; raw muscle has 1.05 (ICRU Report 44, from memory), roots lie within a tenth of it."""

_GRAMS = {
    "mg": Fraction(1, 1000),
    "g": Fraction(1),
    "kg": Fraction(1000),
    "oz": GRAMS_AN_OUNCE,
    "lb": 16 * GRAMS_AN_OUNCE,
}
_EACH = re.compile(r"\S+\s?(?:g|kg|oz|lb)\s(?:each|apiece)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Room:
    """What a component takes of its tray.

    Attributes:
        cm2: spread out in one layer.
        least: laid as closely as can be, in cm².
        grounds: what it was reckoned from; empty: the plan says it.
    """

    cm2: float
    least: float
    grounds: str = ""


def room_of(component: Component) -> Room | None:
    """Its `area`; else pieces times `piece`; else from weight, or number, and `size`; else None.

    A weight and a thickness give what the pieces cover (its volume over the thickness; of lying
    cylinders and spheres, their outlines), and `SPREAD` the tray that asks for.
    """
    if component.area is not None:
        return Room(component.area.cm2, component.area.cm2)
    if component.piece is not None:
        much = component.pieces * component.piece.cm2
        return Room(much, much, f"{component.pieces} × {component.piece}")
    if component.size is None:
        return None
    covered, grounds = _covered(component, component.size)
    return Room(covered / SPREAD, covered / CLOSEST, grounds) if covered else None


def rooms_of(components: tuple[Component, ...]) -> tuple[Room | None, ...]:
    """What each takes of its tray; None: nothing says."""
    return tuple(room_of(component) for component in components)


def _covered(component: Component, size: Length) -> tuple[float, str]:
    """What its pieces cover, in cm², and what that was reckoned from; 0: nothing says."""
    thick = size.mm / 10
    grams = sum(_grams(Amount.parse(line)) for line in component.ingredients)
    if grams:
        outline = {"slab": 1.0, "cylinder": 4 / math.pi, "sphere": 1.5}[component.shape]
        covered = outline * float(grams) / GRAMS_A_CM3 / thick
        return covered, f"{_weight(float(grams))} of {size}"
    if component.shape == "sphere" and component.pieces > 1:
        return component.pieces * math.pi / 4 * thick**2, f"{component.pieces} of {size}"
    return 0.0, ""


def _grams(amount: Amount) -> Fraction:
    """What a line weighs, the upper end of a range; 0: it does not say."""
    if amount.high is None:
        return Fraction(0)
    if amount.unit in _GRAMS:
        return amount.high * _GRAMS[amount.unit]
    each = _EACH.search(amount.rest) if not amount.unit else None
    return amount.high * _grams(Amount.parse(each[0])) if each else Fraction(0)


def _weight(grams: float) -> str:
    return f"{grams / 1000:.2g} kg" if grams >= 1000 else f"{grams:.0f} g"
