"""Temperatures: the verdict on a reading by published charts. Pure; knows no forecast."""

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
