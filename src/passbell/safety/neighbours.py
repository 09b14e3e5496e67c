"""Raw meat and what shares its tray: nothing there is taken out, tasted or plated before it."""

from collections.abc import Iterable
from dataclasses import dataclass

from passbell.safety.foods import is_raw_meat
from passbell.safety.model import Word

TOUCHED = "touched raw meat: back on the heat"
"""What the record says of food taken out all the same."""


@dataclass(frozen=True, slots=True)
class Mate:
    """A component on the tray, on the heat.

    Attributes:
        name: its name.
        food: keys of its food.
        verdict: its verdict now.
    """

    name: str
    food: tuple[str, ...]
    verdict: Word


def held_back_by(mates: Iterable[Mate]) -> tuple[str, ...]:
    """Names of the raw meats on the tray that are not yet `met`.

    While there is one, nothing else on that tray is offered for taking out, tasting or plating.
    Meat for which no chart prints a figure can never be `met`: it holds the others back until it
    has itself left the heat.
    """
    return tuple(m.name for m in mates if is_raw_meat(m.food) and m.verdict != "met")


def stays_with(names: Iterable[str]) -> str:
    """The words for a component that is held back: "stays with the chicken"."""
    listed = [f"the {name}" for name in names]
    return f"stays with {' and '.join(listed)}" if listed else ""
