"""What is read for a moment: the keys, or everything at once; Now stays in sight."""

from passbell.safety.cautions import ALL
from passbell.tui.keys import FUNCTIONS, Function, KeyMap, shown
from passbell.tui.paint import Line, Run, cells_in, crop, fill, full, spread, wrap
from passbell.tui.widgets.painted import Scrolled
from passbell.tui.widgets.timeline import key_to_lines

_HELD = "0-9 ↑↓ Esc: probe, row, drop"
"""Keys that are the same everywhere."""

_NARROW = 60
"""Cells beneath which the line above a sheet says less."""


class Cover(Scrolled):
    """Lines to read, which scroll when there are too many."""

    GROUND = "over"

    def __init__(self) -> None:
        super().__init__("cover")
        self._title = ""
        self._keys: KeyMap | None = None
        self._texts: tuple[str, ...] = ()
        self._top = 0
        self._most = 0

    def show_keys(self, keys: KeyMap) -> None:
        """Show all keys, and the cautions after them."""
        own = " ".join(shown(key) for key in keys.keys["help"])
        self._title, self._keys, self._texts, self._top = f"KEYS  {own}   {_HELD}", keys, (), 0
        self.look_again()

    def show_texts(self, title: str, texts: tuple[str, ...]) -> None:
        """Show these lines."""
        self._title, self._keys, self._texts, self._top = title, None, texts, 0
        self.look_again()

    def renew(self, texts: tuple[str, ...]) -> None:
        """The same lines as they are now, read on from where they are."""
        if texts != self._texts:
            self._texts = texts
            self.look_again()

    def scroll_by(self, by: int) -> None:
        """Read on, or back."""
        top = max(0, min(self._most, self._top + by))
        if top != self._top:
            self._top = top
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room."""
        if self._keys is not None:
            body = draw_help(self._keys, width - 5) + _texts(ALL, width - 5)
        else:
            body = _texts(self._texts, width - 5)
        self._most = max(0, len(body) - (height - 1))
        top = min(self._top, self._most)
        more = "↓ reads on  " if top < self._most else ""
        close = "Esc closes, keys work  " if width >= _NARROW else "Esc closes "
        head = spread(
            (Run(f"   {self._title}", "over.strong"),),
            (Run(f"{more}{close}", "over.soft", "cover:close"),),
            width,
            "over",
        )
        shown_lines = body[top : top + height - 1]
        return [head, *[(Run("   ", "over"), *line) for line in shown_lines]]


def _texts(texts: tuple[str, ...], width: int) -> list[Line]:
    return [(Run(part, "over"),) for text in texts for part in wrap(text, width, 6) or [""]]


def draw_help(keys: KeyMap, width: int) -> list[Line]:
    """All functions with their keys, in columns, then the signs."""
    columns = 3 if width >= 140 else 2 if width >= 70 else 1
    column = width // columns
    named = 13 if columns > 1 else 9
    entries = [_entry(f, keys, column, named) for f in FUNCTIONS if f.name != "help"]
    rows = -(-len(entries) // columns)
    lines = [tuple(run for entry in entries[y::rows] for run in entry) for y in range(rows)]
    signs = " ".join(f"{sign}{words}" for sign, words in key_to_lines())
    return [*lines, *[(Run(part, "over.soft"),) for part in wrap(signs, width, 4)]]


def _entry(function: Function, keys: KeyMap, width: int, named: int) -> Line:
    """A function with all its keys, or as many as fit in `named` cells, and what it does."""
    tag = f"key:{function.name}"
    own = [shown(key) for key in keys.keys[function.name]]
    while len(own) > 1 and cells_in(" ".join(own)) > named:
        own.pop()
    does = Run(function.says, "over", tag)
    line = (Run(fill(" ".join(own), named), "over.key", tag), Run(" ", "over"), does)
    return full(crop(line, width - 1), width, "over")
