"""Numbers as a kitchen writes them: "2", "1.5", "1,5", "1/2", "1 1/2", "½", "1½". Exact."""

import re
import unicodedata
from fractions import Fraction

_VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_OVER = r"[0-9]{1,3}\s?[/⁄]\s?[0-9]{1,3}(?![0-9])"

DECIMAL = r"[0-9]{1,7}(?:[.,][0-9]{1,6})?"
"""Pattern of a whole or decimal number, with a point or a comma."""

NUMBER = rf"(?:[0-9]{{1,4}}(?:\s?[{_VULGAR}]|(?:\s+|-){_OVER})|{_OVER}|[{_VULGAR}]|{DECIMAL})"
"""Pattern of a number with or without a fraction."""

_WHOLE = re.compile(NUMBER)
_RATIO = re.compile(r"(?:([0-9]+)(?:\s+|-))?([0-9]+)\s?/\s?([0-9]+)")
_TWO_WAYS = re.compile(r"[0-9]{1,3},[0-9]{3}")


def decimal(text: str) -> Fraction:
    """The value of a text that `DECIMAL` matches."""
    return Fraction(text.replace(",", "."))


def two_ways(text: str) -> bool:
    """Whether a number can be read in two ways: "1,000" is one to some and a thousand to others."""
    return _TWO_WAYS.fullmatch(text) is not None


def number(text: str) -> Fraction | None:
    """The value of a number with or without a fraction; None: it is none, or over nothing."""
    if _WHOLE.fullmatch(text) is None:
        return None
    # The compatibility form of "½" is "1⁄2", so "1½" becomes "1 1/2".
    spelled = (f" {unicodedata.normalize('NFKC', c)}" if c in _VULGAR else c for c in text)
    plain = "".join(spelled).replace("⁄", "/").strip()
    match = _RATIO.fullmatch(plain)
    if match is None:
        return decimal(plain)
    under = int(match[3])
    return int(match[1] or 0) + Fraction(int(match[2]), under) if under else None
