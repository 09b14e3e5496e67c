"""A page of lines that scrolls, for the screens before and after the cook."""

from collections.abc import Callable
from typing import NamedTuple

from passbell.tui.paint import Line, Run, crop
from passbell.tui.typed import Typed
from passbell.tui.widgets.painted import Painted, Scrolled
from passbell.tui.widgets.probe import field


class Drawn(NamedTuple):
    """A page.

    Attributes:
        lines: all of it.
        fixed: how many of them stay at the top.
        keep: the line to keep in sight.
        told: the first of those that say what came of an answer.
    """

    lines: list[Line]
    fixed: int = 0
    keep: int | None = None
    told: int | None = None


_LEAST = 3
"""Lines of a page that move, at least; with fewer nothing stays at its top."""


class Page(Scrolled):
    """Draws a page by a function of width and height."""

    def __init__(self, draw: Callable[[int, int], Drawn]) -> None:
        super().__init__("page")
        self._draw = draw
        self._top = 0
        self._follows = False
        self._tells = False

    def scroll_by(self, by: int) -> None:
        """Read on, or back."""
        self._follows = False
        self._top = max(0, self._top + by)
        self.look_again()

    def follow(self) -> None:
        """Keep what is chosen in sight from now on, until the page is scrolled."""
        self._follows = True

    def to_top(self) -> None:
        """Show the page from its beginning."""
        self._follows = False
        self._top = 0
        self.look_again()

    def to_told(self) -> None:
        """Show what came of an answer, or the page from its beginning."""
        self.to_top()
        self._tells = True

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines in sight; the first and the last say when there are more."""
        lines, fixed, keep, told = self._draw(width, height)
        if height < fixed + _LEAST:
            lines, fixed, keep, told = _tight(lines, keep, told)
        room = max(1, height - fixed)
        rest = lines[fixed:]
        if keep is not None and self._follows:
            place = keep - fixed
            self._top = max(place - room + 2, min(self._top, place - 1))
        if told is not None and self._tells and told - fixed > room // 2:
            self._top = told - fixed - 1
        self._tells = False
        self._top = max(0, min(self._top, len(rest) - room))
        shown = rest[self._top : self._top + room]
        if len(rest) > self._top + room and room > _LEAST:
            left = len(rest) - self._top - room + 1
            shown[-1] = (Run(f"   ↓ {left} more lines: PgDn", "soft"),)
        if self._top and room > _LEAST:
            shown[0] = (Run(f"   ↑ {self._top + 1} more lines: PgUp", "soft"),)
        return [*lines[:fixed], *shown][:height]


def _tight(lines: list[Line], *places: int | None) -> Drawn:
    """A page in very few lines: none of them blank, and none that stays at the top."""
    full_ones = [n for n, line in enumerate(lines) if any(run.text.strip() for run in line)]
    keep, told = (None if p is None else sum(n < p for n in full_ones) for p in places)
    return Drawn([lines[n] for n in full_ones], 0, keep, told)


class AskLine(Painted):
    """A question with the line being typed; empty when nothing is asked."""

    GROUND = "box"

    def __init__(self) -> None:
        super().__init__("ask")
        self._shown: tuple[str, Typed, str] | None = None

    def show(self, prompt: str, typed: Typed, hint: str) -> None:
        """Show a question; an empty prompt shows only the hint."""
        if (prompt, typed, hint) != self._shown:
            self._shown = (prompt, typed, hint)
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The question and its hint."""
        if self._shown is None:
            return []
        prompt, typed, hint = self._shown
        below: Line = (Run("   ", "box"), Run(hint, "box.soft"))
        if not prompt:
            return [crop(below, width)]
        line = (Run("   ", "box"), Run(f"{prompt} ", "box.strong"), *field(typed))
        return [crop(line, width), crop(below, width)]
