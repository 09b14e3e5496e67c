"""The units of a kitchen: durations, temperatures, lengths, amounts, times, and clean text.

Each is loaded when it is first used: the screen needs clean text only, and the models behind the
units would cost it a third of the time to its first frame.
"""

from typing import TYPE_CHECKING

from passbell.units.later import later

if TYPE_CHECKING:
    from passbell.units.amount import Amount
    from passbell.units.base import Frozen, UnitError
    from passbell.units.clocktime import ClockTime
    from passbell.units.duration import Duration
    from passbell.units.length import Area, Length
    from passbell.units.measure import other_system, scaled_line, spelled
    from passbell.units.mendable import MendableError
    from passbell.units.temperature import Temperature
    from passbell.units.text import clean_paragraphs, clean_text, quoted

__all__ = [
    "Amount",
    "Area",
    "ClockTime",
    "Duration",
    "Frozen",
    "Length",
    "MendableError",
    "Temperature",
    "UnitError",
    "clean_paragraphs",
    "clean_text",
    "other_system",
    "quoted",
    "scaled_line",
    "spelled",
]

_HOMES = {
    "Amount": "amount",
    "Area": "length",
    "ClockTime": "clocktime",
    "Duration": "duration",
    "Frozen": "base",
    "Length": "length",
    "MendableError": "mendable",
    "Temperature": "temperature",
    "UnitError": "base",
    "clean_paragraphs": "text",
    "clean_text": "text",
    "other_system": "measure",
    "quoted": "text",
    "scaled_line": "measure",
    "spelled": "measure",
}

__getattr__ = later(__name__, _HOMES)
