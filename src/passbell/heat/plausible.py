"""Readings that cannot be quite true, named. They are kept, and make the forecast less sure."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from passbell.heat.model import Odd, Reading

_LOWEST_C, _HIGHEST_C = -30.0, 100.0
_FALL_K = 2.0
_SLIP_K = 25.0
_FLAT_K = 0.3
_FLAT_EXPECTED_K = 3.0
_JUMP_FACTOR, _JUMP_SLACK_K, _JUMP_FROM_K = 3.0, 4.0, 8.0


def believed(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """The readings of one piece that count, in order of time: no impossible one, and no slip."""
    kept = [r for r in readings if possible(r)]
    return tuple(r for place, r in enumerate(kept) if not _slipped(kept, place))


def _slipped(kept: Sequence[Reading], place: int) -> bool:
    """Whether a reading is so far below those before and after it that no colder spot is.

    Our limit, 25 K: the middle of a thick roast and its edge differ by less from one minute to
    the next, and who finds the middle cold reads it again.
    """
    if not 0 < place < len(kept) - 1:
        return False
    before, here, after = (r.temp_c for r in kept[place - 1 : place + 2])
    return min(before, after) - here > _SLIP_K and after >= before - _FALL_K


def possible(reading: Reading) -> bool:
    """Whether food can have this temperature at all (-30 to 100 °C)."""
    return _LOWEST_C <= reading.temp_c <= _HIGHEST_C


def odd_readings(readings: Sequence[Reading], start_c: float) -> tuple[Odd, ...]:
    """What is odd about the readings of one piece, in order of time.

    Our limits: a fall of more than 2 K (a thermometer's scatter), a rise of more than three times
    the mean rate so far, no rise where 3 K were due.
    """
    kept = believed(readings)
    odd = [_impossible(r) for r in readings if not possible(r)]
    odd += [_slip(r) for r in readings if possible(r) and r not in kept]
    for before, after in pairwise(kept):
        odd += _between(before, after, start_c)
    return tuple(sorted(odd, key=lambda one: one.at_s))


def _impossible(reading: Reading) -> Odd:
    how = "hot" if reading.temp_c > _LOWEST_C else "cold"
    return Odd(
        "impossible",
        reading.at_s,
        f"no food is that {how} inside: look at the unit and the tip. It is left out.",
    )


def _slip(reading: Reading) -> Odd:
    return Odd(
        "slip",
        reading.at_s,
        "far below the readings before and after it: mistyped? It is left out.",
    )


def _between(before: Reading, after: Reading, start_c: float) -> Iterator[Odd]:
    rise, seconds = after.temp_c - before.temp_c, after.at_s - before.at_s
    risen = before.temp_c - start_c
    due = risen / before.at_s * seconds if before.at_s > 0 else 0.0
    if rise < -_FALL_K:
        yield Odd(
            "falling",
            after.at_s,
            "the reading has fallen: probably another spot. Both count, follow the colder one.",
        )
    elif abs(rise) <= _FLAT_K and due > _FLAT_EXPECTED_K:
        yield Odd(
            "flat",
            after.at_s,
            "the reading has not moved: at its limit, or out of the food? Look at the tip and "
            "probe again.",
        )
    elif risen > _JUMP_FROM_K and rise > _JUMP_FACTOR * due + _JUMP_SLACK_K:
        yield Odd(
            "jumping",
            after.at_s,
            "the reading has jumped: tip near the surface or the pan? Probe the thickest part "
            "again.",
        )


def outside(reading: Reading, *, hotter: bool) -> Odd:
    """A reading that the forecast before it held for very unlikely (outside its 95 % band).

    Args:
        reading: the reading.
        hotter: whether the food is nearer its target by it than was expected.
    """
    if hotter:
        return Odd(
            "hotter",
            reading.at_s,
            "hotter than it can well be yet: tip near the surface, the bone or the pan? Probe the "
            "thickest part again.",
        )
    return Odd(
        "outside",
        reading.at_s,
        "the reading was not expected: another spot or oven setting? The forecast is less sure "
        "now.",
    )
