"""A change not yet taken: how much, when dinner is then, what it does, and until when."""

from collections.abc import Iterable, Iterator
from itertools import zip_longest

from passbell.tui.digits import largest
from passbell.tui.paint import Line, Run, cells_in, crop, cut, packed, span, spread, width_of, wrap
from passbell.tui.views.change import briefly
from passbell.tui.views.model import Effect, Pending

_FEW = 4
"""In so few lines a warning has one of them."""
_WIDE = 60
"""Cells from which the size of the change stands in block digits."""
_LEGIBLE = 4
"""Rows of digits that are read at two metres; where there are no more, they begin at the top."""
_KEYS: Line = (
    Run("Enter", "now.next", "key:done"),
    Run(" takes it  ", "now.soft"),
    Run("Esc", "now.next", "key:drop"),
    Run(" drops it ", "now.soft"),
)
_SHORT: Line = (
    Run("Enter", "now.next", "key:done"),
    Run(" takes  ", "now.soft"),
    Run("Esc", "now.next", "key:drop"),
    Run(" drops ", "now.soft"),
)
_MOST_DIGITS = 9
"""Rows of those digits at most."""


def draw_pending(pending: Pending, width: int, room: int, in_rows: bool = False) -> list[Line]:
    """What would change, and until when it can be dropped; what must be known first comes first.

    Args:
        pending: the change.
        width: cells to draw in.
        room: lines to draw in.
        in_rows: whether each row of a component says what the change does to it.
    """
    high = _digits(pending, width, room)
    left = _width(high)
    if room == len(high) == _LEGIBLE and _fits(pending, width - left):
        return _beside(high, [_head(pending, width - left, _SHORT), *_told(
            pending, width - left, room - 1, in_rows)], left)  # fmt: skip
    digits = _digits(pending, width, room - 1)
    left = _width(digits)
    if any(cells_in(note) > width - left for note in pending.notes):
        digits, left = [], 0  # what can be held back, and until when, is said whole first
    told = _told(pending, width - left, room - 1, in_rows)
    return [_head(pending, width, _KEYS), *_beside(digits, told, left)][:room]


def _width(digits: list[Line]) -> int:
    """The cells that digits take, with the gap after them."""
    return max((width_of(line) for line in digits), default=-2) + 2


def _beside(digits: list[Line], told: list[Line], left: int) -> list[Line]:
    """The digits with what is told at their right."""
    if not left:
        return told
    blank: Line = (Run(" " * (left - 2), "now"),)
    pairs = zip_longest(digits, told)
    return [(*(aside or blank), Run("  ", "now"), *(text or ())) for aside, text in pairs]


def _head(pending: Pending, width: int, keys: Line) -> Line:
    """What it is, how long it can still be dropped, and by which keys: as much as there is room."""
    name = (Run(f" {pending.words} ", "now.change"),)
    if width < _WIDE and keys is not _SHORT:
        return spread((*name, Run(f"  {_tells(pending)[-1]}", "now")), (), width, "now")
    choices = [(left, keys) for left in _tells(pending)]
    choices += [(left, _SHORT) for left in (_tells(pending)[-1], "")]
    for left, shown in choices:
        line = (*name, Run(f"  {left}" if left else "", "now"))
        if width_of(line) + width_of(shown) < width:
            return spread(line, shown, width, "now")
    return spread(name, _SHORT, width, "now")


def _tells(pending: Pending) -> tuple[str, str]:
    """How long it can still be dropped, at length and briefly."""
    if pending.left is None:
        return "not taken yet", ""
    return f"taken as shown in {pending.left} s", f"in {pending.left} s"


def _fits(pending: Pending, width: int) -> bool:
    """Whether its head stands whole in so many cells, and its notes do."""
    head = cells_in(pending.words) + len("    in 8 s ") + width_of(_SHORT)
    return head <= width and all(cells_in(note) <= width for note in pending.notes)


def _digits(pending: Pending, width: int, rows: int) -> list[Line]:
    """The size of the change in block digits with its unit; no lines where there is no room."""
    minutes, rest = divmod(abs(pending.by), 60)
    if width < _WIDE or not pending.by:
        return []
    size = span(pending.by) if rest else str(minutes)
    drawn = largest(f"{'+' if pending.by > 0 else '-'}{size}", width // 3, min(rows, _MOST_DIGITS))
    if not drawn:
        return []
    unit = "" if rest else " min"
    blanks = [" " * len(unit)] * (len(drawn) - 1)
    return [
        (Run(row, "now.by"), Run(after, "now.strong"))
        for row, after in zip(drawn, [*blanks, unit], strict=True)
    ]


def _told(pending: Pending, width: int, room: int, in_rows: bool) -> list[Line]:
    """Dinner first, then what must be known, then what else moves, then what stays."""
    lines = list(_dish_up(pending, width))
    for text in pending.warnings:
        parts = wrap(text, width - 2, 2 if room >= _FEW else 1)
        lines += [(Run("  " if n else "! ", "now.strong"), Run(part, "now.strong"))
                  for n, part in enumerate(parts)]  # fmt: skip
    moving = [e for e in pending.effects if e.kind != "dish_up" and briefly(e)]
    if in_rows:
        moving = [e for e in moving if e.kind != "component"]
    kept = min(len(pending.notes), max(1, room - len(lines) - 1))
    groups = grouped(moving)
    long = any(cells_in(text) > width for text in groups)
    texts = wrap(" · ".join(groups), width, 99) if long else packed(groups, width, 99)
    free = max(0, room - len(lines) - kept)
    if len(texts) > free > 0:
        texts = [*texts[: free - 1], cut(" · ".join(texts[free - 1 :]), width)]
    lines += [(Run(text, "now"),) for text in texts[:free]]
    lines += [crop((Run(text, "now.soft"),), width) for text in pending.notes]
    still = [e.name for e in pending.effects if e.kind != "dish_up" and not briefly(e)]
    if still and len(lines) < room and not in_rows:
        lines.append(crop((Run(f"unchanged: {', '.join(still)}", "now.soft"),), width))
    return lines[:room]


def _dish_up(pending: Pending, width: int) -> Iterator[Line]:
    """When dinner is then: what the cook wants to know first."""
    found = next((e for e in pending.effects if e.kind == "dish_up"), None)
    if found is None:
        return
    said = not pending.dish_up or pending.dish_up in pending.words
    when = "" if said else f", {pending.dish_up}"
    role = "due" if briefly(found) else "now.strong"
    pad = " " if role == "due" else ""
    yield crop((Run(f"{pad}dish-up {found.words}{when}{pad}", role),), width)


def grouped(effects: Iterable[Effect]) -> list[str]:
    """Effects of the same words together, the greatest change first: "beans, peas +3 min"."""
    names: dict[str, list[str]] = {}
    for effect in sorted(effects, key=lambda effect: -abs(effect.change)):
        names.setdefault(briefly(effect), []).append(effect.name)
    return [f"{', '.join(listed)} {words}" for words, listed in names.items()]
