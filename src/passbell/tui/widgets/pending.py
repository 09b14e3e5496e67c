"""A change not yet taken: what it would do, to whom, and until when."""

from collections.abc import Iterable

from rich.cells import cell_len

from passbell.cook.wording import later
from passbell.tui.paint import Line, Run, crop, full, spread, wrap
from passbell.tui.views.model import Effect, Pending

_FEW = 4
"""In so few lines a warning has one of them."""
_STILL = later(0)


def draw_pending(pending: Pending, width: int, room: int) -> list[Line]:
    """What would change, for whom, and until when; what must be known first comes first."""
    left = f"taken in {pending.left} s" if pending.left is not None else "not taken yet"
    if cell_len(pending.words) + len(left) + 30 > width:
        left = f"{pending.left} s" if pending.left is not None else ""
    head = (Run(f" {pending.words} ", "now.change"), Run(f"  {left}", "now"))
    keys = (Run("Enter", "now.next", "key:done"), Run(" takes it  ", "now.soft"),
            Run("Esc", "now.next", "key:drop"), Run(" drops it ", "now.soft"))  # fmt: skip
    lines: list[Line] = [spread(head, keys if width >= 60 else (), width, "now")]
    for text in pending.warnings:
        parts = wrap(text, width - 2, 2 if room > _FEW else 1)
        lines += [(Run("  " if n else "! ", "now.strong"), Run(part, "now.strong"))
                  for n, part in enumerate(parts)]  # fmt: skip
    kept = min(len(pending.notes), max(1, room // 3))
    lines += _effects(pending, width, room - len(lines) - kept)
    lines += [crop((Run(text, "now.soft"),), width) for text in pending.notes]
    return lines[:room]


def _effects(pending: Pending, width: int, room: int) -> list[Line]:
    """What moves one to a line or in columns when it fits, else those of one kind together."""
    texts = [f"{e.name}: {e.words}" for e in pending.effects if e.words != _STILL]
    still = [e.name for e in pending.effects if e.words == _STILL]
    if still:
        texts.append(f"{_STILL}: {', '.join(still)}")
    if not texts or room < 1:
        return []
    if len(texts) <= room and all(cell_len(text) <= width for text in texts):
        return [(Run(text, "now"),) for text in texts]
    column = max(cell_len(text) for text in texts) + 3
    across = max(1, width // column)
    if -(-len(texts) // across) <= room:
        return [tuple(_padded(texts[i : i + across], column)) for i in range(0, len(texts), across)]
    return [(Run(text, "now"),) for text in wrap(" · ".join(grouped(pending.effects)), width, room)]


def grouped(effects: Iterable[Effect]) -> list[str]:
    """Effects of the same words together, the greatest change first: "beans, peas: 3 min later"."""
    names: dict[str, list[str]] = {}
    for effect in sorted(effects, key=lambda effect: -abs(effect.change)):
        names.setdefault(effect.words, []).append(effect.name)
    return [f"{', '.join(listed)}: {words}" for words, listed in names.items()]


def _padded(texts: Iterable[str], column: int) -> Iterable[Run]:
    return (run for text in texts for run in full((Run(text, "now"),), column, "now"))
