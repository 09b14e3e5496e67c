"""Runs side by side, drawn: figures, time lines one above the other, readings as curves."""

from collections.abc import Iterator

from passbell.clock import local_datetime
from passbell.cook.compare import Comparison, Side, Went
from passbell.cook.kept import Kept
from passbell.cook.ready import Ready
from passbell.tui.paint import Line, Run, fill, span, wrap
from passbell.tui.views.runs import RunsView, letter_of
from passbell.tui.widgets.curve import draw_curves
from passbell.tui.widgets.timeline import draw_scale, draw_timeline

_NAME = 15
CURVE_LINES = 8
"""Lines of a plot of readings."""


def draw_beside(view: RunsView, found: Comparison, width: int) -> list[Line]:
    """The whole of it, for so many cells."""
    column = max(11, min(24, (width - _NAME - 2) // max(1, len(found.runs))))
    body = [*_heads(found, column)]
    for side in found.sides:
        body += [(), (Run(side.name, "strong"),), *_figures(side, column)]
        body += _lines(view, side.name, width)
        for drawn in view.curves:
            if drawn.component == side.name:
                body += draw_curves(drawn, width, CURVE_LINES)
        body += _notes(side, width)
    return [*body, *_meals(found, width)]


def draw_ready(ready: Ready, width: int) -> list[Line]:
    """Whether the plan is ready to be published, point by point, with a sign for each."""
    word = " READY TO PUBLISH " if ready.ready else "not ready to publish yet"
    lines: list[Line] = [(Run(word, "met" if ready.ready else "strong"),)]
    for point in ready.points:
        sign, role = ("✓", "free") if point.holds else ("✗", "off")
        for n, text in enumerate(wrap(point.text, width - 4, 4)):
            lines.append((Run("   " if n else f" {sign} ", role), Run(text, "plain")))
    lines += [
        (Run("   " if n else " · ", "soft"), Run(text, "soft"))
        for remark in ready.remarks
        for n, text in enumerate(wrap(remark, width - 4, 3))
    ]
    return lines


def _heads(found: Comparison, column: int) -> Iterator[Line]:
    words = [_head(place, kept) for place, kept in enumerate(found.runs)]
    yield (Run(" " * _NAME), *(Run(fill(word, column), "strong") for word in words))
    served = [_time(at) for at in found.dish_up]
    yield _row("dish-up", served, column, found.dish_up_differs)
    if len(found.runs) > 1:
        same = "from the same text" if found.same_text else "≠ not from the same text"
        said = f"{same}; times from the first food on the heat; ≠ differs"
        yield (Run(said, "soft" if found.same_text else "off"),)


def _head(place: int, kept: Kept) -> str:
    began = local_datetime(kept.source.started_utc)
    return f"{letter_of(place)} run {kept.source.run} {began:%d.%m.}"


def _row(name: str, cells: list[str], column: int, differs: bool) -> Line:
    role = "off" if differs else "plain"
    return (
        Run(
            fill("≠ " if differs else "  ", 2) + fill(name, _NAME - 2), role if differs else "soft"
        ),
        *(Run(fill(cell, column - 1), role) for cell in cells[:1]),
        *(Run(" " + fill(cell, column - 1), role) for cell in cells[1:]),
    )


def _time(seconds: int | None) -> str:
    if seconds is None:
        return "–"
    return f"-{span(seconds)}" if seconds < 0 else span(seconds)


def _figures(side: Side, column: int) -> Iterator[Line]:
    went = side.went
    if any(w.time is not None or w.planned_time is not None for w in went):
        yield _row(
            "in", [_beside(w.went_in, w.planned_in) for w in went], column, "in" in side.differs
        )
        yield _row(
            "out", [_beside(w.came_out, w.planned_out) for w in went], column, "out" in side.differs
        )
        yield _row(
            "on the heat", [_beside(w.time, w.planned_time) for w in went], column,
            "time" in side.differs,
        )  # fmt: skip
        yield _row("opened", [f"{w.openings} ×" if w.present else "–" for w in went], column, False)
    if any(w.verdict for w in went):
        cells = [w.verdict or "–" for w in went]
        yield _row("minimum", cells, column, "verdict" in side.differs)
    if any(w.readings for w in went):
        yield _row("readings", [_readings(w) for w in went], column, False)
    if any(w.score for w in went):
        cells = [w.score or "not said" for w in went]
        yield _row("turned out", cells, column, "score" in side.differs)


def _beside(real: int | None, planned: int | None) -> str:
    """As cooked, and as planned where that is another time."""
    if real == planned or planned is None:
        return _time(real)
    return f"{_time(real)} ({_time(planned)})"


def _readings(went: Went) -> str:
    return " ".join(f"{r.shown:g}" for r in went.readings[-4:]) or "–"


def _lines(view: RunsView, name: str, width: int) -> list[Line]:
    """The time lines of one component, one above the other on one scale."""
    own = [line for line in view.lines if line.component == name]
    every = [s for line in view.lines for s in line.segments]
    room = width - 4
    if not every or room < 12:
        return []
    over = (min(s.start for s in every), max(s.end for s in every))
    lines: list[Line] = [(Run("    "), *draw_scale(over, 0, room, "in"))]
    for place, line in enumerate(own):
        drawn = draw_timeline(line.segments, (), over, None, room)
        lines.append((Run(f" {letter_of(place)}  ", "strong"), *drawn))
    return lines


def _notes(side: Side, width: int) -> list[Line]:
    notes = [(place, text) for place, w in enumerate(side.went) for text in w.notes]
    return [
        (Run(f" {'' if n else letter_of(place):<2} ", "soft"), Run(text, "plain"))
        for place, note in notes
        for n, text in enumerate(wrap(note, width - 6, 3))
    ]


def _meals(found: Comparison, width: int) -> list[Line]:
    """What was written about each meal."""
    lines: list[Line] = []
    for place, kept in enumerate(found.runs):
        account = kept.account
        facts = [("next time", account.change), ("yield", account.made)]
        facts += [("leftovers", account.leftovers), *(("noted", note) for note in account.notes)]
        for name, value in facts:
            for n, text in enumerate(wrap(value, width - 16, 3)):
                head = "" if n else f"{letter_of(place)} {name}"
                lines.append((Run(fill(head, 14), "soft"), Run(text, "plain")))
    return [(), *lines] if lines else []
