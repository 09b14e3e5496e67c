"""The components: every one, always, in the order of the plan."""

from typing import NamedTuple

from passbell.tui.paint import Line, Run, cells_in, crop, fill, full, minutes_off, span, width_of
from passbell.tui.views.change import besides, moved
from passbell.tui.views.model import CookView, Effect, Row
from passbell.tui.widgets.painted import Painted
from passbell.tui.widgets.timeline import column_of, draw_scale, draw_timeline

MOST_SHARE = 200
"""Per cent beyond which it is only said that it is more."""


class RowsPart(NamedTuple):
    """What the rows show of the whole view."""

    rows: tuple[Row, ...]
    span: tuple[int, int]
    now: int


def rows_part(view: CookView) -> RowsPart:
    """The part of the view that the rows show."""
    return RowsPart(view.rows, view.span, view.at)


class Columns(NamedTuple):
    """Cells for each part of a row; 0: left out."""

    name: int
    state: int
    words: int
    line: int
    left: int
    share: int
    drift: int


def columns(width: int) -> Columns:
    """The columns of a row of `width` cells."""
    if width < 60:
        return Columns(max(6, width - 29), 8, 0, 0, 7, 0, 7)
    if width < 100:
        name, state = (18, 17) if width < 90 else (20, 20)
        fixed = 3 + name + 1 + state + 1 + 8 + 8 + 1
        return Columns(name, state, 0, max(0, width - fixed), 7, 0, 8)
    name, words = (20, 26) if width < 150 else (28, 36)
    fixed = 3 + name + 1 + 9 + words + 1 + 8 + 6 + 8 + 1
    return Columns(name, 8, words, max(0, width - fixed), 7, 5, 8)


