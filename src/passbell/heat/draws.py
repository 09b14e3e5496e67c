"""Fixed draws: a Halton sequence turned into normals, the same in every run."""

from functools import cache
from statistics import NormalDist

BASES = (2, 3, 5, 7, 11)
"""One prime for each unknown."""

_SKIP = 20


def radical_inverse(index: int, base: int) -> float:
    """The index mirrored at the radix point, between 0 and 1 (Halton 1960)."""
    value, scale = 0.0, 1.0 / base
    while index:
        index, digit = divmod(index, base)
        value += digit * scale
        scale /= base
    return value


@cache
def normals(count: int) -> tuple[tuple[float, ...], ...]:
    """`count` draws of independent standard normals, one an unknown, with their mirror images.

    Mirror images make the mean exactly 0.
    """
    bend = NormalDist().inv_cdf
    half = [
        tuple(bend(radical_inverse(i + _SKIP, base)) for base in BASES)
        for i in range((count + 1) // 2)
    ]
    mirrored = [tuple(-x for x in draw) for draw in half]
    return tuple(draw for pair in zip(half, mirrored, strict=True) for draw in pair)[:count]


def weighted_quantile(pairs: list[tuple[float, float]], share: float) -> float:
    """The value below which a share of the weight lies.

    Args:
        pairs: (value, weight); values may be infinite.
        share: between 0 and 1.
    """
    ordered = sorted(pairs)
    wanted = share * sum(weight for _, weight in ordered)
    passed, last = 0.0, None
    for value, weight in ordered:
        middle = passed + weight / 2
        if middle >= wanted:
            return _between(last, (middle, value), wanted)
        passed, last = passed + weight, (middle, value)
    return ordered[-1][0]


def _between(low: tuple[float, float] | None, high: tuple[float, float], wanted: float) -> float:
    if low is None or high[1] == float("inf"):
        return high[1]
    share = (wanted - low[0]) / (high[0] - low[0])
    return low[1] + share * (high[1] - low[1])
