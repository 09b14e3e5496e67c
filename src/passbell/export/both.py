"""Every figure in both systems, beside the one that was written."""

import re
from fractions import Fraction

from passbell.safety.chart import ChartRow
from passbell.units import Amount, Duration, Length, Temperature, other_system
from passbell.units.measure import fraction_text, quarters
from passbell.units.temperature import Scale

OVEN = 110
"""From here on, in °C, a temperature is an oven's and is rounded to 5 degrees; under it a probe's,
and rounded upwards to the next degree."""

_TEMPERATURE = re.compile(r"(?<![\w.,(/])([0-9]{2,3}(?:[.,][0-9])?)\s?°\s?([CF])\b(?!\s*[(/])")
_LENGTH = re.compile(r"(?<![x×\w.,])(?<![x×]\s)([0-9]{1,3}(?:[.,][0-9])?\s?[mc]m)\b(?!\s*[(x×])")


def temperature(temp: Temperature) -> str:
    """A temperature in both units: "400 °F (205 °C)", "75 °C (167 °F)".

    A calculated oven setting is to the nearest 5 degrees (common practice, no source); a calculated
    probe temperature is rounded upwards, so that it never asks for less.
    """
    to: Scale = "F" if temp.scale == "C" else "C"
    if temp.celsius < OVEN:
        return f"{temp} ({temp.at_least_in(to)})"
    value = temp.fahrenheit if to == "F" else temp.celsius
    return f"{temp} ({round(value / 5) * 5} °{to})"


def length(size: Length) -> str:
    """A length in both units, inches to the eighth: "25 mm (1 in)", "1 1/2 in (38 mm)"."""
    if size.text.strip().endswith(("mm", "cm")):
        eighths = quarters(_fraction(size.mm / 25.4 * 2)) / 2
        return f"{size} ({fraction_text(eighths)} in)" if eighths else str(size)
    return f"{size} ({size.mm:.0f} mm)"


def _fraction(value: float) -> Fraction:
    return Fraction(value).limit_denominator(10_000)


def in_text(text: str) -> str:
    """A text with every temperature and length in it said in the other unit too."""
    text = _TEMPERATURE.sub(lambda m: temperature(Temperature.parse(m[0])), text)
    return _LENGTH.sub(lambda m: length(Length.parse(m[1])), text)


def ingredient(line: str) -> str:
    """An ingredient line in both systems: "300 g (10 1/2 oz) carrots"."""
    amount = Amount.parse(line)
    other = other_system(amount)
    if not other or not amount.rest:
        return in_text(line)
    head = amount.text[: len(amount.text) - len(amount.rest)].strip()
    of = head.endswith(" of")
    head = head.removesuffix(" of")
    return f"{head} ({other}) {'of ' if of else ''}{in_text(amount.rest)}"


def printed_minimum(row: ChartRow) -> str:
    """What a chart prints for a food, in the units it prints it: never converted.

    For example "165 °F / 74 °C", "70 °C for 2 min or 75 °C for 30 s", "no figure".
    """
    if row.no_figure:
        return "no figure"
    if row.row.pairs:
        pairs = (f"{t:g} °{row.row.pair_unit} for {Duration(s)}" for t, s in row.row.pairs)
        return " or ".join(pairs)
    both = ((row.row.temp_f, "F"), (row.row.temp_c, "C"))
    return " / ".join(f"{value:g} °{scale}" for value, scale in both if value is not None)


def rest_printed(row: ChartRow) -> str:
    """The rest a chart prints, in words; empty: none."""
    if not row.rest_min:
        return ""
    longest = row.row.rest_max_min
    span = f"{row.rest_min} to {longest}" if longest else f"at least {row.rest_min}"
    return f"then rest {span} minutes before cutting"
