"""Widgets that draw lines of their own and repaint only the cells that changed."""

import logging
from collections.abc import Sequence

from rich.segment import Segment
from textual.events import Click, MouseScrollDown, MouseScrollUp, Resize
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from passbell.tui.paint import Line, Run, cells_in, full, parted
from passbell.tui.places import Place
from passbell.tui.theme import DARK, Palette

LOG = logging.getLogger(__name__)


class Canvas(Widget):
    """Shows the lines it is given; given others, it repaints what differs.

    Args:
        name: its id on the screen.
        ground: the role of whatever a line leaves empty.
    """

    ALLOW_SELECT = False

    class Picked(Message):
        """Something was clicked.

        Attributes:
            tag: what it means.
        """

        def __init__(self, tag: str) -> None:
            super().__init__()
            self.tag = tag

    def __init__(self, name: str, ground: str = "plain") -> None:
        super().__init__(id=name)
        self.ground = ground
        self._drawn: list[Line] = []

    def give(self, lines: list[Line]) -> None:
        """Show these lines, of equal width, in place of those before."""
        before, self._drawn = self._drawn, lines
        if len(before) != len(lines):
            self.refresh()
            return
        end_of = [_cells(given[0]) if given else 0 for given in (before, lines)]
        for y, (old, new) in enumerate(zip(before, lines, strict=True)):
            if old != new:
                start, end = _changed(old, new, max(end_of))
                self.refresh(Region(start, y, end - start, 1))

    def forget(self) -> None:
        """Take the lines shown for lost, so that the next are painted whole."""
        self._drawn = []

    def render_line(self, y: int) -> Strip:
        """One line as Textual wants it."""
        looks: Palette = getattr(self.app, "looks", DARK)
        line = self._drawn[y] if y < len(self._drawn) else ()
        segments: list[Segment] = []
        role = ""
        for run in line:
            if segments and run.role == role:
                segments[-1] = Segment(segments[-1].text + run.text, segments[-1].style)
            elif run.text:
                segments.append(Segment(run.text, looks.style(run.role)))
                role = run.role
        return Strip(segments).adjust_cell_length(self.size.width, looks.style(self.ground))

    def on_click(self, event: Click) -> None:
        """Say what was clicked, when it means something."""
        if event.y < len(self._drawn):
            tag = _tag_at(self._drawn[event.y], event.x)
            if tag:
                event.stop()
                self.post_message(self.Picked(tag))


class Painted(Canvas):
    """Draws `lines()` when told to look again.

    Textual repaints a line from the left edge of its widget to the last cell that changed, so
    whatever changes every second at the right has a canvas of its own, the tail.
    """

    GROUND = "plain"

    def __init__(self, name: str, tailed: bool = False) -> None:
        super().__init__(name, self.GROUND)
        self.tail = Canvas(f"{name}-tail", self.GROUND) if tailed else None
        self._place: Place | None = None
        self._cut = 0

    def lines(self, width: int, height: int) -> Sequence[Line]:
        """The lines for a room of so many cells; may be fewer or narrower than that."""
        raise NotImplementedError

    def cut(self, width: int, height: int) -> int:
        """Where the tail begins in a room of so many cells; only for those with a tail."""
        return width

    def stand(self, place: Place | None) -> None:
        """Stand there, with the tail at the right; None: do not show."""
        self.display = place is not None
        self._place = place
        if place is None:
            if self.tail is not None:
                self.tail.display = False
            return
        self._cut = max(1, self.cut(place.width, place.height)) if self.tail else place.width
        _put(self, Place(place.x, place.y, self._cut, place.height))
        if self.tail is not None:
            left = place.width - self._cut
            self.tail.display = left > 0
            _put(self.tail, Place(place.x + self._cut, place.y, left, place.height))
        self.look_anew()

    def look_anew(self) -> None:
        """Draw everything, whatever was there."""
        self.forget()
        if self.tail is not None:
            self.tail.forget()
        self.look_again()

    def look_again(self) -> None:
        """Draw again and repaint the cells that differ; a fault is a line in their place."""
        place = self._place
        width, height = (place.width, place.height) if place else self.size
        if not width or not height:
            return
        try:
            drawn = [full(line, width, self.GROUND) for line in self.lines(width, height)[:height]]
        except Exception:
            LOG.exception("the %s could not be drawn", self.id)
            drawn = [full((Run("! not drawn, see the log", "fault"),), width, self.GROUND)]
        drawn += [full((), width, self.GROUND)] * (height - len(drawn))
        if self.tail is None or self._cut >= width:
            self.give(drawn)
        else:
            parts = [parted(line, self._cut) for line in drawn]
            self.give([left for left, _ in parts])
            self.tail.give([right for _, right in parts])

    def on_resize(self, event: Resize) -> None:
        """Draw for the new room; one that was given its place has done so already."""
        if self._place is None:
            self.look_anew()


class Scrolled(Painted):
    """Lines to read that may be more than there is room for; the wheel moves them."""

    def scroll_by(self, by: int) -> None:
        """Read on, or back."""
        raise NotImplementedError

    def on_mouse_scroll_down(self, event: MouseScrollDown) -> None:
        """Read on."""
        event.stop()
        self.scroll_by(1)

    def on_mouse_scroll_up(self, event: MouseScrollUp) -> None:
        """Read back."""
        event.stop()
        self.scroll_by(-1)


def _put(widget: Widget, place: Place) -> None:
    widget.styles.offset = (place.x, place.y)
    widget.styles.width, widget.styles.height = place.width, place.height


def _changed(old: Line, new: Line, end: int) -> tuple[int, int]:
    """First and last differing cell of two lines that end there."""
    start = 0
    for before, after in zip(old, new, strict=False):
        if before != after:
            break
        start += cells_in(after.text)
    tail = 0
    for before, after in zip(reversed(old), reversed(new), strict=False):
        if before != after:
            break
        tail += cells_in(after.text)
    return start, max(end - tail, start + 1)


def _cells(line: Line) -> int:
    return sum(cells_in(run.text) for run in line)


def _tag_at(line: Line, x: int) -> str:
    for run in line:
        x -= cells_in(run.text)
        if x < 0:
            return run.tag
    return ""
