"""What the runs of a plan ask to be changed, taken one by one."""

from typing import ClassVar

from passbell.tui.doors import Revising
from passbell.tui.paint import Line, Run, cut, wrap
from passbell.tui.screens.page import PageKey, PageScreen
from passbell.tui.screens.runs_page import draw_ready
from passbell.tui.views.revise import ReviseView
from passbell.tui.widgets.page import Drawn


class ReviseScreen(PageScreen, inherit_bindings=False):
    """A plan and what its runs ask for; nothing is written until it is taken.

    Args:
        revising: the plan.
        interval: seconds between two looks.
        letters: whether letters are keys.
    """

    GOES_BACK: ClassVar[bool] = True
    KEYS: ClassVar[tuple[PageKey, ...]] = (
        PageKey("take", "take this change", ("t", "f5")),
        PageKey("colours", "light/dark", ("k", "]")),
        PageKey("leave", "back", ("x", "f2")),
    )
    HINT: ClassVar[str] = "↑ ↓ choose a change; the plan as it was stays beside the new one"

    def __init__(self, revising: Revising, interval: float = 2.0, letters: bool = True) -> None:
        super().__init__(interval, letters)
        self._revising = revising
        self._view = revising.look()
        self._told = self._view.message

    def refresh_view(self) -> str:
        """Ask for the plan as it stands now."""
        self._view = self._revising.look()
        return self._view.message

    def choices(self) -> int:
        """How many changes are asked for."""
        return len(self._view.asked)

    def do(self, name: str) -> None:
        """Take the chosen change."""
        if name == "take" and self._view.asked:
            self._revising.take(self._view.asked[self._chosen])

    def draw(self, width: int) -> Drawn:
        """The page."""
        return draw_revise(self._view, self._chosen, width)


def draw_revise(view: ReviseView, chosen: int, width: int) -> Drawn:
    """The plan, each change with its reason, and whether it is ready to be published."""
    room = width - 6
    cooks = f"{view.cooks} cook{'s' if view.cooks != 1 else ''} kept"
    head: list[Line] = [
        (Run(cut(view.title, room), "strong"), Run(f"  {cooks}", "soft")),
        (Run(cut(view.file, room), "soft"),),
        (),
    ]
    body: list[Line] = []
    keep = None
    for place, asked in enumerate(view.asked):
        keep = len(head) + len(body) if place == chosen else keep
        tag = f"choice:{place}"
        for n, text in enumerate(wrap(asked.change, room - 2, 3)):
            sign = "▸ " if place == chosen and not n else "  "
            role = "picked" if place == chosen else "strong"
            body.append((Run(sign, "strong", tag), Run(text, role, tag)))
        body += [(Run("    "), Run(text, "plain", tag)) for text in wrap(asked.reason, room - 4, 4)]
    if not view.asked:
        body.append((Run("The runs ask for no change.", "plain"),))
    body += _said(view, room)
    lines: list[Line] = [(Run("   "), *line) for line in [*head, *body]]
    return Drawn(lines, fixed=len(head), keep=keep)


def _said(view: ReviseView, width: int) -> list[Line]:
    texts = [*view.unheard]
    if len(view.asked) > 1 and not view.taken:
        texts.append("Take one: with one change a cook you know which one did it.")
    if view.taken > 1:
        texts.append(
            f"{view.taken} changes are taken: after the next cook you will not know which one "
            "did it."
        )
    texts += [view.wrote] if view.wrote else []
    texts += view.notes
    lines: list[Line] = [(Run(line, "soft"),) for text in texts for line in wrap(text, width, 3)]
    if view.ready is not None:
        lines += [(), *draw_ready(view.ready, width)]
    return [(), *lines]
