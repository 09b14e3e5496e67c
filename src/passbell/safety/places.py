"""Where a food is probed, and which reading belongs to which place."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from passbell.safety.chart import ChartRow
from passbell.safety.reading import Reading, Setup
from passbell.safety.shipped import table
from passbell.safety.table import NamedPlace


@dataclass(frozen=True, slots=True)
class Track:
    """One place and what was read there.

    Attributes:
        label: its name on the screen; "2" is the second of places without names.
        wanted: whether the food asks for it; a place probed besides is judged all the same.
        series: its readings in the order they were taken.
    """

    label: str
    wanted: bool
    series: tuple[Reading, ...]


def wanted_places(rows: Sequence[ChartRow], setup: Setup) -> tuple[str, ...]:
    """The places to probe, in the order they count from 1; numbers where they have no names.

    `setup.spots` stands for the food's own number of spots; every piece is probed all the same.
    A row asks for pieces × spots where every piece is probed, else for the larger of the two; of
    several rows the one that asks for most decides. A whole bird and stuffed meat have named
    places by every chart. A general name ("thickest meat") gives way to a nearer one.
    """
    names = _named(row.food for row in rows)
    names = names[: setup.spots]
    count = max((_count(row, setup) for row in rows), default=setup.spots or 1)
    return names + tuple(str(n) for n in range(len(names) + 1, count + 1))


def _count(chosen: ChartRow, setup: Setup) -> int:
    own = max(chosen.row.spots, len(table().foods[chosen.food].places))
    spots = own if setup.spots is None else setup.spots
    return setup.pieces * spots if chosen.row.each_piece else max(setup.pieces, spots)


def _named(foods: Iterable[str]) -> tuple[str, ...]:
    names = [n for food in dict.fromkeys(foods) for n in table().foods[food].places]
    near = [_place(name).words for name in names]
    kept = (n for n in names if not any(words & _place(n).also for words in near))
    return tuple(dict.fromkeys(kept))


@lru_cache(maxsize=256)
def _place(label: str) -> NamedPlace:
    named = (place for place in table().places if place.name == label)
    return next(named, NamedPlace(name=label, words=frozenset()))


def tracks(wanted: Sequence[str], readings: Iterable[Reading]) -> tuple[Track, ...]:
    """The readings sorted into places: the wanted ones first, in order, then any others.

    A number names the place of that number, a name the place of that name; where the places have
    no names, a new name takes the first place not yet read. A bare reading fills the first place
    not yet read. When all are read it is a second reading of the place read longest ago, or, when
    that was at the same instant, of one place more. Which place a reading belongs to never
    depends on what it shows, so a colder reading can never make a verdict better.
    """
    board = _Board(wanted)
    for reading in sorted(readings, key=lambda r: r.at):
        board.put(reading)
    return tuple(
        Track(label, index < len(wanted), tuple(series))
        for index, (label, series) in enumerate(zip(board.labels, board.series, strict=True))
    )


@dataclass(slots=True)
class _Board:
    """The places while readings are being sorted into them."""

    wanted: Sequence[str]
    labels: list[str] = field(init=False)
    series: list[list[Reading]] = field(init=False)
    where: dict[str, int] = field(init=False)

    def __post_init__(self) -> None:
        self.labels = list(self.wanted)
        self.series = [[] for _ in self.wanted]
        self.where = {w: n for n, label in enumerate(self.wanted) for w in _exact_words(label)}
        self.where |= {str(n + 1): n for n in range(len(self.wanted))}

    def put(self, reading: Reading) -> None:
        """Add a reading to its place."""
        name = reading.place
        index = self._bare(reading.at) if name is None else self._by_name(name)
        self.series[index].append(reading)

    def _bare(self, at: int) -> int:
        empty = self._unread()
        if empty:
            return empty[0]
        oldest = min(range(len(self.series)), key=lambda i: self.series[i][-1].at)
        return oldest if self.series[oldest][-1].at < at else self._besides(self._next_number())

    def _by_name(self, name: str) -> int:
        key = name.casefold()
        if key not in self.where:
            return self._stand_in(name, key)
        index = self.where[key]
        if index < len(self.wanted) and not key.isdecimal() and not self.series[index]:
            self.labels[index] = name
        return index

    def _stand_in(self, name: str, key: str) -> int:
        """A new name: it takes an unread place it may stand in for, else is one place more."""
        free = () if key.isdecimal() else self._unread()
        for index in free:
            if _may_stand_in(key, self.wanted[index]):
                self._take_over(index, name, key)
                return index
        return self._besides(name)

    def _take_over(self, index: int, name: str, key: str) -> None:
        # The place's own words go: "thigh" typed after "left thigh" is another place, and must
        # not put its reading over the first.
        self.where = {k: i for k, i in self.where.items() if i != index or k.isdecimal()}
        self.where[key] = index
        self.labels[index] = name

    def _unread(self) -> list[int]:
        return [i for i in range(len(self.wanted)) if not self.series[i]]

    def _besides(self, name: str) -> int:
        self.labels.append(name)
        self.series.append([])
        self.where[name.casefold()] = len(self.series) - 1
        return len(self.series) - 1

    def _next_number(self) -> str:
        number = len(self.series) + 1
        while str(number) in self.where:
            number += 1
        return str(number)


def number_of(text: str, wanted: Sequence[str]) -> int | None:
    """Which of the wanted places, counted from 1, a name names exactly; None: none of them."""
    key = text.casefold()
    named = (n for n, label in enumerate(wanted, 1) if not label.isdecimal())
    return next((n for n in named if key in _exact_words(wanted[n - 1])), None)


def _exact_words(label: str) -> frozenset[str]:
    return _place(label).words | {label.casefold()}


def _may_stand_in(key: str, label: str) -> bool:
    place = _place(label)
    words = place.words | place.also
    return label.isdecimal() or not words.isdisjoint(key.split())
