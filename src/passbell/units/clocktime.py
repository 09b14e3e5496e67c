"""Clock times of a day, 24-hour, as a plan writes them."""

import re
from dataclasses import dataclass
from typing import Self

from passbell.units.base import UnitError, Written
from passbell.units.text import quoted

_TEXT = re.compile(r"\s*([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?\s*")
_MEND = 'write it as a quoted 24-hour time, for example "18:45"'


@dataclass(frozen=True, slots=True, order=True)
class ClockTime(Written):
    """A time of day, without a date or a zone."""

    hour: int
    minute: int
    second: int = 0
    _MEND = _MEND
    _BARE = "is not a time of day"

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read "18:45" or "18:45:30".

        Raises:
            UnitError: when it is no time of day.
        """
        match = _TEXT.fullmatch(text)
        parts = [int(p or 0) for p in match.groups()] if match else [99]
        if match is None or parts[0] > 23 or parts[1] > 59 or parts[2] > 59:
            raise UnitError(f"{quoted(text)} is not a time of day", _MEND)
        return cls(*parts)

    @property
    def seconds(self) -> int:
        """Seconds since midnight."""
        return self.hour * 3600 + self.minute * 60 + self.second

    def __str__(self) -> str:
        tail = f":{self.second:02}" if self.second else ""
        return f"{self.hour:02}:{self.minute:02}{tail}"
