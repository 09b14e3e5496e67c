"""The pending change of a real cook: shown with what it does, then taken or dropped."""

from passbell.cook.commands import Command, ExtendStage, ExtendStep
from passbell.cook.preview import effects, warnings
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.session import CookSession
from passbell.session.pending import PendingChange, grown
from passbell.tui.views.model import Effect, Pending


class Changes:
    """What is pending in a cook.

    Args:
        session: the cook.
    """

    def __init__(self, session: CookSession) -> None:
        self._session = session
        self.pending: PendingChange | None = None

    def open(self, command: Command, real: float, *, waits: bool) -> None:
        """Show a change before it is taken."""
        self.pending = PendingChange(command, real, waits)

    def grow(self, command: Command, real: float) -> str | None:
        """One press of longer or shorter; the reason when it cannot be."""
        assert isinstance(command, ExtendStage | ExtendStep)
        pending = grown(self.pending, command, real)
        if pending is not None:
            refusal = self._session.foresee(pending.command).refusal
            if refusal is not None:
                return refusal
        self.pending = pending
        return None

    def take(self) -> str | None:
        """Take what is pending as it is shown; the reason when it is refused."""
        if self.pending is None:
            return None
        command, self.pending = self.pending.command, None
        return self._session.tell(command)

    def drop(self) -> None:
        """Drop what is pending: it leaves no trace."""
        self.pending = None

    def ripen(self, real: float) -> str | None:
        """Take what has been pending long enough."""
        return self.take() if self.pending is not None and self.pending.ripe(real) else None

    def view(self, real: float) -> Pending | None:
        """What is pending, with everything it does."""
        if self.pending is None:
            return None
        before, outcome = self._session.state, self._session.foresee(self.pending.command)
        found = effects(before, outcome.state)
        refused = (outcome.refusal,) if outcome.refusal else ()
        return Pending(
            words=self.pending.words(before),
            effects=tuple(Effect(e.name, e.change, e.words) for e in found),
            warnings=(*refused, *warnings(before, outcome.state)),
            left=self.pending.left(real),
            notes=_held_back(before) if self.pending.waits else (),
        )


def _held_back(state: CookState) -> tuple[str, ...]:
    """What can still be held back, what is on the heat and cannot, and how long each would hold."""
    waiting, hot = [], []
    for index, component in enumerate(state.plan.components):
        first = component.first_cook
        if first is None or index in state.skipped:
            continue
        steps = state.steps[index]
        if steps[first].began is None:
            waiting.append(component.name)
        elif component.last_cook is not None and steps[component.last_cook].ended is None:
            hot.append(f"{component.name} (holds {spoken(component.hold)})")
    lines = []
    if waiting:
        lines.append(f"can still be held back: {', '.join(waiting)}")
    if hot:
        lines.append(f"on the heat already: {', '.join(hot)}")
    start = _last_free(state)
    if start is not None:
        lines.append(f"free to choose until the first of them goes in, in {spoken(start)}")
    return tuple(lines)


def _last_free(state: CookState) -> int | None:
    """Seconds until the next food goes on the heat: after that it cannot be held back."""
    starts = [
        state.schedule.starts[index][component.first_cook] - state.at
        for index, component in enumerate(state.plan.components)
        if component.first_cook is not None
        and index not in state.skipped
        and state.steps[index][component.first_cook].began is None
    ]
    return max(0, min(starts)) if starts else None
