"""A live desk over an invented meal, with a clock moved by hand."""

from typing import Any

from passbell.clock import HandClock
from passbell.cook.cards import first_cue, is_due
from passbell.cook.commands import Done
from passbell.cook.wake import next_wake
from passbell.session import CookSession
from passbell.session.outlooks import Outlooks
from passbell.tui.live import LiveDesk
from tests.cook.meals import TRAY, plan_of
from tests.cook.test_outlook import ROAST as CHOPS_AND_POTATOES


class Kitchen:
    """A desk with a clock moved by hand."""

    def __init__(self, data: dict[str, Any] = TRAY) -> None:
        self.clock = HandClock(utc=1_800_000_000.0, awake=100.0)
        self.session = CookSession.begin(plan_of(data), self.clock)
        self.desk = LiveDesk(self.session, None, lambda: self.clock.now().awake)
        self.view = self.desk.tick()

    def wait(self, seconds: float) -> "Kitchen":
        self.clock.move(seconds)
        self.view = self.desk.tick()
        return self

    def press(self, action: str, after: float = 1.0) -> "Kitchen":
        self.wait(after)
        self.desk.press(action)  # type: ignore[arg-type]
        self.view = self.desk.tick()
        return self

    def to(self, now: int) -> "Kitchen":
        """Let time pass to an engine instant, doing what falls due a second after it does."""
        while self.session.now() < now:
            wake = next_wake(self.session.state) or now
            self.clock.move(max(1, min(wake, now) - self.session.now()))
            self.session.tick()
            while (cue := first_cue(self.session.state)) and is_due(self.session.state, cue):
                self.clock.move(1)
                self.session.tick()
                self.session.tell(Done(cue=cue.key.id))
        self.view = self.desk.tick()
        return self


class Roasting(Kitchen):
    """A desk over invented chops that have been in for sixteen minutes."""

    def __init__(self) -> None:
        super().__init__(CHOPS_AND_POTATOES)
        self.desk._outlooks = Outlooks(beside=False)
        self.to(self.session.state.schedule.starts[0][0] + 16 * 60 - 1)
