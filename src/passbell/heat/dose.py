"""Share cooked of things without a probe: the heat the core has had, against the plan's.

Softening of vegetables goes ten times as fast for every z degrees (z about 25 °C; published 15 to
49 by vegetable). The dose is the integral of 10^((T_core - 100)/z). The plan's own time, as
written, says how much dose counts as done. The dose comes late, so it is no progress bar.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Final

from passbell.heat.course import body_of, course, step_for
from passbell.heat.journey import core_track
from passbell.heat.model import Exposure, Piece, PlanTime

Z_K: Final = 25.0
"""How many degrees make softening ten times as fast."""

BOILING_CAP_C: Final = 104.0
"""A vegetable's surface is held near boiling by its own water, °C."""

OVERDONE: Final = 2.0
"""From this share on the texture suffers (our figure)."""


@dataclass(frozen=True, slots=True)
class Cooked:
    """How far a vegetable is.

    Attributes:
        share: of the dose that counts as done; 1 is done as the plan means it.
        over_s: how long ago the share reached 1, s; negative: how long until then, if nothing
            changes; None: not within twice the time so far and the plan's.
        words: for the screen.
    """

    share: float
    over_s: int | None
    words: str


def dose(piece: Piece, exposure: Exposure, until_s: float, z: float = Z_K) -> float:
    """The dose at the core, in seconds at 100 °C, after `until_s` seconds."""
    return _doses(piece, exposure, until_s, z)[-1][1]


@lru_cache(maxsize=128)
def _doses(
    piece: Piece, exposure: Exposure, until_s: float, z: float
) -> tuple[tuple[float, float], ...]:
    body = replace(body_of(piece), ceiling_c=BOILING_CAP_C)
    track = core_track(body, course(exposure, step_for(body), until_s))
    total, doses = 0.0, [(0.0, 0.0)]
    for (t0, c0), (t1, c1) in pairwise(track):
        total += (t1 - t0) * (10 ** ((c0 - 100) / z) + 10 ** ((c1 - 100) / z)) / 2
        doses.append((t1, total))
    return tuple(doses)


def share_cooked(
    piece: Piece, exposure: Exposure, now_s: float, tested: PlanTime, z: float = Z_K
) -> Cooked:
    """Share cooked after any history, against the plan as written.

    Args:
        piece: the food as written.
        exposure: what it really met; its last segment is taken to go on.
        now_s: seconds since going in.
        tested: the plan's time and, where it differs, the plan's exposure.
        z: degrees for a factor of ten.
    """
    wanted = dose(piece, tested.exposure or exposure, tested.time_s, z)
    doses = _doses(piece, exposure, _horizon(max(now_s, tested.time_s)), z)
    share = _at(doses, now_s) / wanted
    done = next((t for t, d in doses if d >= wanted), None)
    over = None if done is None else round(now_s - done)
    return Cooked(share, over, share_words(share, over))


def _horizon(seconds: float) -> float:
    """Far enough to see the end, in steps of a factor of two: the curve is kept meanwhile."""
    return float(2 ** math.ceil(math.log2(max(2.0 * seconds, 1.0))))


def _at(doses: Sequence[tuple[float, float]], now_s: float) -> float:
    for (t0, d0), (t1, d1) in pairwise(doses):
        if now_s <= t1:
            return d0 + (d1 - d0) * (now_s - t0) / (t1 - t0) if t1 > t0 else d1
    return doses[-1][1]


def share_words(share: float, over_s: int | None) -> str:
    """What to say: minutes, and from twice the dose on that the texture will suffer."""
    if share >= OVERDONE:
        return "over: texture will suffer"
    minutes = 0 if over_s is None else round(abs(over_s) / 60)
    if share >= 1 and minutes:
        return f"{minutes} min over"
    if over_s is None:
        return "not there yet"
    return f"done in {minutes} min" if minutes else "about now"
