"""How a component turned out, in the cook's words."""

from typing import Literal

Score = Literal["under", "just right", "over"]
SCORES: tuple[Score, ...] = ("under", "just right", "over")
"""All of them, from too little to too much."""
