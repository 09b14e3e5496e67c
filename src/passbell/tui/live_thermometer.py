"""The thermometer looked at before the cook: in ice water, and in water that boils."""

import re

from passbell.safety.thermometer import Check, boiling_check, ice_check, parse_height
from passbell.units import Temperature, clean_text

_BOILING = re.compile(r"(.+?)\s+at\s+(.+)", re.IGNORECASE)


class ThermometerCheck:
    """What the thermometer showed.

    Attributes:
        ice: what it showed in ice water, which every verdict then reckons with; None: not checked.
    """

    def __init__(self) -> None:
        self.ice: Temperature | None = None
        self._checks: dict[str, Check] = {}
        self._height = ""

    def take(self, text: str) -> str:
        """Take what is typed: "33F" in ice water, "211F at 300 m" where water boils.

        Returns:
            What it says about the thermometer.

        Raises:
            UnitError: when it is no temperature, or no height.
        """
        boiling = _BOILING.fullmatch(clean_text(text))
        if boiling is None:
            shown = Temperature.parse(text)
            check = self._checks["ice"] = ice_check(shown)
            self.ice = shown
        else:
            check = boiling_check(Temperature.parse(boiling[1]), parse_height(boiling[2]))
            self._checks["boiling"], self._height = check, boiling[2]
        return check.words

    @property
    def words(self) -> str:
        """What was checked, in a few words."""
        ice = f"{self.ice} in ice water" if self.ice else "not checked in ice water"
        boiling = self._checks.get("boiling")
        return f"{ice}, {boiling.shown} boiling at {self._height}" if boiling else ice

    @property
    def problems(self) -> tuple[str, ...]:
        """What is wrong with it, in sentences."""
        return tuple(f"{c.words}." for c in self._checks.values() if c.trust != "fine")
