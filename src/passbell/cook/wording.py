"""How lengths of time and wanted temperatures are said."""

from typing import TYPE_CHECKING

from passbell.units.spoken import spoken

if TYPE_CHECKING:  # the screen's widgets count minutes too, and no model is loaded for that
    from passbell.units import Temperature
    from passbell.units.temperature import Scale

__all__ = ["TOLD_FROM", "later", "minutes", "spoken", "to_the_minute", "until_words"]


def minutes(seconds: int) -> str:
    """A countdown: "9:41", "1:05:00"; negative with a minus sign."""
    sign, seconds = ("-" if seconds < 0 else ""), abs(seconds)
    hours, rest = divmod(seconds, 3600)
    if hours:
        return f"{sign}{hours}:{rest // 60:02}:{rest % 60:02}"
    return f"{sign}{rest // 60}:{rest % 60:02}"


TOLD_FROM = 30
"""A change or a wait is put into words from so many seconds on, and then in whole minutes."""


def later(seconds: int) -> str:
    """A change of time in words: "3 min later", "40 s earlier", "unchanged"."""
    if not seconds:
        return "unchanged"
    return f"{spoken(seconds)} {'later' if seconds > 0 else 'earlier'}"


def to_the_minute(seconds: int) -> int:
    """Seconds to the nearest minute, as a cook counts a change; half a minute is one."""
    whole = (abs(seconds) + TOLD_FROM) // 60 * 60
    return whole if seconds > 0 else -whole


def until_words(until: "Temperature", scale: "Scale") -> str:
    """A wanted temperature as her thermometer shows it, and as the plan wrote it where it differs.

    "until 167 °F (75 °C)".
    """
    if until.scale == scale:
        return f"until {until}"
    return f"until {until.at_least_in(scale)} ({until})"
