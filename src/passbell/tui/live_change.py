"""The pending change of a real cook: shown with what it does, then taken or dropped."""

from dataclasses import dataclass

from passbell.cook.commands import Command, ExtendStage, ExtendStep, ServeAt
from passbell.cook.preview import Effect as CookEffect
from passbell.cook.preview import effects, warnings
from passbell.cook.state import CookState
from passbell.cook.ways import WayOut, ways_out
from passbell.cook.wording import spoken
from passbell.session import CookSession
from passbell.session.pending import PendingChange, grown
from passbell.tui.views.model import Effect, Pending

OUTLOOK_HOLDS = 2
"""For how many engine seconds an outlook is good enough to be shown again."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What a change would do.

    Attributes:
        effects: on everything.
        warnings: what must be known first.
        ways: the ways out of it.
    """

    effects: tuple[CookEffect, ...]
    warnings: tuple[str, ...]
    ways: tuple[WayOut, ...]


class Changes:
    """What is pending in a cook.

    Args:
        session: the cook.
    """

    def __init__(self, session: CookSession) -> None:
        self._session = session
        self.pending: PendingChange | None = None
        self._seen: tuple[Command, int, Outlook] | None = None

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

    def choose(self, digit: int) -> bool:
        """Take a way out by its number; False: none is offered."""
        if self.pending is None:
            return False
        ways = self._outlook().ways
        if 1 <= digit <= len(ways):
            self.pending = None
            self._session.tell(ways[digit - 1].command)
        return bool(ways)

    def view(self, real: float) -> Pending | None:
        """What is pending, with everything it does and the ways out."""
        if self.pending is None:
            return None
        state, outlook = self._session.state, self._outlook()
        return Pending(
            words=self.pending.words(state),
            effects=tuple(Effect(e.name, e.change, e.words) for e in outlook.effects),
            warnings=outlook.warnings,
            left=self.pending.left(real),
            notes=_held_back(state) if isinstance(self.pending.command, ServeAt) else (),
            ways=tuple(_way_words(way) for way in outlook.ways),
        )

    def _outlook(self) -> Outlook:
        """What the change would do, worked out anew when it or the moment has changed."""
        assert self.pending is not None
        command, moment = self.pending.command, self._session.now() // OUTLOOK_HOLDS
        if self._seen is None or self._seen[:2] != (command, moment):
            self._seen = (command, moment, outlook_of(self._session, command))
        return self._seen[2]


def outlook_of(session: CookSession, command: Command) -> Outlook:
    """What a change would do, and the ways out of it."""
    before = session.state
    outcome = session.foresee(command)
    refused = (outcome.refusal,) if outcome.refusal else ()
    return Outlook(
        effects=effects(before, outcome.state),
        warnings=(*refused, *warnings(before, outcome.state)),
        ways=ways_out(before, command, session.now()),
    )


def _way_words(way: WayOut) -> str:
    """A way out with what it does: dish-up, and whatever else moves."""
    dish_up = next(e for e in way.effects if e.thing == "dish_up")
    others = [
        f"{e.name} {e.words}" for e in way.effects if e.change and e.thing in ("component", "mode")
    ]
    return f"{way.words}: " + ", ".join([f"dish-up {dish_up.words}", *others])


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
