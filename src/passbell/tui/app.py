"""The application: its looks, its driver, its end, and the way from screen to screen."""

import asyncio
import logging
import os
import signal
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any, ClassVar

from rich.cells import cached_cell_len
from rich.segment import Segment
from rich.style import Style
from rich.text import Text
from textual.app import App, SuspendNotSupported
from textual.binding import Binding, BindingType
from textual.color import Color
from textual.driver import Driver
from textual.filter import LineFilter
from textual.screen import Screen

from passbell.tui.desk import Desk
from passbell.tui.driver import HUNG_UP, guarded_driver, refusal, take_signals
from passbell.tui.keys import KeyMap, standard
from passbell.tui.screens.cook import CookScreen
from passbell.tui.screens.held import HeldScreen
from passbell.tui.theme import THEMES, Look, palette

if TYPE_CHECKING:  # a cook that has begun needs none of them to be shown
    from passbell.tui.doors import Aftermath
    from passbell.tui.pages import AfterScreen, BeforeScreen, PlansScreen, RunsScreen

LOG = logging.getLogger(__name__)
_PLAIN = Style.parse("default on default")
_KEPT = 1024
"""Widths of texts that rich may keep: every countdown is another text, and its own limit of 4096
long lines is 2 MB."""
_WATCH = 1.0
"""Seconds between two looks at the terminal itself."""

_TIDY = 5.0
"""Seconds between two looks at what has been kept of the drawing."""

After = Callable[[Desk], "Aftermath | None"]
"""What makes the record of a cook that has been dished up; None: there is none."""


_SCREENS = ("plans", "before", "cook", "after", "runs", "revise")


class _Colourless(LineFilter):
    """Takes every colour off, so that not one colour code is sent (no-color.org)."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(s.text, (s.style or _PLAIN) + _PLAIN, s.control) for s in segments]


class PassbellApp(App[None], inherit_bindings=False):
    """All screens of the product.

    Args:
        look: dark or light.
        keys: which key does what on the cook screen.
        env: the environment; os.environ when None.
        driver_class: how to talk to the terminal; None: Textual's own.
        colours: the terminal's colours as rich names them; None: found out.
        after: makes the record shown after a cook.
    """

    CSS_PATH: ClassVar = [f"screens/{name}.tcss" for name in _SCREENS]
    AUTO_FOCUS: ClassVar[str | None] = None
    ENABLE_COMMAND_PALETTE: ClassVar[bool] = False
    ALLOW_SELECT: ClassVar[bool] = False
    ESCAPE_TO_MINIMIZE: ClassVar[bool] = False
    TITLE = "passbell"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "quit", show=False, priority=True),
        Binding("ctrl+c", "quit", show=False, priority=True),
        Binding("ctrl+z", "suspend_process", show=False, priority=True),
    ]

    def __init__(
        self,
        look: Look = "dark",
        keys: KeyMap | None = None,
        env: Mapping[str, str] | None = None,
        driver_class: type[Driver] | None = None,
        colours: str | None = None,
        after: After | None = None,
    ) -> None:
        self._env = os.environ if env is None else env
        self._look: Look = look
        super().__init__(driver_class=driver_class, ansi_color=True)
        self._colours = colours or self.console.color_system
        self.keys = keys or standard()
        self._after = after
        self.notice = ""
        """Something to say at the start of each cook, such as a fault in the settings."""
        self._first: Screen[Any] | None = None
        for theme in THEMES.values():
            self.register_theme(theme)
        self.looks = palette(self._look, self._colours, self._env.get("NO_COLOR"))
        """How each role looks in this terminal."""
        # Setting it as one does would parse all styles once more before the first frame.
        self.set_reactive(App.theme, THEMES[self._look].name)
        self.stylesheet.set_variables(self.get_css_variables())

    @property
    def look(self) -> Look:
        """Dark or light, to be remembered."""
        return self._look

    def _recolour(self) -> None:
        self.looks = palette(self._look, self._colours, self._env.get("NO_COLOR"))
        self.theme = THEMES[self._look].name

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Only one filter of our own, where no colour may be sent."""
        return () if self.looks.coloured else (_Colourless(),)

    def start_with(self, screen: Screen[Any]) -> None:
        """The screen to begin with; called before the application runs."""
        self._first = screen

    def on_mount(self) -> None:
        """Show the first screen; watch signals and the terminal."""
        if self._first is not None:
            self.push_screen(self._first)
        self.set_interval(_TIDY, _tidy)
        if hasattr(self._driver, "gone"):
            take_signals(asyncio.get_running_loop().add_signal_handler, self._leave_by_signal)
            self.set_interval(_WATCH, self._watch_terminal)

    def _watch_terminal(self) -> None:
        """Leave when the terminal is gone; paint anew when frames were dropped."""
        driver: Any = self._driver
        if driver.gone():
            self._leave_by_signal(HUNG_UP)
        elif driver.caught_up():
            self._paint_anew()

    def _paint_anew(self) -> None:
        self.screen.refresh(layout=True)
        for widget in self.screen.query("*"):
            widget.refresh()

    def _leave_by_signal(self, code: int) -> None:
        self._close_all_desks()
        self.exit(return_code=code)

    def _close_all_desks(self) -> None:
        """Let go of whatever the screens hold; a fault in one spares the others."""
        for screen in self.screen_stack:
            held = [getattr(screen, name, None) for name in ("desk", "preparation", "aftermath")]
            for thing in filter(None, held):
                try:
                    thing.close()
                except Exception:
                    LOG.exception("could not be closed")

    def on_held_screen_coloured(self) -> None:
        """Dark becomes light and light dark."""
        self._look = "light" if self._look == "dark" else "dark"
        self._recolour()
        self._paint_anew()

    def on_held_screen_edit(self, message: HeldScreen.Edit) -> None:
        """The editor has the terminal to itself until it ends; no cook runs on these screens."""
        trouble = self._edit(message.path)
        self._paint_anew()
        message.screen.edited(message.path, trouble)

    def _edit(self, path: Path) -> str:
        """Why a file could not be edited; empty: it was."""
        from passbell.editor import EditorError, edit  # noqa: PLC0415 - no cook needs it

        loop, trouble = asyncio.get_running_loop(), ""
        guarded = hasattr(self._driver, "gone")
        if guarded:
            loop.remove_signal_handler(signal.SIGINT)
        try:
            with self.suspend():
                try:
                    edit(path)
                except EditorError as error:
                    trouble = str(error)
        except SuspendNotSupported:
            trouble = "this terminal cannot be lent to an editor; edit the file beside it"
        if guarded:
            take_signals(loop.add_signal_handler, self._leave_by_signal)
        return trouble

    def on_held_screen_gone(self, message: HeldScreen.Gone) -> None:
        """Back to the screen before, on to the record of a finished cook, or out."""
        screen = message.screen
        if isinstance(screen, CookScreen):
            self._after_cook(screen)
        elif screen.GOES_BACK and len(self.screen_stack) > 2:
            screen.let_go()
            self.pop_screen()
        else:
            self._close_all_desks()
            self.exit(return_code=0)

    def _after_cook(self, screen: CookScreen) -> None:
        over = screen.view is not None and screen.view.over
        record = self._after(screen.desk) if self._after is not None and over else None
        screen.desk.close()
        if record is None:
            self.exit(return_code=0)
        else:
            self.switch_screen(_pages().AfterScreen(record))

    def on_plans_screen_opened(self, message: "PlansScreen.Opened") -> None:
        """A plan was chosen."""
        self.push_screen(_pages().BeforeScreen(message.preparation))

    def on_plans_screen_resumed(self, message: "PlansScreen.Resumed") -> None:
        """An unfinished cook was taken up."""
        self.push_screen(CookScreen(message.desk, keys=self.keys, notice=self.notice))

    def on_before_screen_started(self, message: "BeforeScreen.Started") -> None:
        """The cook has begun."""
        self.switch_screen(CookScreen(message.desk, keys=self.keys, notice=self.notice))

    def on_plans_screen_runs(self, message: "PlansScreen.Runs") -> None:
        """The record of cooks."""
        self.push_screen(_pages().RunsScreen(message.records))

    def on_runs_screen_revise(self, message: "RunsScreen.Revise") -> None:
        """What the runs of a plan ask for."""
        self.push_screen(_pages().ReviseScreen(message.revising))

    def on_after_screen_revise(self, message: "AfterScreen.Revise") -> None:
        """The same, after a cook."""
        self.push_screen(_pages().ReviseScreen(message.revising))

    async def action_quit(self) -> None:
        """Ctrl+Q and Ctrl+C ask, like the key for leaving, while anything is on the heat."""
        if isinstance(self.screen, HeldScreen):
            self.screen.ask_to_leave()
        else:
            self.exit(return_code=0)

    def _handle_exception(self, error: Exception) -> None:
        LOG.error("the application failed", exc_info=error)
        super()._handle_exception(error)

    def _fatal_error(self) -> None:
        """End with a sentence; the traceback is in the log."""
        self.panic(Text("passbell had to stop: a fault of its own, described in its log."))


