"""Pictures of a screen as SVG, drawn from its cells: no font is fetched, no colour is lost.

To write them anew after looking at them: PASSBELL_SNAPSHOTS=write pytest tests/tui/test_pictures.py
"""

import os
from collections.abc import Iterator
from html import escape
from pathlib import Path
from typing import Any, NamedTuple

from rich.cells import cell_len
from rich.style import Style
from textual.app import App
from textual.pilot import Pilot

from tests.tui.snapshots import PATIENCE

FOLDER = Path(__file__).parent / "pictures"
CELL, LINE = 10, 20
"""Width and height of a cell in the picture."""
BASELINE = 15
GROUND = "#0b0b0b"
_FONT = "monospace"

# A block as the share of its cell: left, top, width, height (Unicode, "Block Elements").
BLOCKS = {
    "█": (0.0, 0.0, 1.0, 1.0),
    "▀": (0.0, 0.0, 1.0, 0.5),
    "▄": (0.0, 0.5, 1.0, 0.5),
    "▌": (0.0, 0.0, 0.5, 1.0),
    "▐": (0.5, 0.0, 0.5, 1.0),
    "▏": (0.0, 0.0, 0.125, 1.0),
}


class Piece(NamedTuple):
    """Characters of one look in one line, all text or all blocks."""

    x: int
    text: str
    style: Style


def svg_of(app: App[Any]) -> str:
    """The screen as it stands, as one SVG."""
    width, height = app.size
    lines = app.screen._compositor.render_strips()
    drawn = [part for y, strip in enumerate(lines) for part in _line(y, strip)]
    return "\n".join([
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width * CELL} {height * LINE}" '
        f'font-family="{_FONT}" font-size="16.4" xml:space="preserve">',
        f'<rect width="100%" height="100%" fill="{GROUND}"/>',
        *drawn,
        "</svg>",
        "",
    ])  # fmt: skip


def _line(y: int, strip: Any) -> Iterator[str]:
    x = 0
    pieces: list[Piece] = []
    for segment in strip:
        style = segment.style or Style()
        cells = cell_len(segment.text)
        if (ground := _ground(style)) != GROUND:
            yield _rect(x, y, (0, 0, cells, 1), ground)
        pieces += _pieces(x, segment.text, style)
        x += cells
    for piece in pieces:
        yield from _blocks(piece, y) if piece.text[0] in BLOCKS else _text(piece, y)


def _pieces(x: int, text: str, style: Style) -> Iterator[Piece]:
    """The characters parted where blocks begin and end, and at wide blanks."""
    start, piece = x, ""
    for char in f"{text}\0":
        joined = piece and (char == piece[-1] if piece[-1] in BLOCKS else char not in BLOCKS)
        if piece and (not joined or char == "\0" or (char == piece[-1] == " ")):
            if piece.strip():
                blank = cell_len(piece) - cell_len(piece.lstrip(" "))
                yield Piece(start + blank, piece.strip(" "), style)
            start, piece = start + cell_len(piece), ""
        piece += char


def _blocks(piece: Piece, y: int) -> Iterator[str]:
    left, top, width, height = BLOCKS[piece.text[0]]
    if width == 1.0:
        yield _rect(piece.x, y, (0, top, len(piece.text), height), _front(piece.style))
    else:
        for place in range(len(piece.text)):
            yield _rect(piece.x + place, y, (left, top, width, height), _front(piece.style))


def _text(piece: Piece, y: int) -> Iterator[str]:
    bold = ' font-weight="bold"' if piece.style.bold else ""
    wide = cell_len(piece.text) * CELL
    yield (
        f'<text x="{piece.x * CELL}" y="{y * LINE + BASELINE}" textLength="{wide}" '
        f'fill="{_front(piece.style)}"{bold}>{escape(piece.text)}</text>'
    )


def _rect(x: int, y: int, share: tuple[float, float, float, float], fill: str) -> str:
    left, top, width, height = share
    return (
        f'<rect x="{(x + left) * CELL:g}" y="{(y + top) * LINE:g}" width="{width * CELL:g}" '
        f'height="{height * LINE:g}" fill="{fill}" shape-rendering="crispEdges"/>'
    )


def _front(style: Style) -> str:
    return style.color.get_truecolor().hex if style.color else "#e4e4e4"


def _ground(style: Style) -> str:
    return style.bgcolor.get_truecolor().hex if style.bgcolor else GROUND


async def check_picture(name: str, pilot: Pilot[None]) -> None:
    """Hold the screen, once it has settled, against the picture of that name."""
    path = FOLDER / f"{name}.svg"
    wanted = path.read_text(encoding="utf-8") if path.exists() else ""
    for _ in range(PATIENCE):
        drawn = svg_of(pilot.app)
        if drawn == wanted:
            return
        await pilot.pause(0.01)
    if os.environ.get("PASSBELL_SNAPSHOTS") == "write":
        FOLDER.mkdir(exist_ok=True)
        path.write_text(drawn, encoding="utf-8")
        return
    raise AssertionError(f"{name} looks different")
