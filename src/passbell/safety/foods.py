"""The foods a plan may name, and what the kitchen must know of each."""

from collections.abc import Iterable
from difflib import get_close_matches

from passbell.safety.shipped import table

PLANT = "plant"
"""Vegetables, fruit and grain: no chart publishes a minimum."""


def known_foods() -> tuple[str, ...]:
    """Every food key, in a fixed order."""
    return tuple(table().foods)


def nearest_food(key: str) -> str | None:
    """The known food key most like a mistyped one; None: none is near."""
    near = get_close_matches(key.casefold().replace(" ", "_"), known_foods(), 1, cutoff=0.5)
    return near[0] if near else None


def food_name(key: str) -> str:
    """A food key in words; an unknown key as it stands."""
    food = table().foods.get(key)
    return food.name if food else key


def is_raw_meat(food: Iterable[str]) -> bool:
    """Whether any of these foods counts as raw meat until it has reached its minimum.

    Meat, poultry, fish and shellfish sold raw do, stuffing with them. A mixed bake may hold raw
    meat and so counts; cooked ham, leftovers, egg dishes without meat and plants do not. An
    unknown key may be anything and counts.
    """
    foods = table().foods
    return any(foods[key].raw if key in foods else True for key in food)


def is_perishable(food: Iterable[str], *, cooked: bool = False) -> bool:
    """Whether the two-hour limit holds for food of these keys out of the fridge.

    Args:
        food: its keys; empty: no food named.
        cooked: whether it has been on the heat. Cooked vegetables and grain, and anything
            unnamed that was cooked, keep no better than meat.
    """
    foods = table().foods
    return cooked or any(foods[key].perishable if key in foods else True for key in food)