def _tidy() -> None:
    """Let go of the widths that were measured, when there are many; they are soon told again."""
    if cached_cell_len.cache_info().currsize > _KEPT:
        cached_cell_len.cache_clear()


def _pages() -> ModuleType:
    """The other screens: a cook that has begun needs none of them for its first frame."""
    from passbell.tui import pages  # noqa: PLC0415 - see above

    return pages


def run_screen(app: PassbellApp, first: Screen[Any], mouse: bool = True) -> int:
    """Run the application from this screen to its end.

    Args:
        app: the application.
        first: the screen to begin with.
        mouse: whether the mouse may be used.

    Returns:
        The exit code: 0 left in good order, 1 a fault of the program, 2 no terminal to show a
        screen on (said on standard error), 129, 130 or 143 after a signal.
    """
    refused = refusal(os.environ, sys.__stdin__, sys.__stderr__)
    if refused is not None:
        sys.stderr.write(refused + "\n")
        return 2
    app.start_with(first)
    app.run(mouse=mouse)
    return app.return_code or 0


def make_app(
    look: Look = "dark", keys: KeyMap | None = None, after: After | None = None
) -> PassbellApp:
    """The application with the driver that guards the terminal."""
    return PassbellApp(look=look, keys=keys, driver_class=guarded_driver(), after=after)


def run_cook(
    desk: Desk, app: PassbellApp, far: bool = False, interval: float = 0.25, notice: str = ""
) -> int:
    """Show a cook in progress until it is left; see `run_screen` for the exit code.

    Args:
        desk: the cook.
        app: the application, from `make_app`.
        far: the whole screen for Now.
        interval: seconds between two looks at the desk.
        notice: something to say at the start, such as a fault in the key settings.
    """
    return run_screen(app, CookScreen(desk, interval, far, app.keys, notice))
