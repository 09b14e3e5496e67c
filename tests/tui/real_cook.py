"""A bundled plan really cooked on a clock moved by hand, up to the moment a picture is wanted."""

from collections.abc import Callable

from passbell.clock import HandClock
from passbell.cook.cards import first_cue, is_due
from passbell.cook.commands import Done
from passbell.cook.cue import Cue
from passbell.cook.state import CookState
from passbell.cook.wake import next_wake
from passbell.library import find_plan
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

    def to(self, wanted: Callable[[Cue], bool], before: int = 0) -> "RealCook":
        """Cook until such a cue is the first that is due, or is due in so many seconds."""
        while (cue := self._next()) is not None and not (wanted(cue) and is_due(self.state, cue)):
            if wanted(cue) and before and cue.at - self.session.now() <= before:
                break
            wake = min(next_wake(self.state) or cue.at, cue.at - before if wanted(cue) else cue.at)
            self._move(max(1, wake - self.session.now()))
            while (first := self._next()) and is_due(self.state, first) and not wanted(first):
                self._do(first)
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
        if cue.key.kind == "probe":
            for piece in (1, 2):
                assert self.desk.enter(f"{piece} 168")
        else:
            self.session.tell(Done(cue=cue.key.id))
        self.desk.tick()
