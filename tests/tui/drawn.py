"""Drawn lines as plain text, for the tests of what widgets draw."""

from passbell.tui.paint import Line
from passbell.tui.views.model import Row
from passbell.tui.widgets.rows import columns, draw_row, draw_steady


def text(line: Line) -> str:
    """The words of one line, without their colours."""
    return "".join(run.text for run in line)


def texts(lines: list[Line]) -> str:
    """The words of several lines, one beneath the other."""
    return "\n".join(map(text, lines))


def row_lines(row: Row, width: int, lines: int = 1) -> list[Line]:
    """A row of the components, drawn at 1500 of 2700 seconds."""
    cells = columns(width)
    return draw_row(row, cells, draw_steady(row, cells, (0, 2700), 1500, lines), lines)
