"""Choose a plan: the titles, and of the chosen one all that helps to choose."""

from pathlib import Path
from typing import ClassVar

from textual.message import Message

from passbell.tui.desk import Desk
from passbell.tui.doors import Preparation, Records, Shelf
from passbell.tui.paint import Line, Run, cells_in, cut, fill, full, wrap
from passbell.tui.screens.page import PageKey, PageScreen
from passbell.tui.views.plans import PlanSummary, PlansView
from passbell.tui.widgets.page import Drawn

_LEAST_TITLE = 24
"""Cells for a title and its mark; with fewer the title stands alone."""


class PlansScreen(PageScreen, inherit_bindings=False):
    """The list of plans.

    Args:
        shelf: the plans there are.
        interval: seconds between two looks at the shelf.
        letters: whether letters are keys.
    """

    KEYS: ClassVar[tuple[PageKey, ...]] = (
        PageKey("open", "open", ("enter", "right", "d")),
        PageKey("resume", "go on with it", ("r", "f5")),
        PageKey("edit", "edit", ("e", "f3")),
        PageKey("runs", "runs", ("u", "f6")),
        PageKey("colours", "light/dark", ("k", "]")),
        PageKey("leave", "leave", ("x", "f2")),
    )

    HINT: ClassVar[str] = "↑ ↓ choose a plan, Enter opens it"

    class Opened(Message):
        """A plan was made ready."""

        def __init__(self, preparation: Preparation) -> None:
            super().__init__()
            self.preparation = preparation

    class Resumed(Message):
        """An unfinished cook was taken up."""

        def __init__(self, desk: Desk) -> None:
            super().__init__()
            self.desk = desk

    class Runs(Message):
        """The record of cooks is wanted."""

        def __init__(self, records: Records) -> None:
            super().__init__()
            self.records = records

    def __init__(self, shelf: Shelf, interval: float = 2.0, letters: bool = True) -> None:
        super().__init__(interval, letters)
        self._shelf = shelf
        self._view = PlansView(())

    def refresh_view(self) -> str:
        """Ask the shelf again; what was chosen stays chosen when plans come or go before it."""
        chosen = self._view.plans[self._chosen].key if self._view.plans else ""
        self._view = self._shelf.look()
        self._choose(chosen)
        return self._view.message

    def _choose(self, key: str) -> None:
        keys = [plan.key for plan in self._view.plans]
        if key in keys:
            self._chosen = keys.index(key)

    def choices(self) -> int:
        """How many plans there are."""
        return len(self._view.plans)

    def clicked(self, choice: int) -> None:
        """A click chooses; it does not open."""

    def do(self, name: str) -> None:
        """Open the chosen plan or edit it, go on with its unfinished cook, or show the runs."""
        if name == "runs":
            self.post_message(self.Runs(self._shelf.records()))
            return
        if not self._view.plans:
            return
        chosen = self._view.plans[self._chosen]
        if name == "edit":
            path = self._shelf.to_edit(chosen.key)
            if path is not None:
                self.post_message(self.Edit(self, path))
            return
        if name == "resume":
            desk = self._shelf.resume(chosen.key)
            if desk is None:
                self._say("There is no unfinished cook of this plan.", answer=True)
            else:
                self.post_message(self.Resumed(desk))
            return
        preparation = self._shelf.open(chosen.key)
        if preparation is not None:
            self.post_message(self.Opened(preparation))

    def edited(self, path: Path, trouble: str) -> None:
        """Choose what was edited: a copy may be new in the list."""
        self._look()
        self._choose(str(path))
        self._told = trouble or self._told
        self._look()

    def draw(self, width: int) -> Drawn:
        """Titles above, the chosen one beneath; beside each other where there is room."""
        return draw_plans(self._view, self._chosen, width)


def draw_plans(view: PlansView, chosen: int, width: int) -> Drawn:
    """The list and the summary of the chosen plan."""
    head: list[Line] = [(), (Run("   PLANS", "strong"),), ()]
    if not view.plans:
        texts = ["There is no plan yet. They are looked for here:", *view.places]
        return Drawn([*head, *[(Run(f"   {text}", "plain"),) for text in texts]])
    wide = width >= 110
    room = width // 2 if wide else width
    flags = [_flag(plan) for plan in view.plans]
    longest = max(cells_in(flag) for flag in flags)
    if room < _LEAST_TITLE + longest:  # what is to be known of a plan stands in its summary too
        flags, longest = [""] * len(flags), 0
    titles = [
        _title(fill(plan.title, room - longest - (8 if wide else 6)), flag, place, place == chosen)
        for place, (plan, flag) in enumerate(zip(view.plans, flags, strict=True))
    ]
    summary = draw_summary(view.plans[chosen], width - room - 6 if wide else width - 6)
    if wide:
        rows = max(len(titles), len(summary))
        both = zip(_to(titles, rows), _to(summary, rows), strict=True)
        lines = [(*full(left, room, "plain"), *right) for left, right in both]
        return Drawn([*head, *lines], fixed=len(head), keep=len(head) + chosen)
    body = [*titles, (), *[(Run("   "), *line) for line in summary]]
    return Drawn([*head, *body], fixed=len(head), keep=len(head) + chosen)


def _to(lines: list[Line], rows: int) -> list[Line]:
    return [*lines, *[()] * (rows - len(lines))]


def _flag(plan: PlanSummary) -> str:
    """What to know about a plan before opening it, in a word or two."""
    if plan.unfinished:
        return "unfinished"
    if not plan.readable:
        return "cannot be read"
    if plan.problems:
        return f"{len(plan.problems)} to look at"
    return "yours" if plan.own else ""


def _title(title: str, flag: str, place: int, chosen: bool) -> Line:
    tag = f"choice:{place}"
    return (
        Run(" ▸ " if chosen else "   ", "strong", tag),
        Run(title, "picked" if chosen else "plain", tag),
        Run("  "),
        Run(flag, "off", tag),
    )


def draw_summary(plan: PlanSummary, width: int) -> list[Line]:
    """One plan: for how many, how long, how hot, what is in it, and what was found."""
    facts = [
        ("serves", plan.serves),
        ("time in all", _hours(plan.total)),
        ("hands-on", _hours(plan.hands)),
        ("heat", "; ".join(plan.temperatures)),
        ("dishes", ", ".join(plan.components)),
        ("unfinished", plan.unfinished),
    ]
    lines: list[Line] = [(Run(cut(plan.title, width), "strong"),)]
    for name, value in facts:
        for n, text in enumerate(wrap(value, width - 14, 4)):
            lines.append((Run(fill("" if n else name, 13), "soft"), Run(text, "plain")))
    for problem in plan.problems:
        for n, text in enumerate(wrap(problem, width - 14, 4)):
            lines.append((Run(fill("" if n else "look at", 13), "off"), Run(text, "plain")))
    if plan.readable and not plan.problems:
        lines.append((Run(fill("look at", 13), "soft"), Run("nothing found", "plain")))
    return lines


def _hours(seconds: int) -> str:
    if seconds <= 0:
        return ""
    hours, minutes = divmod(round(seconds / 60), 60)
    return f"{hours} h {minutes:02} min" if hours else f"{minutes} min"
