"""Amounts at the head of an ingredient line: how much, of what."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Self

from passbell.units.number import NUMBER, number
from passbell.units.text import clean_text

_UNITS = {
    "mg": "mg milligram milligrams",
    "g": "g gr gram grams gramme grammes",
    "kg": "kg kilo kilos kilogram kilograms",
    "oz": "oz ounce ounces",
    "lb": "lb lbs pound pounds",
    "ml": "ml millilitre millilitres milliliter milliliters",
    "cl": "cl centilitre centilitres centiliter centiliters",
    "dl": "dl decilitre decilitres deciliter deciliters",
    "l": "l litre litres liter liters",
    "tsp": "tsp tsps teaspoon teaspoons",
    "tbsp": "tbsp tbsps tablespoon tablespoons",
    "cup": "cup cups",
    "pint": "pint pints pt",
    "quart": "quart quarts qt",
    "gallon": "gallon gallons",
    "pinch": "pinch pinches",
    "dash": "dash dashes",
    "handful": "handful handfuls",
    "knob": "knob knobs",
    "clove": "clove cloves",
    "slice": "slice slices",
    "sprig": "sprig sprigs",
    "stick": "stick sticks",
    "stalk": "stalk stalks",
    "can": "can cans",
    "tin": "tin tins",
    "jar": "jar jars",
    "packet": "packet packets",
    "bunch": "bunch bunches",
    "piece": "piece pieces",
    "head": "head heads",
    "sheet": "sheet sheets",
}
_SIZES = {
    "mass": {"g": 1, "kg": 1000},
    "volume": {"ml": 1, "cl": 10, "dl": 100, "l": 1000},
    "pounds": {"oz": 1, "lb": 16},
    "spoons": {
        "tsp": 1,
        "tbsp": 3,
        "fl oz": 6,
        "cup": 48,
        "pint": 96,
        "quart": 192,
        "gallon": 768,
    },
}
"""How the units of one system go into each other; US customary ones: NIST SP 430."""

_CANON = {word: unit for unit, words in _UNITS.items() for word in words.split()}
_TO_TEN = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_WORDS = {word: Fraction(value + 1) for value, word in enumerate(_TO_TEN)} | {
    "a": Fraction(1),
    "an": Fraction(1),
    "half a": Fraction(1, 2),
    "half an": Fraction(1, 2),
    "a dozen": Fraction(12),
    "half a dozen": Fraction(6),
}
_WORD = "|".join(sorted(_WORDS, key=len, reverse=True))
_ABOUT = r"(?:(?:about|around|roughly|approx\.?|ca\.?)\s|~\s?)?"
_HEAD = re.compile(
    rf"{_ABOUT}(?:({NUMBER})(?:\s?(?:-|–|to\s|or\s)\s?({NUMBER}))?|({_WORD})(?=\s))", re.IGNORECASE
)
_NO_COUNT = re.compile(
    r"\s?-?(?:(?:mm|cm|in|inch|inches)\b|[\"°%:/.,\d-])|\s(?:few|little|bit|lot|good|couple)\b",
    re.IGNORECASE,
)
_UNIT = re.compile(r"\s?(fl\.?\soz|fluid\sounces?|[a-z]+)(?:\.|(?![a-z]))", re.IGNORECASE)
_MORE = re.compile(r"(?:[+&]|plus\s|and\s|(?=/?[1-9¼-¾⅐-⅞]))\s?", re.IGNORECASE)
_NO_FIGURE = re.compile(r"[0-9]{1,3},[0-9]{3}|00+")


@dataclass(frozen=True, slots=True)
class Amount:
    """An ingredient line, taken apart as far as it can be.

    Attributes:
        text: the whole line, as the cook wrote it.
        low, high: how much, the same figure when it is no range; None: no amount was recognised,
            and the line is only to be repeated ("salt to taste", "15 mm batons of carrot").
        unit: in one spelling ("tsp", "cup", "g"); empty for things that are counted.
        rest: what it is of.
    """

    text: str
    low: Fraction | None
    high: Fraction | None
    unit: str
    rest: str

    @classmethod
    def parse(cls, text: str) -> Self:
        """Take a line apart ("300 g carrots, peeled", "1 1/2 cups flour", "a pinch of salt").

        It reads every text; a figure that can be read in two ways ("1,000 g") counts as none.
        """
        line = clean_text(text)
        head = _HEAD.match(line)
        span = _span(head) if head else None
        if head is None or span is None or _NO_COUNT.match(line, head.end()):
            return cls(line, None, None, "", line)
        unit, rest = _thing(line[head.end() :])
        if not unit and line[head.end() : head.end() + 1].isalpha():
            return cls(line, None, None, "", line)
        more = _MORE.match(rest)
        if unit and more and span[0] == span[1]:
            added, rest = _added(unit, rest[more.end() :])
            span = (span[0] + added, span[0] + added) if added else None
        elif more:
            span = None
        return cls(line, *span, unit, rest) if span else cls(line, None, None, "", line)

    def __str__(self) -> str:
        return self.text


def _span(head: re.Match[str]) -> tuple[Fraction, Fraction] | None:
    if head[3]:
        value = _WORDS[" ".join(head[3].lower().split())]
        return value, value
    if any(_NO_FIGURE.fullmatch(part or "") for part in (head[1], head[2])):
        return None
    low, high = number(head[1]), number(head[2] or head[1])
    return (low, high) if low is not None and high is not None and low <= high else None


def _thing(after: str) -> tuple[str, str]:
    """The unit and what it is of; a unit that stands alone is the thing itself ("3 cloves")."""
    match = _UNIT.match(after)
    word = match[1].lower() if match else ""
    unit = "fl oz" if word.startswith("fl") and " " in word else _CANON.get(word, "")
    rest = after[match.end() :].strip() if match and unit else after.strip()
    if unit and not rest:
        return "", after.strip()
    return unit, rest.removeprefix("of ").strip() if unit else rest


def _added(unit: str, after: str) -> tuple[Fraction | None, str]:
    """What smaller units add to the first ("1 lb 4 oz"), in the first; None: nothing that fits.

    Returns:
        the amount, and what it is of.
    """
    head = re.match(NUMBER, after)
    value = number(head[0]) if head else None
    if head is None or value is None:
        return None, after
    smaller, rest = _thing(after[head.end() :])
    for sizes in _SIZES.values():
        if smaller in sizes and unit in sizes and sizes[smaller] < sizes[unit]:
            more = _MORE.match(rest)
            still, left = _added(smaller, rest[more.end() :]) if more else (None, rest)
            if still is not None:
                value, rest = value + still, left
            return value * Fraction(sizes[smaller], sizes[unit]), rest
    return None, rest
