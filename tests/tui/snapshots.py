"""Text snapshots of a screen: what it shows, as lines, beside the tests.

To write them anew after looking at them: PASSBELL_SNAPSHOTS=write pytest tests/tui
"""

import os
from pathlib import Path
from typing import Any

from rich.style import Style
from textual.app import App
from textual.pilot import Pilot

FOLDER = Path(__file__).parent / "snapshots"
PATIENCE = 100
"""How often a screen is looked at before it is said to differ; a busy machine draws late."""


def text_of(app: App[Any]) -> str:
    """The cells of the screen as text, trailing blanks cut."""
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips)


def cells_of(app: App[Any]) -> list[tuple[str, Style]]:
    """The texts on the screen and how each looks."""
    strips = app.screen._compositor.render_strips()
    return [(seg.text, seg.style or Style()) for strip in strips for seg in strip]


async def check(name: str, pilot: Pilot[None]) -> None:
    """Hold what the screen shows, once it has settled, against the file of that name."""
    path = FOLDER / f"{name}.txt"
    wanted = path.read_text(encoding="utf-8") if path.exists() else ""
    for _ in range(PATIENCE):
        text = text_of(pilot.app)
        if text + "\n" == wanted:
            return
        await pilot.pause(0.01)
    if os.environ.get("PASSBELL_SNAPSHOTS") == "write":
        FOLDER.mkdir(exist_ok=True)
        path.write_text(text + "\n", encoding="utf-8")
        return
    raise AssertionError(f"{name} looks different:\n{text}")
