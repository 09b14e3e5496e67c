"""When to look again: late enough to learn something, early enough not to be too late.

The shares and seconds here are our choice, no source.
"""

from typing import Final

FIRST_SHARE: Final = 0.65
"""Without a reading, the share of the expected time at which to probe first."""

_EARLY_SHARE = 0.88
_SOONEST_S = 90.0
_WIDE_S = 150.0
_WIDE_SHARE = 0.25


def look_again(eta_s: float, low_s: float, high_s: float, *, read: bool) -> float:
    """Seconds until the next look.

    While the 80 % interval is wider than 2.5 min and a quarter of what remains, part of the way to
    its early end; else at its early end.

    Args:
        eta_s: expected seconds to the target.
        low_s: early end of the interval.
        high_s: late end; may be infinite.
        read: whether there has been a reading.
    """
    if not read:
        return FIRST_SHARE * eta_s
    if high_s - low_s > max(_WIDE_S, _WIDE_SHARE * eta_s):
        return min(max(_EARLY_SHARE * low_s, _SOONEST_S), eta_s)
    return low_s
