"""The keys, shown where they can be pressed; a message takes their place for a while."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from passbell.tui.keys import FUNCTIONS, Function, KeyMap, standard
from passbell.tui.paint import Line, Run, width_of, wrap
from passbell.tui.widgets.painted import Painted


class KeyLine(Painted):
    """As many keys as fit, the most wanted first, and always the one for all keys."""

    def __init__(self, keys: KeyMap | None = None) -> None:
        super().__init__("keys")
        self._keys = keys or standard()
        self._first: tuple[str, ...] = ()
        self._labels: dict[str, str] = {}
        self._last: Line = ()
        self._message = ("", "notice")
        self._entries: list[Line] | None = None

    def set_entries(self, entries: Sequence[Line], last: Line = ()) -> None:
        """Show these entries instead of the keys of the cook screen; `last` always."""
        self._entries, self._last = list(entries), last

    def want(self, first: tuple[str, ...], labels: dict[str, str] | None = None) -> None:
        """Put these functions first, and give those named in `labels` another label."""
        if (first, labels or {}) != (self._first, self._labels):
            self._first, self._labels = first, labels or {}
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
            drawn = draw_keys(self._keys, self._first, width, height, self._labels)
        else:
            drawn = _filled(list(self._entries), width, height, self._last)
        kept = drawn[: height - len(said)]
        return [*kept, *[(Run("   "), Run(f" {line} ", role)) for line in said]]


def draw_keys(
    keys: KeyMap,
    first: Sequence[str],
    width: int,
    height: int,
    labels: Mapping[str, str] = MappingProxyType({}),
) -> list[Line]:
    """The keys in so many cells.

    Args:
        keys: the keys.
        first: functions to put first.
        width: cells to draw in.
        height: lines to draw in.
        labels: other labels, by function.
    """
    order = sorted(FUNCTIONS, key=lambda f: first.index(f.name) if f.name in first else len(first))
    named = [f._replace(label=labels.get(f.name, f.label)) for f in order]
    shown = [f for f in named if keys.best(f.name) and f.name != "help"]
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
