"""Oven air in time: it follows the set point with a lag, and an open door lets some of it out."""

import math
from dataclasses import dataclass
from typing import Final

from passbell.heat.model import Exposure

LAG_S: Final = 150.0
"""Time constant with which oven air follows its set point, s (our figure)."""

DOOR_SHARE: Final = 1 / 3
"""How much of its excess over the room oven air loses at one opening (common practice)."""

DOOR_RECOVERY_S: Final = 75.0
"""Time constant with which it recovers, s (our figure)."""


@dataclass(frozen=True, slots=True)
class Air:
    """Oven air as a sum of decaying exponentials, exact for the lag and for each door.

    Attributes:
        changes: when a set point begins to hold, the set point, and how far the air is from it.
        doors: when a door was opened, and by how much the air fell, K.
    """

    changes: tuple[tuple[float, float, float], ...]
    doors: tuple[tuple[float, float], ...]

    def at(self, second: float) -> float:
        """Air temperature at a moment, °C."""
        dip = 0.0
        for opened, fell in self.doors:
            if opened <= second:
                dip += fell * math.exp((opened - second) / DOOR_RECOVERY_S)
        return self.undisturbed(second) - dip

    def undisturbed(self, second: float) -> float:
        """Air temperature if no door were opened, °C."""
        at, target, off = self.changes[0]
        for change in self.changes:
            if change[0] > second:
                break
            at, target, off = change
        return target + off * math.exp((at - second) / LAG_S)


def air_of(exposure: Exposure) -> Air:
    """The oven air that an exposure means; room air of a `rest` has no lag and no door."""
    changes: list[tuple[float, float, float]] = []
    air = exposure.start_air_c
    for segment in exposure.segments:
        if changes:
            at, target, off = changes[-1]
            air = target + off * math.exp((at - segment.at_s) / LAG_S)
        still = segment.mode == "rest" or air is None
        off = 0.0 if still or air is None else air - segment.air_c
        changes.append((segment.at_s, segment.air_c, off))
    steady = Air(tuple(changes), ())
    doors = [
        (at, DOOR_SHARE * max(0.0, steady.undisturbed(at) - exposure.room_c))
        for at in (0.0, *exposure.doors_s)
    ]
    return Air(tuple(changes), tuple(doors))
