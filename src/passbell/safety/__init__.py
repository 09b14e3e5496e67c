"""Temperatures: the verdict on a reading by published charts. Pure; knows no forecast.

Each is loaded when it is first used: the cook screen's cautions are plain text, and the models of
the charts would cost its first frame dearly.
"""

from typing import TYPE_CHECKING

from passbell.units.later import later

if TYPE_CHECKING:
    from passbell.safety.chart import chart_rows, falls_short, minimum_text, rest_asked
    from passbell.safety.foods import is_perishable, is_raw_meat, known_foods, nearest_food
    from passbell.safety.meat_words import names_meat
    from passbell.safety.model import Flag, Place, Verdict, Word, rank
    from passbell.safety.reading import Reading, Setup, Typed, parse_reading
    from passbell.safety.verdict import judge

__all__ = [
    "Flag",
    "Place",
    "Reading",
    "Setup",
    "Typed",
    "Verdict",
    "Word",
    "chart_rows",
    "falls_short",
    "is_perishable",
    "is_raw_meat",
    "judge",
    "known_foods",
    "minimum_text",
    "names_meat",
    "nearest_food",
    "parse_reading",
    "rank",
    "rest_asked",
]

_HOMES = {
    "Flag": "model",
    "Place": "model",
    "Reading": "reading",
    "Setup": "reading",
    "Typed": "reading",
    "Verdict": "model",
    "Word": "model",
    "chart_rows": "chart",
    "falls_short": "chart",
    "is_perishable": "foods",
    "is_raw_meat": "foods",
    "judge": "verdict",
    "known_foods": "foods",
    "minimum_text": "chart",
    "names_meat": "meat_words",
    "nearest_food": "foods",
    "parse_reading": "reading",
    "rank": "model",
    "rest_asked": "chart",
}

__getattr__ = later(__name__, _HOMES)
