"""The application: its looks, its driver, and the way from screen to screen."""

import logging
import os
from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.app import App
from textual.binding import Binding, BindingType
from textual.color import Color
from textual.driver import Driver
from textual.filter import LineFilter
from textual.screen import Screen

from passbell.tui.desk import Desk
from passbell.tui.keys import KeyMap, standard
from passbell.tui.screens.cook import CookScreen
from passbell.tui.theme import THEMES, Look, palette

_LOG = logging.getLogger(__name__)
_PLAIN = Style.parse("default on default")


class _Colourless(LineFilter):
    """Takes every colour off, so that not one colour code is sent (no-color.org)."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(text, (style or _PLAIN) + _PLAIN, control)
                for text, style, control in segments]  # fmt: skip


class PassbellApp(App[None], inherit_bindings=False):
    """All screens of the product.

    Args:
        look: dark or light.
        keys: which key does what.
        env: the environment; os.environ when None.
        driver_class: how to talk to the terminal; None: Textual's own.
        colours: the terminal's colours as rich names them; None: found out.
    """

    AUTO_FOCUS: ClassVar[str | None] = None
    ENABLE_COMMAND_PALETTE: ClassVar[bool] = False
    ALLOW_SELECT: ClassVar[bool] = False
    ESCAPE_TO_MINIMIZE: ClassVar[bool] = False
    TITLE = "passbell"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "quit", show=False, priority=True),
        Binding("ctrl+c", "quit", show=False, priority=True),
    ]

    def __init__(
        self,
        look: Look = "dark",
        keys: KeyMap | None = None,
        env: Mapping[str, str] | None = None,
        driver_class: type[Driver] | None = None,
        colours: str | None = None,
    ) -> None:
        self._env = os.environ if env is None else env
        self._look: Look = look
        self._first: Screen[Any] | None = None
        super().__init__(driver_class=driver_class, ansi_color=True)
        self._colours = colours or self.console.color_system
        self.keys = keys or standard()
        for theme in THEMES.values():
            self.register_theme(theme)
        self._recolour()

    def _recolour(self) -> None:
        self.looks = palette(self._look, self._colours, self._env.get("NO_COLOR"))
        """How each role looks in this terminal."""
        self.theme = f"passbell-{self._look}"

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Only one filter of our own, where no colour may be sent."""
        return () if self.looks.coloured else (_Colourless(),)

    def start_with(self, screen: Screen[Any]) -> None:
        """The screen to begin with; called before the application runs."""
        self._first = screen

    def on_mount(self) -> None:
        """Show the first screen."""
        if self._first is not None:
            self.push_screen(self._first)

    def on_cook_screen_coloured(self) -> None:
        """Dark becomes light and light dark."""
        self._look = "light" if self._look == "dark" else "dark"
        self._recolour()
        self.screen.refresh(layout=True)

    def on_cook_screen_gone(self) -> None:
        """The cook has been left."""
        self.exit(return_code=0)

    async def action_quit(self) -> None:
        """Ctrl+Q and Ctrl+C ask, like the key for leaving, while anything is on the heat."""
        if isinstance(self.screen, CookScreen):
            self.screen.ask_to_leave()
        else:
            self.exit(return_code=0)
