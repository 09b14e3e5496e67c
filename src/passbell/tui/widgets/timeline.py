"""A time line in cells: what has happened heavy, what is to come light, and now marked."""

from passbell.tui.paint import Line, Run, joined
from passbell.tui.views.model import Segment, SegmentKind, Tick

_REAL: dict[SegmentKind, str] = {
    "prep": "╍", "cook": "━", "rest": "┅", "hold": "═", "finish": "▪", "preheat": "≈", "stage": "━",
}  # fmt: skip
_PLANNED: dict[SegmentKind, str] = {
    "prep": "╌", "cook": "─", "rest": "┈", "hold": "⋯", "finish": "▫", "preheat": "~", "stage": "─",
}  # fmt: skip
_TICKS = {
    ("during", False): "◇", ("during", True): "◆", ("check", False): "▽", ("check", True): "▼",
    ("mode", False): "▷", ("mode", True): "▶", ("probe", False): "○", ("probe", True): "●",
}  # fmt: skip


def key_to_lines() -> tuple[tuple[str, str], ...]:
    """The signs of a time line and what they mean, for the help."""
    pairs = [(_REAL[kind] + _PLANNED[kind], kind) for kind in _REAL if kind != "stage"]
    ticks = [(_TICKS[kind, False], kind) for kind in ("during", "check", "mode", "probe")]
    words = {"during": "turn", "mode": "mode"}
    return tuple((sign, words.get(kind, kind)) for sign, kind in [*pairs, *ticks])


def column_of(at: int, over: tuple[int, int], width: int) -> int:
    """The cell of an instant on a line of `width` cells over a span of engine seconds."""
    start, end = over
    length = max(1, end - start)
    return max(0, min(width - 1, (at - start) * width // length))


def draw_timeline(
    segments: tuple[Segment, ...],
    ticks: tuple[Tick, ...],
    over: tuple[int, int],
    now: int | None,
    width: int,
) -> Line:
    """One time line.

    Args:
        segments: the stretches on it.
        ticks: the points on it.
        over: first and last instant of the line.
        now: the present instant, marked on the line; None: not marked.
        width: cells to draw in.
    """
    if width < 1:
        return ()
    cells: list[tuple[str, str]] = [(" ", "plain")] * width
    for part in segments:
        first, last = column_of(part.start, over, width), column_of(part.end - 1, over, width)
        sign = (_REAL if part.real else _PLANNED)[part.kind]
        for x in range(first, max(first, last) + 1):
            cells[x] = (sign, part.kind)
    for tick in ticks:
        cells[column_of(tick.at, over, width)] = (_TICKS[tick.kind, tick.done], "tick")
    if now is not None:
        x = column_of(now, over, width)
        sign, role = cells[x]
        cells[x] = ("┃" if role == "tick" or sign == " " else "╂", "nowline")
    return joined(cells)


def draw_scale(over: tuple[int, int], now: int, width: int, word: str = "now") -> Line:
    """Minutes from now above the time lines: marks every so many minutes, and `word` at now."""
    if width < 12:
        return ()
    start, end = over
    step = _step(end - start, width)
    cells = [" "] * width
    for at in range(start - start % step - step, end, step):
        moment = at + now % step
        if start <= moment < end and moment != now:
            _write(cells, column_of(moment, over, width), f"{(moment - now) // 60:+d}")
    at = min(column_of(now, over, width), width - len(word))
    cells[at : at + len(word)] = word
    return (Run("".join(cells), "soft"),)


def _step(length: int, width: int) -> int:
    """Seconds between marks such that each has eight cells of room."""
    for minutes in (1, 2, 5, 10, 15, 30, 60, 120, 240):
        if minutes * 60 * width >= 8 * max(1, length):
            return minutes * 60
    return 480 * 60


def _write(cells: list[str], at: int, text: str) -> None:
    start = min(at, len(cells) - len(text))
    near = cells[max(0, start - 1) : start + len(text) + 1]
    if not any(c.strip() for c in near):
        cells[start : start + len(text)] = list(text)
