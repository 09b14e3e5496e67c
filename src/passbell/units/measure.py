"""Amounts in the measures a kitchen has: scaled by a factor, rounded once, said in both systems.

The factor method (new amount = old amount × new servings / old servings) works on exact
fractions; only the last figure is rounded, so a cup is never chained through millilitres.

Sources: how US measures go into each other, NIST SP 430 "Household Weights and Measures"; metric
kitchen equivalents, NIST "Cooking Measurement Equivalencies"; rounding to quarters, US Department
of Defense, "Information for Standardized Recipes", A. General Information No. 1(2).
"""

import re
from fractions import Fraction

from passbell.units.amount import Amount
from passbell.units.counted import in_number, plural

ML_A_TSP = Fraction(492892159375, 10**11)
"""Millilitres in a US teaspoon, exact: a gallon is 231 cubic inches and holds 768."""

GRAMS_AN_OUNCE = Fraction(45359237, 16 * 10**5)
"""Grams in an avoirdupois ounce, exact."""

_SPOONS = {"gallon": 768, "quart": 192, "pint": 96, "cup": 48, "fl oz": 6, "tbsp": 3, "tsp": 1}
_CUP_PARTS = tuple(Fraction(n, d) for n, d in ((3, 4), (2, 3), (1, 2), (1, 3), (1, 4)))
_COUNT_PARTS = (Fraction(0), *reversed(_CUP_PARTS), Fraction(1))
_METRIC = {"kg": ("g", 1000), "l": ("ml", 1000), "dl": ("ml", 100), "cl": ("ml", 10)}
_BENT = ("cup", "pint", "quart", "gallon", "clove", "slice", "sprig", "stick", "stalk", "can",
         "tin", "jar", "packet", "piece", "head", "sheet", "handful", "knob", "pinch", "dash",
         "bunch")  # fmt: skip
_ABOUT = re.compile(r"(?:about|around|roughly|approx\.?|ca\.?)\s|~\s?", re.IGNORECASE)


def quarters(value: Fraction) -> Fraction:
    """The nearest quarter, from the middle upwards (the armed services' scale for ounces)."""
    return Fraction(int(value * 4 + Fraction(1, 2)), 4)


def fraction_text(value: Fraction) -> str:
    """A number as a kitchen writes it: "3", "1 1/2", "2/3"."""
    whole, part = divmod(value, 1)
    if not part:
        return str(int(whole))
    return f"{int(whole)} {part}" if whole else str(part)


def measure(value: Fraction, unit: str) -> str:
    """An amount in kitchen measures, rounded once.

    Args:
        value: how much, exact.
        unit: as `Amount` spells it; empty for things that are counted.

    Returns:
        for example "1 1/2 cups", "2 tbsp 1/2 tsp", "4 lb 5 1/2 oz", "1.25 kg", "3"; never nothing:
        what is too little to measure is "a pinch", "a little".
    """
    if unit in _SPOONS:
        return _spoons(value * _SPOONS[unit], unit)
    if unit in ("lb", "oz"):
        return _pounds(value * (16 if unit == "lb" else 1))
    if unit in ("g", "ml", "mg"):
        return _metric(value, unit)
    if unit in _METRIC:
        small, size = _METRIC[unit]
        return _metric(value * size, small)
    return _counted(value, unit)


def scaled_line(line: str, factor: Fraction) -> str | None:
    """An ingredient line for another number of servings; None: it has no amount to scale.

    Args:
        line: as the cook wrote it.
        factor: new servings over old.
    """
    amount = Amount.parse(line)
    if amount.low is None or amount.high is None:
        return None
    about = _ABOUT.match(amount.text)
    much = spelled(amount, factor)
    of = "of " if much.startswith("a ") else ""
    rest = amount.rest
    many = _count(amount.high * factor) > 1
    if not amount.unit and many != (amount.high > 1):
        rest = in_number(rest, many=many)
    return f"{about[0].strip() + ' ' if about else ''}{much} {of}{rest}"


def spelled(amount: Amount, factor: Fraction = Fraction(1)) -> str:
    """How much a line asks for, times a factor, in kitchen measures; a range keeps both ends.

    Args:
        amount: one that was recognised.
        factor: new servings over old.
    """
    assert amount.low is not None
    assert amount.high is not None
    low, high = (measure(value * factor, amount.unit) for value in (amount.low, amount.high))
    return low if low == high else f"{low} to {high}"


def other_system(amount: Amount) -> str:
    """The same amount in the other system, rounded; empty for what is counted, pinched or sliced.

    Metric of spoons and cups by the NIST kitchen table (5 ml a teaspoon) below a quart, exact from
    there; ounces and fluid ounces to the quarter.
    """
    if amount.low is None or amount.high is None:
        return ""
    low, high = (_other(value, amount.unit) for value in (amount.low, amount.high))
    return low if low == high else f"{low} to {high}"


