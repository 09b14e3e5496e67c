"""A widget that draws lines of its own and repaints only the cells that changed."""

import logging
from collections.abc import Sequence

from rich.cells import cell_len
from rich.segment import Segment
from textual.events import Click, Resize
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from passbell.tui.paint import Line, Run, full
from passbell.tui.theme import DARK, Palette

LOG = logging.getLogger(__name__)


class Painted(Widget):
    """Draws `lines()` and, when told to look again, repaints what differs from before."""

    GROUND = "plain"
    """The role of whatever a line leaves empty."""
    ALLOW_SELECT = False

    class Picked(Message):
        """Something was clicked.

        Attributes:
            tag: what it means.
        """

        def __init__(self, tag: str) -> None:
            super().__init__()
            self.tag = tag

    def __init__(self, name: str) -> None:
        super().__init__(id=name)
        self._drawn: list[Line] = []

    def lines(self, width: int, height: int) -> Sequence[Line]:
        """The lines for a room of so many cells; may be fewer or narrower than that."""
        raise NotImplementedError

    def look_again(self) -> None:
        """Draw anew and repaint the cells that differ; a fault leaves what was there."""
        width, height = self.size
        if not width or not height:
            return
        try:
            drawn = [full(line, width, self.GROUND) for line in self.lines(width, height)[:height]]
        except Exception:
            LOG.exception("the %s could not be drawn", self.id)
            drawn = [full((Run("! not drawn, see the log", "fault"),), width, self.GROUND)]
        drawn += [full((), width, self.GROUND)] * (height - len(drawn))
        before, self._drawn = self._drawn, drawn
        if len(before) != height:
            self.refresh()
            return
        for y, (old, new) in enumerate(zip(before, drawn, strict=True)):
            if old != new:
                start, end = _changed(old, new)
                self.refresh(Region(start, y, end - start, 1))

    def render_line(self, y: int) -> Strip:
        """One line as Textual wants it."""
        looks: Palette = getattr(self.app, "looks", DARK)
        line = self._drawn[y] if y < len(self._drawn) else ()
        width = self.size.width
        segments = [Segment(run.text, looks.style(run.role)) for run in line if run.text]
        return Strip(segments).adjust_cell_length(width, looks.style(self.GROUND))

    def on_resize(self, event: Resize) -> None:
        """Draw for the new room."""
        self._drawn = []
        self.look_again()

    def on_click(self, event: Click) -> None:
        """Say what was clicked, when it means something."""
        if event.y < len(self._drawn):
            tag = _tag_at(self._drawn[event.y], event.x)
            if tag:
                event.stop()
                self.post_message(self.Picked(tag))


def _changed(old: Line, new: Line) -> tuple[int, int]:
    """First and last differing cell of two lines of one width."""
    start, end = 0, max(_cells(old), _cells(new))
    for before, after in zip(old, new, strict=False):
        if before != after:
            break
        start += cell_len(after.text)
    tail = 0
    for before, after in zip(reversed(old), reversed(new), strict=False):
        if before != after:
            break
        tail += cell_len(after.text)
    return start, max(end - tail, start + 1)


def _cells(line: Line) -> int:
    return sum(cell_len(run.text) for run in line)


def _tag_at(line: Line, x: int) -> str:
    for run in line:
        x -= cell_len(run.text)
        if x < 0:
            return run.tag
    return ""
