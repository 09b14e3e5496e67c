"""A verdict, and the order verdicts stand in."""

from dataclasses import dataclass
from typing import Literal

from passbell.safety.reading import Reading

Word = Literal["below", "incomplete", "met", "hold", "recheck", "no_figure"]
Flag = Literal["no_margin", "unit_question", "off_heat", "rest_broken"]
Reason = Literal["", "no_food", "plant", "unknown", "no_row", "no_centre"]

WORST_FIRST: tuple[Word, ...] = ("recheck", "below", "incomplete", "hold", "met", "no_figure")
"""Verdicts, worst first; `no_figure` stands only where nothing else does."""
FLAGS: tuple[Flag, ...] = ("no_margin", "unit_question", "off_heat", "rest_broken")
"""Flags in the order they are given."""

SIGNS: dict[Word, str] = {
    "recheck": "?",
    "below": "▼",
    "incomplete": "◔",
    "hold": "‖",
    "met": "■",
    "no_figure": "–",
}
"""A shape for each verdict, so that no verdict hangs on colour."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place to probe and what it says now.

    Attributes:
        label: its name; "2" is the second of places without names.
        wanted: whether the food asks for it.
        reading: the latest reading there; None: not yet read.
        text: that reading, corrected, as text ("144 °F"); empty: not yet read.
        under: whether that reading is under the minimum.
    """

    label: str
    wanted: bool
    reading: Reading | None = None
    text: str = ""
    under: bool = False

    @property
    def spoken(self) -> str:
        """Its name in a sentence: "place 2", "thickest breast"."""
        return spoken_place(self.label)


@dataclass(frozen=True, slots=True)
class Verdict:
    """What readings say by a chart. Instants are whole seconds of the cook.

    Attributes:
        verdict: the word.
        chart: key of the chart that decided ("strictest" where none prints a figure).
        chart_name: its name.
        sentence: what the readings say, in one line.
        flags: in the order of `FLAGS`.
        reason: why there is no figure; empty for every other word.
        minimum: as the chart prints it, "145 °F" or "70 °C for 2 min"; None: no figure.
        row: key of its row; None: no row.
        row_name: that row in words; empty: no row.
        covers: what else the row says of the food it is for; may be empty.
        general: whether it is the chart's general row.
        rest_s: seconds of rest the chart asks for, once the verdict is `met`; else 0.
        rest_from: when that rest began; None: the food is on the heat, or there is no rest.
        rest_until: when it is over; None likewise.
        hold_s: seconds to hold, for `hold`; else None.
        hold_until: when every place is to be read again; None likewise.
        spots_missing: how many wanted places have no reading.
        places: the wanted places in order, then any others that were read.
        lowest: the place that governs; None: no reading.
        below_by: how far under the minimum it is, in the unit it was taken in; None: it is not.
        next_place: label of the place to read next; None: nothing more is asked for.
        look_again_s: seconds after which to look again where no forecast says better (ours).
        advice: what to do or know besides, a line each.
        beside: a line for each chart that sets no figure for this food or has no row for it.
    """

    verdict: Word
    chart: str
    chart_name: str
    sentence: str
    flags: tuple[Flag, ...] = ()
    reason: Reason = ""
    minimum: str | None = None
    row: str | None = None
    row_name: str = ""
    covers: str = ""
    general: bool = False
    rest_s: int = 0
    rest_from: int | None = None
    rest_until: int | None = None
    hold_s: int | None = None
    hold_until: int | None = None
    spots_missing: int = 0
    places: tuple[Place, ...] = ()
    lowest: Place | None = None
    below_by: str | None = None
    next_place: str | None = None
    look_again_s: int | None = None
    advice: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()

    @property
    def sign(self) -> str:
        """The shape that stands for the word."""
        return SIGNS[self.verdict]

    def as_json(self) -> dict[str, object]:
        """The figures other programs rely on, as plain data."""
        low = self.lowest
        return {
            "verdict": self.verdict,
            "flags": list(self.flags),
            "minimum": self.minimum,
            "chart": self.chart,
            "rest_s": self.rest_s,
            "hold_s": self.hold_s,
            "spots_missing": self.spots_missing,
            "lowest": None if low is None else {"spot": low.label, "reading": low.text},
        }


def rank(word: Word) -> int:
    """Place of a verdict in the order, 0 the worst."""
    return WORST_FIRST.index(word)


def spoken_place(label: str) -> str:
    """A place's name in a sentence: "place 2", "place a", "thickest breast"."""
    return f"place {label}" if label.isdecimal() or len(label) == 1 else label
