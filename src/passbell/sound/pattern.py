"""When an alarm rings and with which sound. Rules only: no clock is read here.

The sound process loads this, so its values are named tuples: dataclasses would cost it a third of
its start and a megabyte.

A cue rings when it is due, every 25 s after that, and from a minute past due as *late*, twice as
often, until it is acknowledged. Urgency is speed: the first ring is slow, the second quicker, all
others quickest. *Soon* is a hint and rings once.
"""

import math
from typing import Literal, NamedTuple, get_args

Kind = Literal["late", "probe", "do_it", "soon"]
"""The four rhythms: *late*, *probe or check*, *do it*, *soon*."""

KINDS: tuple[Kind, ...] = get_args(Kind)
"""Every kind, the most pressing first."""

SPEEDS = (1, 2, 3)
"""Urgency, slow to quick; a sound file is named kind and speed, as in `do_it_2.wav`."""

REPEAT = 25.0
"""Seconds from one ring of a cue to the next."""

LATE_AFTER = 60.0
"""Seconds past due from which a cue rings as late."""

LATE_REPEAT = 12.5
"""Seconds from one ring of a late cue to the next."""

SOON_AGAIN = 59.0
"""Seconds that always lie between two *soon* of one cue: one whose time moves on with something
overdue would be told every few seconds; one that is put off a minute is told again."""

SHORTEST_GAP = 5.0
"""Seconds that always lie between two rings of one cue, whatever made the first one late."""

_ROUNDING = 0.001  # instants are sums of floats: a ring on its second must not count as before it


class Alarm(NamedTuple):
    """A cue that is to be heard.

    Attributes:
        id: tells it from every other alarm; the same id again means the alarm was moved.
        kind: its rhythm while it is not yet late.
        at: when it is due, in seconds on the clock that counts sleep.
    """

    id: str
    kind: Kind
    at: float


class Ring(NamedTuple):
    """One ring of an alarm: when (seconds on the clock of the alarm) and how."""

    at: float
    kind: Kind
    speed: int

    @property
    def wav(self) -> str:
        """The name of its sound, without ".wav"."""
        return f"{self.kind}_{self.speed}"


def next_ring(alarm: Alarm, after: float | None = None) -> Ring | None:
    """The first ring of an alarm, or the first one after a given instant.

    Args:
        alarm: the alarm.
        after: seconds on the clock of the alarm, as a rule when it rang last; None: it never did.

    Returns:
        The ring, at the earliest `SHORTEST_GAP` after `after` (a *soon* `SOON_AGAIN`); None when
        there is none.
    """
    again = SOON_AGAIN if alarm.kind == "soon" else SHORTEST_GAP
    if after is None or after < alarm.at - again:
        return _ring(alarm, alarm.at)
    if alarm.kind == "soon":
        return None
    return _ring(alarm, alarm.at + _offset_after(after - alarm.at + SHORTEST_GAP - _ROUNDING))


def ring_due(alarm: Alarm, rung: float | None, now: float) -> Ring | None:
    """The ring an alarm owes at this instant, all the missed ones taken as one.

    After a sleep of the computer a cue thus rings once, with the urgency it has by now; a *soon*
    that was missed by a minute is owed no more, since its cue itself is due.

    Args:
        alarm: the alarm.
        rung: when it rang last, None if never.
        now: this instant; all in seconds on one clock.
    """
    ring = next_ring(alarm, rung)
    if ring is None or ring.at > now or pointless(alarm, now):
        return None
    return _ring(alarm, now)


def pointless(alarm: Alarm, now: float) -> bool:
    """Whether a *soon* comes too late to be one, because its cue itself is due by now."""
    return alarm.kind == "soon" and now >= alarm.at + LATE_AFTER


def silenced(kind: Kind, now: float, quiet_until: float) -> bool:
    """Whether a ring waits for the end of a quiet time: *late* and *probe* never do."""
    return now < quiet_until and kind in {"do_it", "soon"}


def audible_from(alarm: Alarm, ring: Ring, quiet_until: float) -> float:
    """When a ring can be heard: at once, or after the quiet time, or when its cue gets late."""
    if not silenced(ring.kind, ring.at, quiet_until):
        return ring.at
    late = math.inf if alarm.kind == "soon" else alarm.at + LATE_AFTER
    return min(quiet_until, late)


def _ring(alarm: Alarm, at: float) -> Ring:
    age = at - alarm.at + _ROUNDING
    if alarm.kind == "soon":
        return Ring(at, "soon", SPEEDS[0])
    speed = min(SPEEDS[0] + int(max(age, 0.0) // REPEAT), SPEEDS[-1])
    return Ring(at, "late" if age >= LATE_AFTER else alarm.kind, speed)


def _offset_after(age: float) -> float:
    if age < LATE_AFTER:
        return min(REPEAT * (math.floor(age / REPEAT) + 1), LATE_AFTER)
    return LATE_AFTER + LATE_REPEAT * (math.floor((age - LATE_AFTER) / LATE_REPEAT) + 1)
