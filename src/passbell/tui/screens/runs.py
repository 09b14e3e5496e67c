"""The record of cooks: the list, and two or more of them side by side."""

from typing import ClassVar

from textual.message import Message

from passbell.tui.doors import Records, Revising
from passbell.tui.paint import Line, Run, cut, fill, wrap
from passbell.tui.screens.page import PageKey, PageScreen
from passbell.tui.screens.runs_page import draw_beside, draw_ready
from passbell.tui.views.runs import RunLine, RunsView
from passbell.tui.widgets.page import Drawn


class RunsScreen(PageScreen, inherit_bindings=False):
    """The runs there are.

    Args:
        records: the runs.
        interval: seconds between two looks.
        letters: whether letters are keys.
    """

    GOES_BACK: ClassVar[bool] = True
    KEYS: ClassVar[tuple[PageKey, ...]] = (
        PageKey("pick", "side by side", ("enter", "d", "space", "insert")),
        PageKey("one", "this one alone", ("o", "f6")),
        PageKey("revise", "what they ask for", ("r", "f5")),
        PageKey("colours", "light/dark", ("k", "]")),
        PageKey("leave", "back", ("x", "f2")),
    )
    HINT: ClassVar[str] = "↑ ↓ choose a cook, Enter puts it beside the others, PgDn reads on"

    class Revise(Message):
        """What the runs of a plan ask for is wanted."""

        def __init__(self, revising: Revising) -> None:
            super().__init__()
            self.revising = revising

    def __init__(self, records: Records, interval: float = 2.0, letters: bool = True) -> None:
        super().__init__(interval, letters)
        self._records = records
        self._view = RunsView(())

    def refresh_view(self) -> str:
        """Ask for the record again."""
        runs = self._view.runs
        chosen = runs[self._chosen].run if runs else None
        self._view = self._records.look(chosen)
        return self._view.message

    def choices(self) -> int:
        """How many runs there are."""
        return len(self._view.runs)

    def do(self, name: str) -> None:
        """Put the chosen run beside the others, or ask what the runs of its plan ask for."""
        if not self._view.runs:
            return
        run = self._view.runs[self._chosen].run
        if name == "pick":
            self._records.pick(run)
        elif name == "one":
            self._records.alone()
        elif name == "revise":
            revising = self._records.revise(run)
            if revising is not None:
                self.post_message(self.Revise(revising))

    def draw(self, width: int) -> Drawn:
        """The page in a terminal of 24 lines."""
        return draw_runs(self._view, self._chosen, width, 20)

    def _drawn(self, width: int, height: int) -> Drawn:
        return draw_runs(self._view, self._chosen, width, height)


def draw_runs(view: RunsView, chosen: int, width: int, height: int) -> Drawn:
    """A few lines of the list around the chosen run; beneath, what is looked at."""
    room = width - 6
    if not view.runs:
        text = "No cook is recorded yet: every cook is kept, without writing anything."
        return Drawn([(Run("   "), Run(line, "plain")) for line in wrap(text, room, 4)])
    head = _list(view.runs, chosen, room, max(3, min(8, height // 4)))
    body: list[Line] = []
    if view.trouble:
        body += [(Run(line, "off"),) for line in wrap(view.trouble, room, 6)]
    if view.beside is not None:
        body += draw_beside(view, view.beside, room)
    if view.ready is not None:
        body += [(), *draw_ready(view.ready, room)]
    lines: list[Line] = [(Run("   "), *line) for line in [*head, (), *body]]
    return Drawn(lines, fixed=len(head) + 1)


def _list(runs: tuple[RunLine, ...], chosen: int, width: int, rows: int) -> list[Line]:
    """So many lines of the list that the chosen run is among them."""
    first = max(0, min(chosen - rows // 2, len(runs) - rows))
    lines: list[Line] = [
        (Run(fill("  RUN", 8) + fill("", 4) + fill("COOKED", 18) + "MEAL", "soft"),)
    ]
    for place, run in enumerate(runs[first : first + rows], first):
        tag = f"choice:{place}"
        state = f"  {run.state}" if run.state != "finished" else ""
        lines.append((
            Run("▸ " if place == chosen else "  ", "strong", tag),
            Run(fill(str(run.run), 6), "picked" if place == chosen else "plain", tag),
            Run(fill(f"[{run.picked}]" if run.picked else "", 4), "strong", tag),
            Run(fill(run.date, 18), "plain", tag),
            Run(cut(run.title, max(8, width - 32 - len(state))), "plain", tag),
            Run(state, "off", tag),
        ))  # fmt: skip
    left = len(runs) - first - rows
    if left > 0:
        lines[-1] = (*lines[-1], Run(f"  ↓ {left} more", "soft"))
    return lines
