"""How often each player failed of late."""

from collections import deque

LIMIT = 3
"""Failures of one player within `WINDOW` after which it is not used any more."""

WINDOW = 60.0
"""Seconds."""


class Faults:
    """Counts the failures of each player by name."""

    def __init__(self) -> None:
        self._times: dict[str, deque[float]] = {}

    def add(self, name: str, now: float) -> bool:
        """Count one failure at this instant; whether that is one too many.

        Args:
            name: of the player.
            now: seconds.
        """
        times = self._times.setdefault(name, deque())
        times.append(now)
        while times[0] < now - WINDOW:
            times.popleft()
        return len(times) >= LIMIT

    def forget(self) -> None:
        """Begin anew."""
        self._times.clear()
