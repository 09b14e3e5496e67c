"""The units of a kitchen: durations, temperatures, lengths, amounts, times, and clean text."""

from passbell.units.amount import Amount
from passbell.units.base import Frozen, UnitError
from passbell.units.clocktime import ClockTime
from passbell.units.duration import Duration
from passbell.units.length import Area, Length
from passbell.units.measure import measure, other_system, scaled_line, spelled
from passbell.units.number import NUMBER, number
from passbell.units.temperature import Temperature
from passbell.units.text import clean_paragraphs, clean_text, quoted

__all__ = [
    "NUMBER",
    "Amount",
    "Area",
    "ClockTime",
    "Duration",
    "Frozen",
    "Length",
    "Temperature",
    "UnitError",
    "clean_paragraphs",
    "clean_text",
    "measure",
    "number",
    "other_system",
    "quoted",
    "scaled_line",
    "spelled",
]
