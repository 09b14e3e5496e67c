"""A bundled plan really cooked on a clock moved by hand, up to the moment a picture is wanted."""

from passbell.clock import HandClock
from passbell.cook.cards import first_cue, is_due
from passbell.cook.commands import Done
from passbell.cook.cue import Cue
from passbell.cook.state import CookState
from passbell.cook.wake import next_wake
from passbell.planfiles import find_plan
from passbell.session import CookSession
from passbell.tui.live import LiveDesk

HALF_PAST_FIVE = 1_800_034_200.0
"""In the afternoon of an invented day, in UTC."""


class RealCook:
    """The tray supper, done as it falls due, a few seconds late.

    Attributes:
        clock: moved by hand.
        session: the cook.
        desk: what its screen asks.
    """

    def __init__(self) -> None:
        self.clock = HandClock(utc=HALF_PAST_FIVE, awake=100.0)
        self.session = CookSession.begin(find_plan("tray-supper").plan, self.clock)
        self.desk = LiveDesk(self.session, None, lambda: self.clock.now().awake)
        self.desk.tick()

    def to(self, instant: int, probing: bool = True) -> "RealCook":
        """Cook to an engine instant.

        Args:
            instant: seconds since the start.
            probing: whether what is to be probed is; else its cue stays due.
        """
        while self.session.now() < instant:
            due = self._next()
            if due is not None and is_due(self.state, due) and (probing or not _looks(due)):
                self._do(due)
                continue
            wake = next_wake(self.state) or instant
            self._move(max(1, min(wake, instant) - self.session.now()))
        return self

    @property
    def state(self) -> CookState:
        """The state of the cook."""
        return self.session.state

    def _next(self) -> Cue | None:
        return first_cue(self.session.state)

    def _move(self, seconds: float) -> None:
        self.clock.move(seconds)
        self.desk.tick()

    def _do(self, cue: Cue) -> None:
        self._move(4)
        if _looks(cue):
            for piece in (1, 2):
                assert self.desk.enter(f"{piece} 168")
        else:
            self.session.tell(Done(cue=cue.key.id))
        self.desk.tick()


def _looks(cue: Cue) -> bool:
    return cue.key.kind == "probe"
