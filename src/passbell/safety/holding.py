"""Rows of pairs: hot enough, for long enough, with a second reading at the end."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from passbell.safety.exact import exact
from passbell.safety.point import Point, run
from passbell.safety.table import Row

Pair = tuple[float, int]


@dataclass(frozen=True, slots=True)
class Held:
    """How far a hold has come.

    Attributes:
        done: whether every place was read again in time.
        pair: the pair that was held, or is to be.
        since: when the hold began.
        until: when every place is to be read again; once done, when it was long enough.
        margin: how far the lowest latest reading is above the pair's temperature.
    """

    done: bool
    pair: Pair
    since: int
    until: int
    margin: Fraction


def held(row: Row, places: Sequence[Sequence[Point]]) -> Held:
    """Judge readings that are all at or above the coldest pair.

    A pair is held when each place has a reading at or above its temperature, another at least its
    seconds later, and no lower one between or since. Until one is, the hottest pair not above the
    lowest latest reading is asked for; nothing is interpolated.

    Args:
        row: a row with pairs.
        places: the readings of each place in order, none empty.
    """
    reached = [pair for pair in row.pairs if _margin(row, pair, places) >= 0]
    tried = [_held(row, pair, places) for pair in reached]
    done = [one for one in tried if one.done]
    return max(done, key=lambda one: one.margin) if done else tried[-1]


def _margin(row: Row, pair: Pair, places: Sequence[Sequence[Point]]) -> Fraction:
    return min(series[-1].over for series in places) - _step(row, pair)


def _step(row: Row, pair: Pair) -> Fraction:
    """How far a pair's temperature is above the coldest pair's, from which points count."""
    return exact(pair[0]) - exact(row.pairs[0][0])


def _held(row: Row, pair: Pair, places: Sequence[Sequence[Point]]) -> Held:
    seconds = pair[1]
    spans = [_span(run(series, _step(row, pair))) for series in places]
    waiting = [first for first, last in spans if last - first < seconds]
    since = max(waiting or [first for first, _ in spans])
    return Held(not waiting, pair, since, since + seconds, _margin(row, pair, places))


def _span(kept: Sequence[Point]) -> tuple[int, int]:
    return kept[0].reading.at, kept[-1].reading.at
