"""The units of a kitchen: durations, temperatures, lengths, clock times, and clean text."""

from passbell.units.base import Frozen, UnitError
from passbell.units.clocktime import ClockTime
from passbell.units.duration import Duration
from passbell.units.length import Area, Length
from passbell.units.temperature import Temperature
from passbell.units.text import clean_text

__all__ = [
    "Area",
    "ClockTime",
    "Duration",
    "Frozen",
    "Length",
    "Temperature",
    "UnitError",
    "clean_text",
]
