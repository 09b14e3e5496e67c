"""The temperature charts that ship with the program, read once and checked on load."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any, get_args

from passbell.plan.model import ChartKey
from passbell.safety.table import Table

CHART_KEYS: tuple[str, ...] = tuple(key for key in get_args(ChartKey) if key != "strictest")
"""Keys of the single charts, in their fixed order."""


def _data(*path: str) -> dict[str, Any]:
    text = files("passbell.safety").joinpath("data", *path).read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def table() -> Table:
    """The shipped charts, foods and limits.

    Raises:
        pydantic.ValidationError: when the shipped data break their own rules.
    """
    foods = _data("foods.toml")
    return Table.model_validate(
        {
            **_data("limits.toml"),
            "charts": [_data("charts", f"{key}.toml") for key in CHART_KEYS],
            "foods": foods["food"],
            "places": foods["place"],
        }
    )


@cache
def meat_word_lists() -> tuple[frozenset[str], tuple[str, ...]]:
    """Words of meat, poultry, fish and egg, and phrases in which such a word means none."""
    lists = _data("meat_words.toml")
    return frozenset(lists["words"]), tuple(sorted(lists["unless"], key=len, reverse=True))
