"""One row of one chart against all readings of a food."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from passbell.safety.chart import ChartRow, height
from passbell.safety.exact import exact
from passbell.safety.holding import Held, held
from passbell.safety.model import Flag, Word, rank
from passbell.safety.places import Track
from passbell.safety.point import Point, asks_unit, points
from passbell.safety.reading import Setup
from passbell.safety.resting import History, Series, history, only_off_heat, reached_at
from passbell.safety.shipped import table
from passbell.safety.thermometer import trust


@dataclass(frozen=True, slots=True)
class Weighed:
    """What one row says, before it is put in words.

    Attributes:
        chosen: the row.
        word: its verdict.
        flags: its flags.
        places: the readings of every place.
        missing: labels of wanted places without a reading.
        lowest: index of the place that governs; None: no reading.
        hold: the hold, for `hold` and for a `met` by pairs; else None.
        reached: the instant of the qualifying reading, for `met`; else None.
        past: earlier rests.
    """

    chosen: ChartRow
    word: Word
    flags: frozenset[Flag]
    places: tuple[Series, ...]
    missing: tuple[str, ...]
    lowest: int | None
    hold: Held | None
    reached: int | None
    past: History

    @property
    def severity(self) -> tuple[int, Fraction, int, int, str, str]:
        """To order rows by, the worst first: the word, the height of the minimum, what is missing.

        The rest is there so that the order in which charts are asked can change nothing.
        """
        hold = self.hold.pair[1] if self.hold else 0
        keys = (self.chosen.chart.key, self.chosen.row.key)
        return (rank(self.word), -height(self.chosen), -len(self.missing), -hold, *keys)

    @property
    def low(self) -> Point | None:
        """The latest reading of the place that governs."""
        return None if self.lowest is None else self.places[self.lowest].points[-1]


def weigh(chosen: ChartRow, tracks: Sequence[Track], setup: Setup) -> Weighed:
    """Judge the readings by one row that has a figure.

    The latest reading of each place counts and the lowest governs, measured from what the row
    prints in the unit of each reading.
    """
    places = tuple(Series(t.label, t.wanted, points(chosen, t.series, setup)) for t in tracks)
    missing = tuple(place.label for place in places if place.wanted and not place.points)
    latest = [place.points[-1] for place in places if place.points]
    past = history(places, setup, chosen.row.rest_min * 60)
    hold = None
    word = _blocked(latest, missing, setup)
    if word is None and chosen.row.pairs:
        hold = held(chosen.row, [place.points for place in places], setup.reheated)
        word = None if hold.done else "hold"
    flags = _early_flags(latest, past, setup)
    reached = None
    if word is None:
        reached = reached_at(places)
        flags |= _met_flags(places, latest, hold)
    return Weighed(
        chosen=chosen,
        word=word or "met",
        flags=frozenset(flags),
        places=places,
        missing=missing,
        lowest=_governing(places),
        hold=hold,
        reached=reached,
        past=past,
    )


def _blocked(latest: Sequence[Point], missing: Sequence[str], setup: Setup) -> Word | None:
    """The verdict that needs no further look; None: every place is at or above the minimum."""
    if trust(setup.ice) == "refuse" or any(point.impossible for point in latest):
        return "recheck"
    if any(point.under for point in latest):
        return "below"
    return "incomplete" if missing else None


def _early_flags(latest: Sequence[Point], past: History, setup: Setup) -> set[Flag]:
    asked = any(asks_unit(point.reading, setup) for point in latest)
    flags: set[Flag] = {"unit_question"} if asked else set()
    return flags | ({"rest_broken"} if past.broken else set())


def _met_flags(places: Sequence[Series], latest: Sequence[Point], hold: Held | None) -> set[Flag]:
    limits = table().thermometer
    margins = {"F": exact(limits.accuracy_f), "C": exact(limits.accuracy_c)}
    over = {p.unit: hold.margin for p in latest} if hold else {}
    close = any(over.get(p.unit, p.over) < margins[p.unit] for p in latest)
    flags: set[Flag] = {"no_margin"} if close else set()
    return flags | ({"off_heat"} if only_off_heat(places) else set())


def _governing(places: Sequence[Series]) -> int | None:
    read = [index for index, place in enumerate(places) if place.points]
    return min(read, key=lambda i: places[i].points[-1].over_c, default=None)
