"""What is read for a moment: the keys, or everything at once; Now stays in sight."""

from passbell.tui.keys import FUNCTIONS, KeyMap, shown
from passbell.tui.paint import Line, Run, crop, fill, full, spread, wrap
from passbell.tui.widgets.painted import Scrolled
from passbell.tui.widgets.timeline import key_to_lines


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
        """Show all keys."""
        own = " ".join(shown(key) for key in keys.keys["help"])
        self._title, self._keys, self._texts, self._top = f"KEYS  {own}", keys, (), 0
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
            body = draw_help(self._keys, width - 5)
        else:
            body = _texts(self._texts, width - 5)
        self._most = max(0, len(body) - (height - 1))
        top = min(self._top, self._most)
        more = "↓ reads on  " if top < self._most else ""
        head = spread(
            (Run(f"   {self._title}", "over.strong"),),
            (Run(f"{more}Esc closes, keys work  ", "over.soft", "cover:close"),),
            width,
            "over",
        )
        shown_lines = body[top : top + height - 1]
        return [head, *[(Run("   ", "over"), *line) for line in shown_lines]]


def _texts(texts: tuple[str, ...], width: int) -> list[Line]:
    return [(Run(part, "over"),) for text in texts for part in wrap(text, width, 6) or [""]]


def draw_help(keys: KeyMap, width: int) -> list[Line]:
    """All functions with their keys, in columns, then the fixed keys and the signs."""
    columns = 3 if width >= 140 else 2 if width >= 70 else 1
    column = width // columns
    entries = [_entry(f.name, f.says, keys, column) for f in FUNCTIONS if f.name != "help"]
    fixed = (Run(fill("0-9 ↑↓ Esc", 13), "over.key"), Run(" probe, row, drop", "over"))
    entries.append(full(crop(fixed, column - 1), column, "over"))
    rows = -(-len(entries) // columns)
    lines = [tuple(run for entry in entries[y::rows] for run in entry) for y in range(rows)]
    signs = " ".join(f"{sign}{words}" for sign, words in key_to_lines())
    return [*lines, *[(Run(part, "over.soft"),) for part in wrap(signs, width, 4)]]


def _entry(name: str, says: str, keys: KeyMap, width: int) -> Line:
    tag = f"key:{name}"
    all_keys = fill(" ".join(shown(key) for key in keys.keys[name]), 13)
    line = (Run(all_keys, "over.key", tag), Run(" ", "over"), Run(says, "over", tag))
    return full(crop(line, width - 1), width, "over")
