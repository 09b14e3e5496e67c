"""The keys, shown where they can be pressed; a message takes their place for a while."""

from collections.abc import Sequence

from passbell.tui.keys import FUNCTIONS, Function, KeyMap, standard
from passbell.tui.paint import Line, Run, width_of, wrap
from passbell.tui.widgets.painted import Painted


class KeyLine(Painted):
    """As many keys as fit, the most wanted first, and always the one for all keys."""

    def __init__(self, keys: KeyMap | None = None) -> None:
        super().__init__("keys")
        self._keys = keys or standard()
        self._first: tuple[str, ...] = ()
        self._message = ("", "notice")
        self._entries: list[Line] | None = None

    def set_entries(self, entries: Sequence[Line]) -> None:
        """Show these entries instead of the keys of the cook screen."""
        self._entries = list(entries)

    def want(self, first: tuple[str, ...]) -> None:
        """Put these functions first."""
        if first != self._first:
            self._first = first
            self.look_again()

    def say(self, text: str, role: str = "notice") -> None:
        """Show a message in place of the last line; empty: the keys again."""
        if (text, role) != self._message:
            self._message = (text, role)
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room."""
        text, role = self._message
        said = wrap(text, width - 5, height) if text else []
        if self._entries is None:
            drawn = draw_keys(self._keys, self._first, width, height)
        else:
            drawn = _filled(list(self._entries), width, height)
        kept = drawn[: height - len(said)]
        return [*kept, *[(Run("   "), Run(f" {line} ", role)) for line in said]]


def draw_keys(keys: KeyMap, first: Sequence[str], width: int, height: int) -> list[Line]:
    """The keys in so many cells.

    Args:
        keys: the keys.
        first: functions to put first.
        width: cells to draw in.
        height: lines to draw in.
    """
    order = sorted(FUNCTIONS, key=lambda f: first.index(f.name) if f.name in first else len(first))
    shown = [f for f in order if keys.best(f.name) and f.name != "help"]
    helped = _entry(next(f for f in FUNCTIONS if f.name == "help"), keys)
    return _filled([_entry(f, keys) for f in shown], width, height, helped)


def _filled(entries: list[Line], width: int, height: int, last: Line = ()) -> list[Line]:
    """As many entries as fit in so many lines; `last` always stands at the end."""
    lines: list[Line] = []
    for y in range(height):
        room = width - 3 - (width_of(last) if y == height - 1 else 0)
        line: Line = (Run("   "),)
        while entries and width_of(line) + width_of(entries[0]) <= room + 3:
            line = (*line, *entries.pop(0))
        lines.append(line)
    lines[-1:] = [(*line, *last) for line in lines[-1:]]
    return lines


def _entry(function: Function, keys: KeyMap) -> Line:
    tag = f"key:{function.name}"
    key = keys.best(function.name)
    return (Run(key, "key", tag), Run(f" {function.label}", "key.name", tag), Run("  ", "key.name"))
