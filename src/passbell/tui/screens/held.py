"""What all screens share: a fault shows a line and goes to the log, it never ends the screen."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from typing import ClassVar

from textual.message import Message
from textual.screen import Screen
from textual.timer import Timer

from passbell.tui.keys import KeyMap
from passbell.tui.widgets.keyline import KeyLine

LOG = logging.getLogger(__name__)
_SAID_FOR = 8.0
"""Seconds a message stands."""


class HeldScreen(Screen[None], inherit_bindings=False):
    """A screen that holds its own faults.

    Args:
        keyline: where messages stand for a while.
    """

    ALLOW_SELECT: ClassVar[bool] = False
    AUTO_FOCUS: ClassVar[str | None] = ""
    GOES_BACK: ClassVar[bool] = False
    """Whether leaving it leads back to the screen it was opened from, where there is one."""

    class Gone(Message):
        """The cook wants to leave this screen."""

        def __init__(self, screen: "HeldScreen") -> None:
            super().__init__()
            self.screen = screen

    class Coloured(Message):
        """The cook wants the other look, dark or light."""

    def __init__(self, keys: KeyMap | None = None) -> None:
        super().__init__()
        self._keyline = KeyLine(keys)
        self._said: Timer | None = None
        self._fault = ""
        self._standing_words = ""

    def let_go(self) -> None:
        """Let go of whatever this screen holds, before it is taken away."""

    @contextmanager
    def _held(self, what: str) -> Iterator[None]:
        """Hold whatever goes wrong inside: a line on the screen, the rest in the log."""
        try:
            yield
        except Exception as error:
            fault = f"{what}: {type(error).__name__} {error}"
            if fault != self._fault:
                LOG.exception("fault in %s", what)
            self._fault = fault
            self._say(f"Something failed in {fault}. Everything else goes on.", "fault")

    def _say(self, text: str, role: str = "notice") -> None:
        """Show a message for a while in place of a key line; the newest first."""
        if self._said is not None:
            self._said.stop()
        before = self._standing_words
        if before:
            text = before if text in before else f"{text} · {before}"[:400]
        self._standing_words = text
        self._keyline.say(text, role)
        self._said = self.set_timer(_SAID_FOR, self._said_enough)

    def _said_enough(self) -> None:
        self._standing_words = ""
        self._keyline.say("")

    def ask_to_leave(self) -> None:
        """Leave; a screen with something on the heat asks first."""
        self.post_message(self.Gone(self))
