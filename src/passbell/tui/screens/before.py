"""Before the start: the time plan, what to gather, when to serve."""

from pathlib import Path
from typing import ClassVar, cast

from textual.message import Message

from passbell.tui.desk import Desk
from passbell.tui.doors import Preparation, PrepareKind
from passbell.tui.paint import Line, Run, cut, fill, full, span, spread, wrap
from passbell.tui.screens.page import PageKey, PageScreen
from passbell.tui.views.before import BeforeView, GatherItem, TimeRow
from passbell.tui.widgets.page import Drawn
from passbell.tui.widgets.timeline import draw_scale, draw_timeline


class BeforeScreen(PageScreen, inherit_bindings=False):
    """A plan made ready.

    Args:
        preparation: the plan.
        interval: seconds between two looks.
        letters: whether letters are keys.
    """

    GOES_BACK: ClassVar[bool] = True
    KEYS: ClassVar[tuple[PageKey, ...]] = (
        PageKey("start", "start", ("enter", "f5")),
        PageKey("tick", "tick off", ("d", "right", "space", "insert")),
        PageKey("serve", "serve at", ("v", "f12")),
        PageKey("people", "people", ("p", "f7")),
        PageKey("size", "sizes", ("s", "f6")),
        PageKey("mode", "other mode", ("m", "f4")),
        PageKey("thermometer", "thermometer", ("t", "f8")),
        PageKey("chart", "chart", ("c", "f9")),
        PageKey("unit", "°F/°C", ("u", "f10")),
        PageKey("edit", "edit", ("e", "f3")),
        PageKey("colours", "light/dark", ("k", "]")),
        PageKey("leave", "back", ("x", "f2")),
    )
    QUESTIONS: ClassVar[dict[str, tuple[str, str]]] = {
        "serve": ("serve", "now, a clock time such as 18:45, or in 90 min"),
        "mode": ("other mode today", "chicken=bake 375 F, then by model or by a rule; as written"),
        "size": ("size today", "such as chicken=38mm; as written: sizes as in the plan"),
        "people": ("for how many", "such as 4; with a way out of a full tray: 4 way 1"),
        "thermometer": ("it shows", "33F in ice water; where water boils, 211F at 300 m"),
    }

    class Started(Message):
        """The cook has begun."""

        def __init__(self, desk: Desk) -> None:
            super().__init__()
            self.desk = desk

    def __init__(
        self, preparation: Preparation, interval: float = 1.0, letters: bool = True
    ) -> None:
        super().__init__(interval, letters)
        self._preparation = preparation
        self._view = preparation.look()
        self._told = self._view.message

    def let_go(self) -> None:
        """Let go of the plan."""
        self._preparation.close()

    @property
    def preparation(self) -> Preparation:
        """The plan made ready."""
        return self._preparation

    def refresh_view(self) -> str:
        """Ask for the plan as it stands now."""
        self._view = self._preparation.look()
        return self._view.message

    def choices(self) -> int:
        """How many things there are to gather."""
        return len(self._view.gather)

    def clicked(self, choice: int) -> None:
        """A click ticks."""
        self._preparation.tick_off(choice)

    def do(self, name: str) -> None:
        """Start, tick off, edit, or change chart and unit."""
        if name == "start":
            desk = self._preparation.start()
            if desk is not None:
                self.post_message(self.Started(desk))
        elif name == "tick":
            if self._view.gather:
                self._preparation.tick_off(self._chosen)
        elif name == "edit":
            path = self._preparation.to_edit()
            if path is not None:
                self.post_message(self.Edit(self, path))
        elif name == "chart":
            self._preparation.press("chart")
        elif name == "unit":
            self._preparation.press("unit")

    def edited(self, path: Path, trouble: str) -> None:
        """Show the plan as it is now."""
        self._told = trouble or self._told
        self._look()

    def answer(self, kind: str, text: str) -> bool:
        """Give the answer to the plan; what comes of it is brought into sight."""
        self._page.to_told()
        return self._preparation.ask(cast(PrepareKind, kind), text)

    def draw(self, width: int) -> Drawn:
        """The page."""
        return draw_before(self._view, self._chosen, width)


