"""What all screens share: a fault shows a line and goes to the log, it never ends the screen."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import ClassVar

from textual.message import Message
from textual.screen import Screen
from textual.timer import Timer

from passbell.tui.keys import KeyMap
from passbell.tui.widgets.keyline import KeyLine

LOG = logging.getLogger(__name__)
_SAID_FOR = 8.0
"""Seconds a message stands."""
_ANSWERED_FOR = 4.0
"""Seconds the answer to a key stands, when no other key takes it away."""


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

    class Edit(Message):
        """A file is to be opened in the cook's editor."""

        def __init__(self, screen: "HeldScreen", path: Path) -> None:
            super().__init__()
            self.screen = screen
            self.path = path

    class Coloured(Message):
        """The cook wants the other look, dark or light."""

    def __init__(self, keys: KeyMap | None = None) -> None:
        super().__init__()
        self._keyline = KeyLine(keys)
        self._fault = ""
        self._standing_words: dict[str, Timer] = {}
        self._answered: set[str] = set()

    def let_go(self) -> None:
        """Let go of whatever this screen holds, before it is taken away."""

    def edited(self, path: Path, trouble: str) -> None:
        """Come back from the editor.

        Args:
            path: what was opened.
            trouble: why it could not be; empty: it was.
        """

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

    def _say(self, text: str, role: str = "notice", answer: bool = False) -> None:
        """Show a message for a while in place of a key line; the newest first.

        Args:
            text: the message.
            role: how it looks.
            answer: whether it only answers a key, and goes with the next.
        """
        if answer:
            self._answered.add(text)
        elif text in self._answered:
            self._answered.remove(text)
        self._stop(text)
        stands_for = _ANSWERED_FOR if answer else _SAID_FOR
        self._standing_words[text] = self.set_timer(stands_for, partial(self._said_enough, text))
        self._show_said(role)

    def _stop(self, text: str) -> None:
        timer = self._standing_words.pop(text, None)
        if timer is not None:
            timer.stop()

    def _show_said(self, role: str = "notice") -> None:
        texts = list(reversed(self._standing_words))
        self._keyline.say(" · ".join(texts)[:400], role)

    def _answers_end(self) -> None:
        """Take away what only answered the key before."""
        if self._answered:
            for text in self._answered:
                self._stop(text)
            self._answered.clear()
            self._show_said()

    def _said_enough(self, text: str) -> None:
        """Each message goes when its own time is over: a new one does not keep the old."""
        self._stop(text)
        self._answered.discard(text)
        self._show_said()

    def ask_to_leave(self) -> None:
        """Leave; a screen with something on the heat asks first."""
        self.post_message(self.Gone(self))
