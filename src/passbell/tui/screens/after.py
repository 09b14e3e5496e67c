"""After the cook: as planned and as cooked, how it turned out, and one change for next time."""

from typing import ClassVar, cast

from textual.message import Message

from passbell.tui.doors import AfterKind, Aftermath, Revising
from passbell.tui.paint import Line, Run, fill, minutes_off, spread, wrap
from passbell.tui.screens.page import PageKey, PageScreen
from passbell.tui.views.after import AfterRow, AfterView, Score
from passbell.tui.widgets.page import Drawn

_SCORES: dict[str, Score] = {"under": "under", "right": "just right", "over": "over"}


class AfterScreen(PageScreen, inherit_bindings=False):
    """The record of the cook just ended.

    Args:
        aftermath: the record.
        interval: seconds between two looks.
        letters: whether letters are keys.
    """

    KEYS: ClassVar[tuple[PageKey, ...]] = (
        PageKey("under", "under", ("u", "f6", "left")),
        PageKey("right", "just right", ("r", "f5", "enter")),
        PageKey("over", "over", ("o", "f7", "right")),
        PageKey("note", "note", ("n", "f11")),
        PageKey("change", "one change", ("c", "f8")),
        PageKey("yield", "yield", ("y", "f9")),
        PageKey("leftovers", "leftovers", ("l", "f10")),
        PageKey("revise", "what runs ask for", ("v", "f12")),
        PageKey("colours", "light/dark", ("k", "]")),
        PageKey("leave", "leave", ("x", "f2")),
    )
    HINT: ClassVar[str] = "↑ ↓ choose a component, then say how it turned out"
    QUESTIONS: ClassVar[dict[str, tuple[str, str]]] = {
        "note": ("note", "about the chosen component"),
        "change": ("next time", "one change and its reason; it is kept with the plan"),
        "yield": ("yield", "how much it made, such as 4 plates or 1.2 kg"),
        "leftovers": ("leftovers", "what is left and where it went"),
    }

    class Revise(Message):
        """What the runs of this plan ask for is wanted."""

        def __init__(self, revising: Revising) -> None:
            super().__init__()
            self.revising = revising

    def __init__(self, aftermath: Aftermath, interval: float = 1.0, letters: bool = True) -> None:
        super().__init__(interval, letters)
        self._aftermath = aftermath
        self._view = aftermath.look()
        self._told = self._view.message

    @property
    def aftermath(self) -> Aftermath:
        """The record of the cook."""
        return self._aftermath

    def refresh_view(self) -> str:
        """Ask for the record again."""
        self._view = self._aftermath.look()
        return self._view.message

    def choices(self) -> int:
        """How many components there are."""
        return len(self._view.rows)

    def do(self, name: str) -> None:
        """Say how the chosen component turned out, or ask what the runs ask for."""
        if name == "revise":
            revising = self._aftermath.revise()
            if revising is not None:
                self.post_message(self.Revise(revising))
            return
        if name in _SCORES and self._view.rows:
            self._aftermath.judge(self._chosen, _SCORES[name])

    def answer(self, kind: str, text: str) -> bool:
        """Write it down."""
        row = self._chosen if kind == "note" and self._view.rows else None
        return self._aftermath.ask(cast(AfterKind, kind), text, row)

    def draw(self, width: int) -> Drawn:
        """The page."""
        return draw_after(self._view, self._chosen, width)


def draw_after(view: AfterView, chosen: int, width: int) -> Drawn:
    """Dish-up, each component, then what is written down about the meal."""
    room = width - 6
    head = _head(view, room)
    body: list[Line] = []
    keep = None
    for place, row in enumerate(view.rows):
        if place == chosen:
            keep = len(head) + len(body)
        body += _row(row, place, place == chosen, room)
    body += [(), *_written(view, room)]
    lines: list[Line] = [(Run("   "), *line) for line in [*head, *body]]
    return Drawn(lines, fixed=len(head), keep=keep)


def _head(view: AfterView, width: int) -> list[Line]:
    flag = (Run(" rehearsal ", "picked"), Run(" ")) if view.rehearsal else ()
    off = "off" if abs(view.drift) >= 30 else "soft"
    return [
        spread((*flag, Run(view.title, "strong")), (Run(view.date, "soft"),), width, "plain"),
        (Run("dish up planned ", "soft"), Run(view.planned, "plain"), Run(", cooked ", "soft"),
         Run(view.cooked, "strong"), Run(f"  {minutes_off(view.drift)}", off)),
        (),
        (Run("  " + fill("COMPONENT", _name(width)) + fill("PLANNED", 9) + fill("COOKED", 9)
             + fill("OFF BY", 9) + "OUTCOME", "soft"),),
    ]  # fmt: skip


def _name(width: int) -> int:
    return max(12, min(28, width // 3))


def _row(row: AfterRow, place: int, chosen: bool, width: int) -> list[Line]:
    tag = f"choice:{place}"
    outcome = row.score or "not said"
    line = (
        Run("▸ " if chosen else "  ", "strong", tag),
        Run(fill(row.name, _name(width)), "picked" if chosen else "strong", tag),
        Run(fill(row.planned, 9), "plain", tag),
        Run(fill(row.cooked or "never", 9), "plain", tag),
        Run(
            fill(minutes_off(row.drift) if row.cooked else "", 9),
            "off" if abs(row.drift) >= 30 else "soft",
            tag,
        ),
        Run(outcome, "strong" if row.score else "soft", tag),
        Run(f"   {row.verdict}" if row.verdict else "", "plain", tag),
    )
    note = [(Run("    "), Run(text, "soft")) for text in wrap(row.note, width - 4, 3)]
    return [line, *note]


def _written(view: AfterView, width: int) -> list[Line]:
    facts = [
        ("next time", view.change or "not said yet: one change, with its reason"),
        ("yield", view.made),
        ("leftovers", view.leftovers),
        ("keep cold", view.reminder),
        *[("noted", note) for note in view.notes],
    ]
    lines: list[Line] = []
    for name, value in facts:
        role, most = ("off", 9) if name == "keep cold" else ("soft", 4)
        for n, text in enumerate(wrap(value, width - 12, most)):
            lines.append((Run(fill("" if n else name, 11), role), Run(" "), Run(text, "plain")))
    return lines
