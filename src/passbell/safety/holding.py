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


def held(row: Row, places: Sequence[Sequence[Point]], reheated: Sequence[int] = ()) -> Held:
    """Judge readings that are all at or above the coldest pair.

    A pair is held when each place has a reading at or above its temperature, another at least its
    seconds later, and no lower one between or since. Until one is, the hottest pair not above the
    lowest latest reading is asked for; nothing is interpolated. Two readings with time off the
    heat between them hold nothing, once it is heated again: meanwhile it may have cooled unseen.

    Args:
        row: a row with pairs.
        places: the readings of each place in order, none empty.
        reheated: when the food came back to heat after it had been without any, oldest first.
    """
    reached = [pair for pair in row.pairs if _margin(row, pair, places) >= 0]
    tried = [_held(row, pair, places, reheated) for pair in reached]
    done = [one for one in tried if one.done]
    return max(done, key=lambda one: one.margin) if done else tried[-1]


def _margin(row: Row, pair: Pair, places: Sequence[Sequence[Point]]) -> Fraction:
    return min(series[-1].over for series in places) - _step(row, pair)


def _step(row: Row, pair: Pair) -> Fraction:
    """How far a pair's temperature is above the coldest pair's, from which points count."""
    return exact(pair[0]) - exact(row.pairs[0][0])


def _held(row: Row, pair: Pair, places: Sequence[Sequence[Point]], reheated: Sequence[int]) -> Held:
    seconds = pair[1]
    spans = [_span(run(series, _step(row, pair)), seconds, reheated) for series in places]
    waiting = [first for first, last in spans if last - first < seconds]
    since = max(waiting or [first for first, _ in spans])
    return Held(not waiting, pair, since, since + seconds, _margin(row, pair, places))


def _span(kept: Sequence[Point], seconds: int, reheated: Sequence[int]) -> tuple[int, int]:
    """From when to when readings hold a place: a stretch long enough, else the one under way."""
    ats = [point.reading.at for point in kept]
    bounds = (ats[0], *(at for at in reheated if at > ats[0]))
    ends = (*bounds[1:], ats[-1] + 1)
    stretches = []
    for begin, end in zip(bounds, ends, strict=True):
        own = [at for at in ats if begin <= at < end] or [begin]
        stretches.append((own[0], own[-1]))
    enough = (span for span in stretches if span[1] - span[0] >= seconds)
    return next(enough, stretches[-1])
