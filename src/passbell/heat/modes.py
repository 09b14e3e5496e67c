"""The same food in another mode: the ratio of the model's times, and the published rules by name.

The rules conflict. Each result carries the rule's name; nothing here changes a plan.
"""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from passbell.heat.course import body_of, course, step_for
from passbell.heat.journey import follow
from passbell.heat.model import Exposure, ModeKey, Piece, Segment
from passbell.units import Temperature
from passbell.units.temperature import Scale

_LONGEST_S = 6 * 3600.0
_SHORT_S = 15 * 60
_ONLY_LONG = "article_long"
_ROUND = 5


@dataclass(frozen=True, slots=True)
class Rule:
    """A published rule from an ordinary oven to a fan oven.

    Attributes:
        key, name: what it is called here.
        source: where it was read.
        lower_f, lower_c: by how much the set temperature is lowered, from and to; None where the
            rule prints no figure in that unit.
        factor: on the time.
        applies_to: in the source's sense.
        early_s: how long before the end to check, s; None where the rule does not say.
    """

    key: str
    name: str
    source: str
    lower_f: tuple[float, float] | None
    lower_c: tuple[float, float] | None
    factor: float
    applies_to: str
    early_s: int | None


@dataclass(frozen=True, slots=True)
class Converted:
    """What one rule makes of a setting and a time.

    Attributes:
        rule: the rule, to be named beside the result.
        temps: the new set temperature, from the lowest to the highest the rule allows.
        time_s: the new time, s.
        check_s: when to check first, s; None where the rule does not say.
        other_unit: the rule prints its figure in the other unit only; the difference was turned
            into this one and rounded to 5.
    """

    rule: Rule
    temps: tuple[Temperature, Temperature]
    time_s: int
    check_s: int | None
    other_unit: bool


@cache
def rules() -> tuple[Rule, ...]:
    """Every shipped rule, in the order of the file."""
    text = (files("passbell.heat") / "data" / "convection_rules.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return tuple(_rule(row) for row in csv.DictReader(lines))


def _rule(row: dict[str, str]) -> Rule:
    return Rule(
        key=row["key"],
        name=row["name"],
        source=row["source"],
        lower_f=_pair(row["lower_f_from"], row["lower_f_to"]),
        lower_c=_pair(row["lower_c_from"], row["lower_c_to"]),
        factor=float(row["time"]),
        applies_to=row["applies_to"],
        early_s=int(row["early_min"]) * 60 if row["early_min"] else None,
    )


def _pair(low: str, high: str) -> tuple[float, float] | None:
    return (float(low), float(high)) if low else None


def converted(rule: Rule, temp: Temperature, time_s: int) -> Converted:
    """Apply one rule to an ordinary-oven setting.

    Args:
        rule: one of `rules()`.
        temp: the ordinary setting, as written.
        time_s: the ordinary time, s.
    """
    (least, most), other = _lowered(rule, temp.scale)
    shorter = not (rule.key == _ONLY_LONG and time_s <= _SHORT_S)
    time = round(time_s * rule.factor) if shorter else time_s
    check = None if rule.early_s is None else max(0, time - rule.early_s)
    temps = (
        Temperature(temp.value - most, temp.scale),
        Temperature(temp.value - least, temp.scale),
    )
    return Converted(rule, temps, time, check, other)


def _lowered(rule: Rule, scale: Scale) -> tuple[tuple[float, float], bool]:
    printed = rule.lower_f if scale == "F" else rule.lower_c
    if printed is not None:
        return printed, False
    other = rule.lower_c if scale == "F" else rule.lower_f
    assert other is not None, "a rule prints a figure in one unit at least"
    factor = 1.8 if scale == "F" else 1 / 1.8
    low, high = (_ROUND * round(value * factor / _ROUND) for value in other)
    return (low, high), True


def model_time(piece: Piece, mode: ModeKey, air_c: float, target_c: float) -> float | None:
    """Seconds to a core temperature by physics alone; None when it is not reached in 6 hours.

    Poor at absolute minutes: use it only for ratios.
    """
    body = body_of(piece)
    legs = course(Exposure((Segment(0.0, air_c, mode),)), step_for(body), _LONGEST_S)
    return follow(body, legs, (), target_c).reach_s


def mode_ratio(
    piece: Piece, before: tuple[ModeKey, float], after: tuple[ModeKey, float], target_c: float
) -> float | None:
    """How the time changes from one (mode, °C) to another; None when one never gets there."""
    old = model_time(piece, *before, target_c)
    new = model_time(piece, *after, target_c)
    return None if old is None or new is None else new / old