def draw_before(view: BeforeView, chosen: int, width: int) -> Drawn:
    """Cautions first, then times, time lines, what to gather, and the table."""
    room = width - 6
    head = _head(view, room)
    read, told = _cautions(view, room), _told(view, room)
    body = [*read, *told, *_problems(view, room), *_lines(view, room), ()]
    gather = _gather(view.gather, chosen, room // 2 if width >= 110 else room)
    table = _table(view.table, room - room // 2 - 3 if width >= 110 else room)
    start = len(head) + len(body)
    keep = start + 1 + chosen if view.gather else None
    if width >= 110:
        rows = max(len(gather), len(table))
        left = [full(line, room // 2 + 3, "plain") for line in _to(gather, rows)]
        body += [(*a, *b) for a, b in zip(left, _to(table, rows), strict=True)]
    else:
        body += [*gather, (), *table]
    indented: list[Line] = [(Run("   "), *line) for line in [*head, *body]]
    first = len(head) + len(read) if told or view.problems else None
    return Drawn(indented, fixed=len(head), keep=keep, told=first)


def _to(lines: list[Line], rows: int) -> list[Line]:
    return [*lines, *[()] * (rows - len(lines))]


def _head(view: BeforeView, width: int) -> list[Line]:
    serves = f", serves {view.serves}" if view.serves else ""
    title = (Run(view.title, "strong"), Run(serves, "plain"))
    wait = f", in {span(view.start_in)}" if view.start_in > 0 else ", now"
    start = f"{view.start}{wait}" if view.start != "now" else "now"
    times = (
        Run("start ", "soft"), Run(start, "strong"), Run("   dish up ", "soft"),
        Run(view.dish_up, "strong"), Run(f"   {view.serving}", "plain"),
    )  # fmt: skip
    return [
        spread(title, (Run(view.clock, "strong"),), width, "plain"),
        times,
        (Run(cut(view.thermometer, width), "soft"),),
        (),
    ]


def _cautions(view: BeforeView, width: int) -> list[Line]:
    if not view.cautions:
        return []
    lines: list[Line] = [(Run(" READ BEFORE THE FIRST COOK ", "alert"),)]
    lines += [(Run(text, "strong"),) for c in view.cautions for text in wrap(c, width, 4)]
    return [*lines, ()]


def _problems(view: BeforeView, width: int) -> list[Line]:
    lines: list[Line] = []
    for problem in view.problems:
        texts = wrap(problem, width - 11, 4)
        lines += [(Run(" look at " if not n else " " * 9, "alert" if not n else "plain"),
                   Run(" "), Run(text)) for n, text in enumerate(texts)]  # fmt: skip
    return [*lines, ()] if lines else []


def _told(view: BeforeView, width: int) -> list[Line]:
    """What is otherwise today; what is wrong with it stands right beneath."""
    told = (*view.sizes, *view.amounts, *view.kitchen)
    lines: list[Line] = [(Run(text),) for note in told for text in wrap(note, width, 4)]
    return [*lines, *([] if view.problems else [()])] if told else []


def _lines(view: BeforeView, width: int) -> list[Line]:
    name = max(8, min(22, width // 4))
    room = max(0, width - name - 1)
    scale = (Run(" " * (name + 1)), *draw_scale(view.span, 0, room, "start"))
    return [scale, *[
        (Run(fill(line.name, name), "strong"), Run(" "),
         *draw_timeline(line.segments, line.ticks, view.span, None, room))
        for line in view.lines
    ]]  # fmt: skip


def _gather(items: tuple[GatherItem, ...], chosen: int, width: int) -> list[Line]:
    done = sum(item.ticked for item in items)
    lines: list[Line] = [(Run(f"TO GATHER {done} of {len(items)}", "soft"),)]
    for place, item in enumerate(items):
        mark = "▸" if place == chosen else " "
        box = "[x]" if item.ticked else "[ ]"
        role = "picked" if place == chosen else "soft" if item.ticked else "plain"
        text = f"{item.text} ({item.component})" if item.component else item.text
        tag = f"choice:{place}"
        lines.append((Run(f"{mark}{box} ", "strong", tag), Run(cut(text, width - 6), role, tag)))
    return lines


def _table(rows: tuple[TimeRow, ...], width: int) -> list[Line]:
    lines: list[Line] = [(Run(fill("TIME", 8) + fill("ACT", 12) + "WHAT", "soft"),)]
    for row in rows:
        hands = f" {row.hands // 60} min hands-on" if row.hands >= 60 else ""
        text = f"{row.what}: {row.text}" if row.text else row.what
        lines.append((
            Run(fill(row.clock, 8), "strong"), Run(fill(row.act, 12), "prep"),
            Run(cut(text, max(0, width - 20 - len(hands))), "plain"), Run(hands, "soft"),
        ))  # fmt: skip
    return lines