def _other(value: Fraction, unit: str) -> str:
    if unit in _SPOONS:
        return _metric(kitchen_ml(value * _SPOONS[unit]), "ml")
    if unit in ("lb", "oz"):
        return _metric(value * (16 if unit == "lb" else 1) * GRAMS_AN_OUNCE, "g")
    small, size = _METRIC.get(unit, (unit, 1))
    if small == "g":
        return _pounds(value * size / GRAMS_AN_OUNCE)
    return _us_volume(value * size / ML_A_TSP) if small == "ml" else ""


def kitchen_ml(teaspoons: Fraction) -> Fraction:
    """Millilitres that a kitchen takes for so many teaspoons (NIST kitchen table).

    5 ml each below a quart, as the table has it; its rows disagree from there on, so a quart and
    more are exact, to 10 ml.
    """
    if teaspoons < _SPOONS["quart"]:
        return teaspoons * 5
    return Fraction(round(teaspoons * ML_A_TSP / 10) * 10)


def _us_volume(teaspoons: Fraction) -> str:
    """Below a tablespoon teaspoons, below a quarter cup half tablespoons, else fluid ounces."""
    if teaspoons < 3:
        return _spoons(teaspoons, "tsp")
    if teaspoons < 12:
        return f"{fraction_text(Fraction(round(teaspoons / 3 * 2), 2))} tbsp"
    return f"{fraction_text(quarters(teaspoons / 6))} fl oz"


def _spoons(teaspoons: Fraction, unit: str) -> str:
    """Spoons and cups, the largest first; gallons, quarts and pints where the line has them."""
    if teaspoons < Fraction(1, 8):
        return "a pinch"
    if teaspoons < Fraction(3, 16):
        return "1/8 tsp"
    left = quarters(teaspoons)
    parts = []
    largest = _SPOONS[unit] if unit in ("gallon", "quart", "pint") else _SPOONS["cup"]
    for name in ("gallon", "quart", "pint"):
        count = int(left // _SPOONS[name]) if _SPOONS[name] <= largest else 0
        parts += [_plural(Fraction(count), name)] if count else []
        left -= count * _SPOONS[name]
    cups, left = _cups(left) if largest == _SPOONS["cup"] else (Fraction(left // 48), left % 48)
    parts += [_plural(cups, "cup")] if cups else []
    tablespoons = int(left // 3)
    parts += [f"{tablespoons} tbsp"] if tablespoons else []
    left -= tablespoons * 3
    parts += [f"{fraction_text(left)} tsp"] if left else []
    return " ".join(parts)


def _cups(teaspoons: Fraction) -> tuple[Fraction, Fraction]:
    """Cups as measuring cups come (whole, halves, thirds, quarters), and what is left.

    A third is taken only where it comes out even: it leaves no whole tablespoons behind.
    """
    whole = Fraction(teaspoons // 48)
    left = teaspoons - whole * 48
    even = [part for part in _CUP_PARTS if part * 48 == left]
    fitting = [part for part in _CUP_PARTS if part * 48 <= left and part.denominator != 3]
    part = (even or fitting or [Fraction(0)])[0]
    return whole + part, left - part * 48


def _pounds(ounces: Fraction) -> str:
    if ounces < Fraction(1, 8):
        return "a little"
    rounded = quarters(ounces)
    pounds, left = divmod(rounded, 16)
    parts = [f"{int(pounds)} lb"] if pounds else []
    parts += [f"{fraction_text(left)} oz"] if left else []
    return " ".join(parts)


def _metric(value: Fraction, unit: str) -> str:
    """To the gram or millilitre from 10 on, a quarter below, tens of them from a kilo on."""
    if value >= 1000 and unit != "mg":
        return f"{_decimal(Fraction(round(value / 10), 100))} {'kg' if unit == 'g' else 'l'}"
    rounded = Fraction(round(value)) if value >= 10 else Fraction(round(value * 4), 4)
    return f"{_decimal(rounded)} {unit}" if rounded else "a little"


def _decimal(value: Fraction) -> str:
    return f"{float(value):.2f}".rstrip("0").rstrip(".")


def _counted(value: Fraction, unit: str) -> str:
    return _plural(_count(value), unit)


def _count(value: Fraction) -> Fraction:
    """Things and packets: to the nearest half, third or quarter, whole from ten on."""
    whole, part = divmod(value, 1)
    near = min(_COUNT_PARTS, key=lambda p: abs(p - part))
    rounded = Fraction(round(value)) if value >= 10 else whole + near
    return rounded or Fraction(1, 4)


def _plural(value: Fraction, unit: str) -> str:
    bent = plural(unit) if value > 1 and unit in _BENT else unit
    return f"{fraction_text(value)} {bent}".strip()
