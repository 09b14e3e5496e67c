"""How far the core still rises after it left the heat: the same body in room air."""

from dataclasses import dataclass, replace

from passbell.heat.course import Body, course, step_for
from passbell.heat.journey import core_track
from passbell.heat.model import Exposure, Segment

_MOST_S = 5400.0
_PEAK_SHARE = 0.3


@dataclass(frozen=True, slots=True)
class Rise:
    """What happens after taking out. A reminder to probe, never a pass.

    Attributes:
        kelvin: how far the core rises.
        peak_s: how long after taking out it peaks, s.
    """

    kelvin: float
    peak_s: float


def taken_out(exposure: Exposure, at_s: float) -> Exposure:
    """The exposure of food that leaves the heat at `at_s` for a plate in the room."""
    before = tuple(s for s in exposure.segments if s.at_s < at_s)
    out = Segment(at_s, exposure.room_c, "rest")
    return replace(exposure, segments=(*before, out))


def rise_after(body: Body, exposure: Exposure, at_s: float) -> Rise:
    """The rise of the core when it is taken out at `at_s` seconds.

    The piece peaks within 0.3 L²/α or is given 90 minutes.
    """
    window = min(_MOST_S, 600 + _PEAK_SHARE * body.half_m**2 / body.alpha)
    legs = course(taken_out(exposure, at_s), step_for(body), at_s + window)
    after = [(at, core) for at, core in core_track(body, legs) if at >= at_s - 1e-6]
    peak_at, peak = max(after, key=lambda pair: pair[1])
    return Rise(peak - after[0][1], peak_at - at_s)
