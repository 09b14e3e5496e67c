"""Single values of a TOML text: strings, numbers, dates; by the rules of TOML 1.1."""

import tomllib
from typing import Final

from passbell.plan.plain import as_toml_1_0

LONGEST_BARE = 100
"""The longest number or date that is looked at, in characters."""


class NoValue:
    """That a text is no value."""


NO_VALUE: Final = NoValue()


def string_value(literal: str) -> str | None:
    """What a TOML string says; None where it holds an escape or a character that may not be.

    Args:
        literal: the string with its quotes.
    """
    found = _loaded(literal)
    return found if isinstance(found, str) else None


def inner(literal: str) -> str:
    """The text between the quotes of a string, or behind a quote that is never closed."""
    for quote in ('"""', "'''", '"', "'"):
        if literal.startswith(quote):
            return literal.removeprefix(quote).removesuffix(quote)
    return literal


def bare_value(text: str) -> object:
    """What a text without quotes says: a number, true or false, a date or time; else NO_VALUE."""
    if len(text) > LONGEST_BARE:
        return NO_VALUE
    found = _loaded(text)
    return NO_VALUE if isinstance(found, str | list | dict) else found


def _loaded(literal: str) -> object:
    try:
        return tomllib.loads(as_toml_1_0(f"x = {literal}"))["x"]
    except ValueError:
        return NO_VALUE
