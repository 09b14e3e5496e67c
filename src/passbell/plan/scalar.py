"""Single values of a TOML text: strings, numbers, dates; by the rules of TOML 1.1."""

import re
import tomllib
from typing import Final

LONGEST_BARE = 100
"""The longest number or date that is looked at, in characters."""

_ESCAPE = re.compile(r"\\(?:(e)|x([0-9a-fA-F]{2})|.)", re.DOTALL)
_NO_SECONDS = re.compile(r"((?:[0-9]{4}-[0-9]{2}-[0-9]{2}[Tt ])?[0-9]{2}:[0-9]{2})([Zz+-].*)?")


class NoValue:
    """That a text is no value."""


NO_VALUE: Final = NoValue()


def string_value(literal: str) -> str | None:
    """What a TOML string says; None where it holds an escape or a character that may not be.

    Args:
        literal: the string with its quotes.
    """
    modern = _ESCAPE.sub(_older, literal) if literal[0] == '"' else literal
    found = _loaded(modern)
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
    match = _NO_SECONDS.fullmatch(text)
    found = _loaded(f"{match[1]}:00{match[2] or ''}" if match else text)
    return NO_VALUE if isinstance(found, str | list | dict) else found


def _loaded(literal: str) -> object:
    try:
        return tomllib.loads(f"x = {literal}")["x"]
    except ValueError:
        return NO_VALUE


def _older(escape: re.Match[str]) -> str:
    r"""An escape that TOML 1.1 brought (\e, \xHH), in the way TOML 1.0 writes it."""
    if escape[1]:
        return r"\u001b"
    return rf"\u00{escape[2]}" if escape[2] else escape[0]
