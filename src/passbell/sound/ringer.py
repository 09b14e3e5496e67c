"""Which sound is to start now, for all alarms together. No clock is read here either.

The sound process rings by it, and the parent keeps one too, for the bell of the terminal.
"""

import math
from typing import NamedTuple

from passbell.sound.pattern import (
    KINDS,
    Alarm,
    Ring,
    audible_from,
    next_ring,
    pointless,
    ring_due,
    silenced,
)


class Turn(NamedTuple):
    """One sound to be started, and the alarms it rings for."""

    ring: Ring
    ids: tuple[str, ...]


class Ringer:
    """The alarms that are armed, when each rang last, and what is silenced.

    Attributes:
        alarms: what is armed, by id.
        muted: nothing rings while this is true; what was missed rings when it ends.
        quiet_until: until this instant only *late* and *probe* ring.
    """

    def __init__(self) -> None:
        self.alarms: dict[str, Alarm] = {}
        self.muted = False
        self.quiet_until = -math.inf
        self._rung: dict[str, float] = {}

    def arm(self, alarm: Alarm, rung: float | None = None) -> None:
        """Take an alarm in, or move the one of the same id.

        Args:
            alarm: the alarm.
            rung: when it rang last, if it did; a moved alarm has not rung yet.
        """
        self.cancel(alarm.id)
        self.alarms[alarm.id] = alarm
        if rung is not None:
            self._rung[alarm.id] = rung

    def cancel(self, alarm_id: str) -> None:
        """Forget an alarm; an unknown id is no error, it may have been cancelled before."""
        self.alarms.pop(alarm_id, None)
        self._rung.pop(alarm_id, None)

    def rung(self, alarm_id: str) -> float | None:
        """When the alarm rang last, None if it did not."""
        return self._rung.get(alarm_id)

    def note(self, alarm_id: str, at: float) -> None:
        """Note that an alarm rang elsewhere at this instant."""
        if alarm_id in self.alarms:
            self._rung[alarm_id] = at

    def take(self, now: float) -> Turn | None:
        """The sound to start now, or None; its alarms are noted as rung.

        Alarms of one kind share one sound. Of several kinds the most pressing comes first, and
        the next call gives the next.
        """
        past = (key for key, alarm in self.alarms.items() if pointless(alarm, now))
        self._rung.update(dict.fromkeys(past, now))
        owed = self._owed(now)
        if not owed:
            return None
        first = min(owed.values(), key=_rank)
        ids = tuple(key for key, ring in owed.items() if ring.kind == first.kind)
        self._rung.update(dict.fromkeys(ids, now))
        return Turn(first, ids)

    def wake(self) -> float | None:
        """The next instant at which `take` may give something, None if it never will."""
        if self.muted:
            return None
        rings = ((alarm, next_ring(alarm, self.rung(key))) for key, alarm in self.alarms.items())
        audible = (audible_from(alarm, ring, self.quiet_until) for alarm, ring in rings if ring)
        return min(audible, default=None)

    def _owed(self, now: float) -> dict[str, Ring]:
        if self.muted:
            return {}
        rings = {key: ring_due(alarm, self.rung(key), now) for key, alarm in self.alarms.items()}
        return {
            key: ring
            for key, ring in rings.items()
            if ring and not silenced(ring.kind, now, self.quiet_until)
        }


def _rank(ring: Ring) -> tuple[int, int]:
    return KINDS.index(ring.kind), -ring.speed
