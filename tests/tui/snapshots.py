"""Text snapshots of a screen: what it shows, as lines, beside the tests.

To write them anew after looking at them: PASSBELL_SNAPSHOTS=write pytest tests/tui
"""

import os
from pathlib import Path
from typing import Any

from rich.style import Style
from textual.app import App

FOLDER = Path(__file__).parent / "snapshots"


def text_of(app: App[Any]) -> str:
    """The cells of the screen as text, trailing blanks cut."""
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips)


def cells_of(app: App[Any]) -> list[tuple[str, Style]]:
    """The texts on the screen and how each looks."""
    strips = app.screen._compositor.render_strips()
    return [(seg.text, seg.style or Style()) for strip in strips for seg in strip]


def check(name: str, text: str) -> None:
    """Hold the text against the file of that name."""
    path = FOLDER / f"{name}.txt"
    if os.environ.get("PASSBELL_SNAPSHOTS") == "write":
        FOLDER.mkdir(exist_ok=True)
        path.write_text(text + "\n", encoding="utf-8")
    assert text + "\n" == path.read_text(encoding="utf-8"), f"{name} looks different"
