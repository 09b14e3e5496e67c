"""The rest a chart asks for: when it begins, and what breaks it."""

from collections.abc import Sequence
from dataclasses import dataclass

from passbell.safety.point import Point, run
from passbell.safety.reading import Setup


@dataclass(frozen=True, slots=True)
class Series:
    """The readings of one place against one row.

    Attributes:
        label: the place.
        wanted: whether the food asks for it.
        points: in the order they were taken.
    """

    label: str
    wanted: bool
    points: tuple[Point, ...]

    @property
    def decides(self) -> bool:
        """Whether it bears on when the minimum was reached.

        A place probed besides that was never under it does not: it only confirms.
        """
        return self.wanted or any(point.under for point in self.points)


def reached_at(places: Sequence[Series]) -> int:
    """The instant of the reading that made every place qualify; all of them do."""
    return max(run(place.points)[0].reading.at for place in places if place.decides)


def only_off_heat(places: Sequence[Series]) -> bool:
    """Whether some place reached the minimum only in readings taken off the heat."""
    runs = (run(place.points) for place in places if place.decides)
    return any(all(point.reading.off_heat for point in kept) for kept in runs)


@dataclass(frozen=True, slots=True)
class History:
    """What became of earlier rests.

    Attributes:
        broken: a reading under the minimum ended the rest, and none has begun since.
        again: a rest was broken and another has begun.
    """

    broken: bool = False
    again: bool = False


def history(places: Sequence[Series], setup: Setup, rest_s: int) -> History:
    """Go through the readings in the order they were taken.

    A rest begins when every wanted place qualifies and the food has left the heat, whichever is
    later. A reading under the minimum, taken off the heat before the rest is over and before the
    food is cut, breaks it.

    Args:
        places: the places and their readings.
        setup: when the food left the heat and when it was cut.
        rest_s: seconds of rest the chart asks for.
    """
    if setup.removed_at is None or not rest_s:
        return History()
    deciding = {index for index, place in enumerate(places) if place.wanted}
    since: dict[int, int] = {}
    found = History()
    for point, index in _in_time(places):
        if point.under:
            start = _began(deciding, since, setup.removed_at)
            if start is not None and _breaks(point, start, start + rest_s, setup.cut_at):
                found = History(broken=True)
            since.pop(index, None)
            deciding.add(index)
        elif not point.impossible:
            since.setdefault(index, point.reading.at)
            if found.broken and deciding <= since.keys():
                found = History(again=True)
    return found


def _in_time(places: Sequence[Series]) -> list[tuple[Point, int]]:
    pairs = [(point, index) for index, place in enumerate(places) for point in place.points]
    return sorted(pairs, key=lambda pair: pair[0].reading.at)


def _began(deciding: set[int], since: dict[int, int], removed_at: int) -> int | None:
    if not deciding <= since.keys():
        return None
    return max(removed_at, *(since[index] for index in deciding))


def _breaks(point: Point, start: int, end: int, cut_at: int | None) -> bool:
    at = point.reading.at
    cut_before = cut_at is not None and start <= cut_at <= at
    return point.reading.off_heat and start <= at < end and not cut_before