class Rows(Painted):
    """One row to a component; scrolls when there are more than lines."""

    def __init__(self) -> None:
        super().__init__("rows", tailed=True)
        self._part: RowsPart | None = None
        self._top = 0
        self._kept: dict[int, tuple[object, Line]] = {}
        self.row_lines = 1
        self.scale = False

    def show(self, part: RowsPart) -> None:
        """Show these rows; a row that has just been selected is brought into sight."""
        if part == self._part:
            return
        before = self._part.rows if self._part else ()
        chosen = _chosen(part.rows)
        self._part = part
        if chosen is not None and chosen != _chosen(before):
            self._bring(chosen)
        self.look_again()

    def _shown(self) -> int:
        """How many rows fit; two lines are kept for what is out of sight."""
        assert self._part is not None
        lines = max(0, (self._place.height if self._place else 0) - self.scale)
        if len(self._part.rows) * self.row_lines <= lines:
            return len(self._part.rows)
        return max(1, (lines - 1) // self.row_lines)

    def _bring(self, row: int) -> None:
        shown = self._shown()
        self._top = max(row - shown + 1, min(self._top, row))

    def scroll_rows(self, by: int) -> None:
        """Move the rows in sight; selecting a row moves them too."""
        if self._part is None:
            return
        most = max(0, len(self._part.rows) - self._shown())
        top = max(0, min(most, self._top + by))
        if top != self._top:
            self._top = top
            self.look_again()

    def cut(self, width: int, height: int) -> int:
        """The figures at the right change every second."""
        cells = columns(width)
        share = cells.share + 1 if cells.share else 0
        return width - (cells.left + 1 + share + cells.drift + 1)

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room."""
        if self._part is None:
            return []
        rows, over, now = self._part
        cells = columns(width)
        drawn: list[Line] = [_heading(cells, over, now)] if self.scale else []
        shown = self._shown()
        self._top = max(0, min(self._top, len(rows) - shown))
        for place in range(self._top, min(len(rows), self._top + shown)):
            drawn += self._row(place, rows[place], cells, (over, now))
        if shown < len(rows):
            drawn.append(_out_of_sight(rows, self._top, shown))
        return drawn

    def _row(
        self, place: int, row: Row, cells: Columns, when: tuple[tuple[int, int], int]
    ) -> list[Line]:
        """One component; all but its figures is drawn anew only when it differs."""
        over, now = when
        looks = (row.name, row.state, row.words, row.alert, row.soon, row.expect, row.raw,
                 row.selected, row.wanted, row.pending, row.segments, row.ticks, cells, over,
                 column_of(now, over, max(1, cells.line)), self.row_lines)  # fmt: skip
        kept, tag = self._kept.get(place), f"row:{place}"
        if kept is None or kept[0] != looks:
            steady = _tagged(draw_steady(row, cells, over, now, self.row_lines), tag)
            kept = self._kept[place] = (looks, steady)
        first, *others = draw_row(row, cells, (), self.row_lines)
        return [(*kept[1], *_tagged(first, tag)), *(_tagged(line, tag) for line in others)]


def _chosen(rows: tuple[Row, ...]) -> int | None:
    return next((i for i, row in enumerate(rows) if row.selected), None)


def _tagged(line: Line, tag: str) -> Line:
    return tuple(run if run.tag == tag else run._replace(tag=tag) for run in line)


def _heading(cells: Columns, over: tuple[int, int], now: int) -> Line:
    before = 3 + cells.name + 1 + cells.state + 1 + cells.words + (1 if cells.words else 0)
    return (Run(" " * before), *draw_scale(over, now, cells.line), *_heads(cells))


def _heads(cells: Columns) -> Line:
    share = Run(fill("done", cells.share + 1, right=True), "soft") if cells.share else Run("")
    return (
        Run(fill("left", cells.left + 1, right=True), "soft"),
        share,
        Run(fill("off by", cells.drift, right=True), "soft"),
    )


def draw_row(row: Row, cells: Columns, steady: Line, lines: int) -> list[Line]:
    """One component in one line or more, from its `draw_steady` of as many lines."""
    return [(*steady, *_figures(row, cells)), *_second(row, cells, lines)]


def draw_steady(row: Row, cells: Columns, over: tuple[int, int], now: int, lines: int) -> Line:
    """A component without the figures at its right; an alert stands over words and time line."""
    mark = "▸" if row.selected else " "
    sign = "!" if row.alert else "◂" if row.wanted else " "
    role = "picked" if row.selected else "strong" if row.state != "waiting" else "plain"
    name = cells.name - (len(row.raw) + 1 if row.raw else 0)
    head: Line = (
        Run(mark, "strong"),
        Run(sign, "alert" if row.alert or row.wanted else "plain"),
        Run(" "),
        Run(fill(row.name, name), role),
        *((Run(" "), Run(row.raw, "raw")) if row.raw else ()),
        Run(" "),
    )
    return (*head, *_body(row, cells, over, now, lines))


def _body(row: Row, cells: Columns, over: tuple[int, int], now: int, lines: int) -> Line:
    room = cells.state + 1 + cells.words + (1 if cells.words else 0) + cells.line
    change = _change(row.pending)
    if row.alert and lines == 1:
        state = (*(change or (Run(fill(row.state, 8), _state_role(row)),)), Run(" "))
        alert = (Run(f" {row.alert} ", "alert"),)
        fits = width_of((*state, *alert)) <= room
        told = (*state, *alert) if fits else alert
        more = (Run(f" {row.expect}", "plain"),) if row.expect else ()
        told = (*told, *more) if width_of((*told, *more)) <= room else told
        return full(told, room, "plain")
    timeline = draw_timeline(row.segments, row.ticks, over, now, cells.line)
    if row.pending is not None:
        return _changed(change, besides(row.pending), room, timeline)
    words: Line
    if cells.words:
        facts = _joined(_clauses(_more(row), cells.words), row.expect, cells.words)
        words = (Run(fill(row.state, cells.state), _state_role(row)), Run(" "),
                 Run(fill(facts, cells.words), "plain"), Run(" "))  # fmt: skip
    else:
        text = row.words if row.words and cells.line else row.state
        text = _joined(_clauses(text, cells.state), row.soon, cells.state)
        words = (Run(fill(text, cells.state), _state_role(row)), Run(" "))
    return (*words, *timeline)


def _change(pending: Effect | None) -> Line:
    """By how much a change not yet taken moves it, as a sign that is seen first."""
    words = moved(pending) if pending is not None else ""
    return (Run(f" {words} ", "now.change"),) if words else ()


def _changed(change: Line, more: tuple[str, ...], room: int, timeline: Line) -> Line:
    """The change with what else it does; the time line stays where there is room beside it."""
    while more and width_of(change) + 1 + cells_in(", ".join(more)) > room:
        more = more[:-1]
    told = (*change, *((Run(f" {', '.join(more)}", "strong"),) if more else ()))
    before = room - width_of(timeline)
    if width_of(told) < before:
        return (*full(told, before, "plain"), *timeline)
    return full(told, room, "plain")


def _clauses(text: str, room: int) -> str:
    """The first clauses of a text that fit whole; at least one."""
    kept, *more = text.split(", ")
    for clause in more:
        if cells_in(f"{kept}, {clause}") > room:
            break
        kept = f"{kept}, {clause}"
    return kept


def _joined(text: str, expect: str, room: int) -> str:
    """Both where there is room; what is expected alone where there is not."""
    both = ", ".join(part for part in (text, expect) if part)
    return both if width_of((Run(both),)) <= room or not expect else expect


def _more(row: Row) -> str:
    """The words without the first where that says the state, which stands in its own column."""
    first, _, rest = row.words.partition(" ")
    return rest if first.rstrip(",:").startswith(row.state) else row.words


def _state_role(row: Row) -> str:
    roles = {"in": "cook", "prep": "prep", "resting": "rest", "holding": "hold"}
    return roles.get(row.state, "finish" if row.state == "finish" else "soft")


def _share(share: int | None) -> str:
    if share is None:
        return ""
    return f"{share}%" if share <= MOST_SHARE else f">{MOST_SHARE}%"


def _figures(row: Row, cells: Columns) -> Line:
    late = "+" if row.left is not None and row.left < 0 else ""
    left = "" if row.left is None else late + span(row.left)
    share = _share(row.share)
    drift = minutes_off(row.drift) if row.state not in ("skipped",) else ""
    return (
        Run(fill(left, cells.left + 1, right=True), "off" if late else "strong"),
        Run(fill(share, cells.share + 1, right=True) if cells.share else "", "plain"),
        Run(fill(drift, cells.drift, right=True), "soft" if abs(row.drift) < 30 else "off"),
    )


def _second(row: Row, cells: Columns, lines: int) -> list[Line]:
    if lines < 2:
        return []
    indent = Run(" " * (3 + cells.name + 1))
    alert = Run(f" ! {row.alert} ", "alert") if row.alert else Run("")
    return [(indent, alert), *([()] * (lines - 2))]


def _out_of_sight(rows: tuple[Row, ...], top: int, shown: int) -> Line:
    """How many rows are above and below, and what is urgent among them."""
    above, below = rows[:top], rows[top + shown :]
    urgent = [row.name for row in (*above, *below) if row.alert or row.wanted]
    words = f"   ▲ {len(above)} above  ▼ {len(below)} below"
    line: Line = (Run(words, "soft"),)
    if urgent:
        line = (*line, Run("  "), Run(f" now wanted: {', '.join(urgent)} ", "alert"))
    return crop(line, max(width_of(line), 1))
