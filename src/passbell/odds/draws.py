"""Draws that depend on nothing but their names: the same seed gives the same kitchen everywhere.

There is no stream that one draw takes from another: each draw is a number mixed from a seed and
the names of what is drawn. So a changed plan meets the same luck in everything it left alone.
"""

from math import exp, log, sqrt
from statistics import NormalDist

_MASK = (1 << 64) - 1
_GOLDEN = 0x9E3779B97F4A7C15
_NORMAL = NormalDist()


def mixed(value: int) -> int:
    """64 bits mixed so that each depends on all (the finaliser of SplitMix64, from memory)."""
    value = (value ^ (value >> 30)) * 0xBF58476D1CE4E5B9 & _MASK
    value = (value ^ (value >> 27)) * 0x94D049BB133111EB & _MASK
    return value ^ (value >> 31)


def uniform(*names: int) -> float:
    """A number between 0 and 1, both excluded, that belongs to these names and no others."""
    state = 0
    for name in names:
        state = mixed((state + _GOLDEN + (name & _MASK)) & _MASK)
    return ((mixed(state) >> 11) + 0.5) / (1 << 53)


def lognormal(u: float, spread: float, passed: float = 0.0) -> float:
    """A factor on a time, mean 1, skewed to the long side.

    Args:
        u: between 0 and 1: which share of all factors is below this one.
        spread: standard deviation of the factor; 0: it is always 1.
        passed: the factor is known to be above this (what has passed of the time already).
    """
    if spread <= 0:
        return max(1.0, passed)
    variance = log(1 + spread * spread)
    sigma, middle = sqrt(variance), -variance / 2
    if passed > 0:
        below = _NORMAL.cdf((log(passed) - middle) / sigma)
        u = min(below + u * (1 - below), 1 - 1e-12)
    return max(passed, exp(middle + sigma * _NORMAL.inv_cdf(max(u, 1e-12))))


def gamma2(u: float, v: float, mean: float) -> float:
    """A time of this mean, skewed: a gamma of shape 2, the sum of two exponential times."""
    return -mean / 2 * (log(u) + log(v))
