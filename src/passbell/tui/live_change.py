"""The pending change of a real cook: shown with what it does, then taken or dropped."""

from collections.abc import Callable
from dataclasses import dataclass

from passbell.clock import local_time
from passbell.cook.commands import Command, ExtendStage, ExtendStep, ServeAt
from passbell.cook.preview import Effect as CookEffect
from passbell.cook.preview import preview
from passbell.cook.serving import ServingLater, Share, serving_later
from passbell.cook.ways import WayOut, ways_out
from passbell.cook.wording import TOLD_FROM, minutes, spoken, to_the_minute
from passbell.session import CookSession
from passbell.session.pending import PendingChange, grown
from passbell.tui.views.change import briefly
from passbell.tui.views.model import Effect, Pending, Way

OUTLOOK_HOLDS = 2
"""For how many engine seconds an outlook is good enough to be shown again."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What a change would do.

    Attributes:
        effects: on everything.
        warnings: what must be known first.
        ways: the ways out of it.
        notes: for another serving time, what can be held back and until when.
    """

    effects: tuple[CookEffect, ...]
    warnings: tuple[str, ...]
    ways: tuple[WayOut, ...]
    notes: tuple[str, ...] = ()


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
        dish_up = next((e.change for e in outlook.effects if e.thing == "dish_up"), 0)
        return Pending(
            words=self.pending.words(state, lambda at: local_time(self._session.utc_at(at))),
            effects=tuple(_shown(effect) for effect in outlook.effects),
            warnings=outlook.warnings,
            left=self.pending.left(real),
            notes=outlook.notes,
            ways=tuple(_way(way) for way in outlook.ways),
            by=self.pending.by or to_the_minute(dish_up),
            dish_up=local_time(self._session.utc_at(state.schedule.dish_up + dish_up)),
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
    seen = preview(session.state, command, session.now())
    refused = (seen.refusal,) if seen.refusal else ()
    notes: list[str] = []
    if isinstance(command, ServeAt) and not seen.refusal:
        found = serving_later(session.state, command, session.now())
        notes = serving_lines(found, lambda at: local_time(session.utc_at(at)), session.now())
    return Outlook(
        effects=seen.effects,
        warnings=(*refused, *seen.warnings),
        ways=ways_out(session.state, command, session.now()),
        notes=tuple(notes),
    )


def _shown(effect: CookEffect) -> Effect:
    return Effect(effect.name, effect.change, effect.words, effect.thing, effect.held, effect.share)


def _way(way: WayOut) -> Way:
    """A way out with what it does: dish-up, and whatever else moves, like with like."""
    dish_up = next(e for e in way.effects if e.thing == "dish_up")
    moved: dict[str, list[str]] = {}
    for effect in way.effects:
        concerns = effect.thing in ("component", "mode")
        if concerns and max(abs(effect.change), abs(effect.held)) >= TOLD_FROM:
            moved.setdefault(briefly(_shown(effect)), []).append(effect.name)
    others = [f"{', '.join(names)} {words}" for words, names in moved.items() if words]
    if way.harm.over_hold >= TOLD_FROM:
        others.insert(0, f"{spoken(way.harm.over_hold)} held too long in all")
    return Way(f"{way.words}: dish-up {dish_up.words}", "; ".join(others))


def serving_lines(found: ServingLater, local: Callable[[int], str], now: int) -> list[str]:
    """What another serving time means: until when it is free, what is held back, what cannot be.

    Args:
        found: what it means.
        local: from an engine instant to the local time ("18:20").
        now: the engine instant.
    """
    free = [f"{s.name}{_by(s.later)}" for s in found.shares if s.where == "free"]
    hot = [f"{s.name} would hold {_held(s)}" for s in found.shares if s.where == "hot"]
    out = [f"{s.name} would hold {_held(s)}" for s in found.shares if s.where == "out"]
    lines = [f"can wait: {', '.join(free)}"] if free else []
    none = "cannot wait" if found.free_until is not None else "nothing can wait any more"
    lines += [f"{none}: {'; '.join(hot)}"] if hot else []
    lines += [f"off the heat: {'; '.join(out)}"] if out else []
    if found.free_until is None:
        return lines if hot else ["nothing can wait any more", *lines]
    if found.free_until <= now:
        return [f"choose now: ADD {found.first} is due", *lines]
    left = minutes(found.free_until - now)
    return [f"choose by {local(found.free_until)}, in {left}: then ADD {found.first}", *lines]


def _by(later_by: int) -> str:
    return f" ({spoken(later_by)} later)" if later_by >= TOLD_FROM else ""


def _held(share: Share) -> str:
    over = f", {spoken(share.over)} too long" if share.over >= TOLD_FROM else ""
    return f"{spoken(share.wait)}{over}"
