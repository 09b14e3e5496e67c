"""A change shown before it is taken: opened by a key, grown by the next, taken or dropped."""

from collections.abc import Callable
from dataclasses import dataclass

from passbell.cook.commands import Command, ExtendStage, ExtendStep, ServeAt
from passbell.cook.state import CookState
from passbell.cook.wording import spoken

TAKEN_AFTER = 8.0
"""Seconds without a key after which a change is taken as shown."""


@dataclass(frozen=True, slots=True)
class PendingChange:
    """A change not yet taken.

    Attributes:
        command: what taking it says to the engine.
        touched: real seconds at the last key that changed it.
        waits: whether it waits for Done or Esc instead of being taken by itself.
    """

    command: Command
    touched: float
    waits: bool = False

    @property
    def by(self) -> int:
        """Seconds of the change itself; 0: it is another serving time, which is no length."""
        return self.command.by if isinstance(self.command, ExtendStage | ExtendStep) else 0

    def left(self, real: float) -> int | None:
        """Seconds until it is taken as shown; None: it waits."""
        if self.waits:
            return None
        return max(0, round(self.touched + TAKEN_AFTER - real))

    def ripe(self, real: float) -> bool:
        """Whether it is to be taken now."""
        return not self.waits and real - self.touched >= TAKEN_AFTER

    def words(self, state: CookState, local: Callable[[int], str]) -> str:
        """What it is: "chicken: +3 min".

        Args:
            state: the cook.
            local: from an engine instant to the local time ("18:20").
        """
        return _words(self.command, state, local)


def grown(
    pending: PendingChange | None, command: ExtendStage | ExtendStep, real: float
) -> PendingChange | None:
    """The pending change after one more press; None: it has come back to nothing.

    Args:
        pending: what is pending; another kind of change or another target is replaced.
        command: the change one press stands for.
        real: real seconds now.
    """
    old = pending.command if pending is not None else None
    if not isinstance(old, ExtendStage | ExtendStep) or not _same_target(old, command):
        return PendingChange(command, real)
    by = old.by + command.by
    if not by:
        return None
    return PendingChange(old.model_copy(update={"by": by}), real)


def _same_target(old: ExtendStage | ExtendStep, new: ExtendStage | ExtendStep) -> bool:
    return replaced_by(old) == replaced_by(new)


def replaced_by(command: ExtendStage | ExtendStep) -> tuple[str, int]:
    """What a change is about, whatever its size."""
    target = command.appliance if isinstance(command, ExtendStage) else command.component
    return command.do, target


def _words(command: Command, state: CookState, local: Callable[[int], str]) -> str:
    if isinstance(command, ExtendStage):
        appliance = state.appliance(command.appliance)
        stage = state.appliances[command.appliance].stage
        name = f", {appliance.stages[stage].name}" if stage is not None else ""
        return f"{appliance.name}{name}: {_signed(command.by)}, with all food in it"
    if isinstance(command, ExtendStep):
        component = state.component(command.component)
        return f"{component.name} alone: {_signed(command.by)}"
    if isinstance(command, ServeAt):
        if command.at is None:
            return "serve as soon as possible"
        return f"serve at {local(command.at)}"
    return command.do


def _signed(by: int) -> str:
    return f"{'+' if by > 0 else '−'}{spoken(by)}"
