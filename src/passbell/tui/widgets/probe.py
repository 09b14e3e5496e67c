"""The probe box: whose reading, in which unit, against which minimum, and the verdict."""

import re
from typing import NamedTuple

from passbell.tui.paint import Line, Run, crop, packed, spread, width_of, wrap
from passbell.tui.typed import Typed
from passbell.tui.views.model import Probe, ReadingMark

Block = tuple[int, list[Line]]
"""Lines that belong together, and how soon they may be left out (highest first)."""


_HINT = 8
"""How soon examples may be left out: before everything else, and without a sign."""
_NARROW = 30
"""Cells beneath which a verdict stands alone, with its reason beneath it."""


_WHICH, _NONE = "which one? name, then reading", "no food chosen"


class Typing(NamedTuple):
    """A line being typed in the foot, and what it is for."""

    typed: Typed
    prompt: str
    hint: str


UNIT_ASKED = ": was that °"
"""What the question about a reading's unit has in it; it is left out last."""


def field(typed: Typed) -> Line:
    """The line being typed with its place marked."""
    return (
        Run(f" {typed.text[: typed.at]}", "box.typed"),
        Run("▏", "box.typed"),
        Run(f"{typed.text[typed.at :]} ", "box.typed"),
    )


_SAID = re.compile(r"(?:.*: )?[^.?]*[.?]")
"""What is odd: to the end of the sentence after the last colon."""


def draw_probe(probe: Probe, typed: Typed | None, width: int, height: int) -> list[Line]:
    """The box in so many cells; what matters least is left out first.

    Args:
        probe: what to show.
        typed: the reading being typed; None: the box is closed.
        width: cells to draw in.
        height: lines to draw in.
    """
    room = width - 5
    if height == 1:
        return [_one_line(probe, typed, width)]
    if (
        width < _NARROW
        and probe.verdict
        and typed is None
        and not (probe.question or probe.refusal)
    ):
        told = wrap(probe.sentence, width - 1, height - 1)
        return [(_verdict(probe),), *[(Run(text, "box.strong"),) for text in told]]
    head = [*_headed(probe, typed, width - 3, height), *_asked(probe, room)]
    blocks = [*head, *(_judged(probe, room) or [(_HINT, _hint(typed, probe.scale, room))])]
    below = probe.expect and probe.verdict.casefold() == "below"
    if below or probe.rest:  # how long it still takes is read sooner than why
        for most in ((1, 3), (1, 1)) if below else ((2, 3), (1, 3)):
            if _wanted(blocks) > height:
                blocks = [*head, *_judged(probe, room, *most)]
    lines = _fitted(blocks, height, room)
    return [(Run("   ", "box"), *line) for line in lines]


def _hint(typed: Typed | None, scale: str, width: int) -> list[Line]:
    """What can be typed, an example after the other as they fit, in the thermometer's unit."""
    first = "any digit opens the box" if typed is None else "Enter judges, Esc closes"
    bare, said, second = ("66", "151f", "65") if scale == "C" else ("152", "66c", "151")
    examples = (bare, said, f"chicken {bare}", f"2 {second} for the second piece")
    texts = packed((f"{first}: {examples[0]}", *examples[1:]), width, 2)
    return [(Run(text, "box.soft"),) for text in texts]


def _wanted(blocks: list[Block]) -> int:
    """How many lines should not be left out: verdict, what is odd, forecast and its offer."""
    return sum(len(lines) for keep, lines in blocks if keep <= 4)


def _fitted(blocks: list[Block], height: int, width: int) -> list[Line]:
    """The lines of the blocks, without those of least matter when there is too little room.

    A text that loses its end says so with an ellipsis.
    """
    kept = [(keep, list(lines)) for keep, lines in blocks]
    while sum(len(lines) for _, lines in kept) > height:
        least = max((keep for keep, lines in kept if lines), default=0)
        next(lines for keep, lines in reversed(kept) if keep == least and lines).pop()
    for (keep, whole), (_, lines) in zip(blocks, kept, strict=True):
        if lines and len(lines) < len(whole) and keep < _HINT:
            lines[-1] = _goes_on(lines[-1], width)
    return [line for _, lines in kept for line in lines]


def _goes_on(line: Line, width: int) -> Line:
    """A line with the sign that its text goes on."""
    last = line[-1]
    if last.text.endswith("…"):
        return line
    return crop((*line[:-1], last._replace(text=f"{last.text.rstrip()}…")), width)


def _one_line(probe: Probe, typed: Typed | None, width: int) -> Line:
    if typed is not None:
        line = (Run("probe ", "box.soft"), *field(typed), Run(f" °{probe.scale}", "box"))
        return crop(line, width)
    if probe.verdict:
        return crop((_verdict(probe), Run(" ", "box"), Run(probe.sentence, "box")), width)
    return crop((Run("probe ", "box.soft"), Run(_whose(probe) or _NONE, "box")), width)


def _whose(probe: Probe) -> str:
    return f"{probe.component}, {probe.place}" if probe.place else probe.component


def _head(probe: Probe, typed: Typed | None) -> tuple[Line, Line]:
    """Whose reading and in which unit; and against which minimum of which chart."""
    whose = _whose(probe) or (_WHICH if typed else _NONE)
    left: Line = (Run("PROBE ", "box.soft", "probe"), Run(whose, "box.strong", "probe"))
    if typed is not None:
        left = (*left, Run("  ", "box"), *field(typed), Run(f" °{probe.scale}", "box.strong"))
    else:
        left = (*left, Run(f", °{probe.scale}", "box", "probe"))
    if not probe.minimum:
        return left, ()
    needs = (Run("needs ", "box.soft"), Run(probe.minimum, "box.strong"))
    return left, (*needs, Run(f" ({probe.chart})", "box.soft"))


def _headed(probe: Probe, typed: Typed | None, width: int, height: int) -> list[Block]:
    """The head in one line, or in two where it is too long and there is room for it."""
    if typed is not None and width < 50:
        first = (*field(typed), Run(f" °{probe.scale} ", "box.strong"))
        least = (Run(f" needs {probe.minimum}", "box.soft"),) if probe.minimum else ()
        asked = (Run(_whose(probe) or _WHICH, "box.strong"), *least)
        return [(0, [crop(first, width)]), (1, [crop(asked, width)])]
    left, needs = _head(probe, typed)
    urgent = probe.wash_now or typed is not None
    right: Line = (
        (Run(" wash the probe ", "alert" if urgent else "box.soft"),) if probe.wash else ()
    )
    line = (*left, *((Run("  ", "box"),) if needs else ()), *needs)
    room_for_two = height >= 5 or not (probe.verdict or probe.question or probe.refusal)
    if room_for_two and width_of((*line, *right)) + 1 > width:
        return [(0, [spread(left, right, width, "box")]), (0, [needs])]
    if needs and width_of((*line, *right)) + bool(right) > width:  # its figure is never cut
        short: Line = (*needs[:2], *((Run("  ", "box"), *right) if right else ()))
        if right and width_of((*left, *short)) + 1 > width:
            short = right  # whose reading it is comes first; the verdict names the minimum
        return [(0, [spread(left, short, width, "box")])]
    return [(0, [spread(line, right, width, "box")])]


def _asked(probe: Probe, width: int) -> list[Block]:
    blocks: list[Block] = []
    if probe.refusal:
        text = f"not understood: {probe.refusal}"
        blocks.append((1, [(Run(f" {part} ", "fault"),) for part in wrap(text, width - 2, 2)]))
    if probe.question:
        text = probe.question
        blocks.append((1, [(Run(f" {part} ", "below"),) for part in wrap(text, width - 2, 2)]))
    return blocks


def _judged(probe: Probe, width: int, why: int = 3, oddly: int = 3) -> list[Block]:
    """Verdict, what to do, forecast; the wash line stands as a sign at the head already.

    Args:
        probe: what to show.
        width: cells to draw in.
        why: lines for the reason of the verdict, at most; its word is never cut.
        oddly: lines for what is odd, at most.
    """
    blocks: list[Block] = []
    odd, odd_more = _parted(probe.odd)
    if probe.doubted and _good(probe):  # it outranks the good news, and says what to do first
        doubt = wrap(probe.odd, width - 2, 2)
        blocks.append((1, [(Run(f" {part} ", "below"),) for part in doubt]))
        odd, odd_more, why = "", "", 1
    told = int(probe.wash and probe.advice[:1] != () and probe.advice[0].startswith("Wash"))
    wash, more = probe.advice[:told], probe.advice[told:]
    if probe.verdict:
        blocks.append((2, _sentence(probe, width, why)))
    first = 4 if probe.expect else 3
    if more and UNIT_ASKED in more[0]:
        first = 2
    blocks += [(first, _texts(text, width, "box.strong")) for text in more[:1]]
    strong = ((odd, oddly), *((text, 3) for text in probe.expect[:1]))
    blocks += [(3, _texts(text, width, "box.strong", most)) for text, most in strong if text]
    blocks += [(5, _texts(text, width, "box.strong")) for text in wash]
    blocks += [(4, _texts(text, width, "box.strong")) for text in (probe.offer,) if text]
    blocks += [(4, _texts(text, width, "box.strong")) for text in (probe.rest,) if text]
    blocks += [(6, _texts(text, width, "box")) for text in (odd_more,) if text]
    if probe.readings:
        blocks.append((6, [crop(draw_readings(probe.readings, probe.minimum), width)]))
    blocks += [(7, _texts(text, width, "box")) for text in (*probe.expect[1:], *more[1:])]
    return blocks


def _parted(text: str) -> tuple[str, str]:
    """What is odd, and what to do about it, which gives way to the forecast.

    A piece's own name stands before a colon and may have a full stop in it.
    """
    end = _SAID.match(text)
    return (end[0], text[end.end() :].strip()) if end else (text, "")


def _texts(text: str, width: int, role: str, most: int = 3) -> list[Line]:
    return [(Run(part, role),) for part in wrap(text, width, most)]


def _verdict(probe: Probe) -> Run:
    return Run(f" {probe.sign} {probe.verdict} ", "met" if _good(probe) else "below")


def _good(probe: Probe) -> bool:
    """Whether the colour of good news may be used: only a minimum that is met earns it."""
    return probe.verdict.casefold() in ("met", "minimum met")


def _sentence(probe: Probe, width: int, most: int) -> list[Line]:
    verdict = _verdict(probe)
    indent = len(verdict.text) + 1
    parts = wrap(probe.sentence, width - indent, most) or [""]
    first: Line = (verdict, Run(" ", "box"), Run(parts[0], "box.strong"))
    return [first, *[(Run(" " * indent + part, "box.strong"),) for part in parts[1:]]]


def draw_readings(readings: tuple[ReadingMark, ...], minimum: str) -> Line:
    """The readings in a row about the mark of the minimum: below it left, at or above right."""
    below = [r for r in readings if r.reached is False and not r.struck]
    reached = [r for r in readings if r.reached and not r.struck]
    others = [r for r in readings if r.reached is None or r.struck]
    mark = (Run(f" ┃ {minimum or 'no minimum'} ┃ ", "box.soft"),) if below or reached else ()
    return (
        *(run for r in below for run in _reading(r, "▽", "box.strong")),
        *mark,
        *(run for r in reached for run in _reading(r, "▲", "box.strong")),
        *(run for r in others for run in _reading(r, "×" if r.struck else "?", "box.soft")),
    )


def _reading(reading: ReadingMark, sign: str, role: str) -> Line:
    place = f"{reading.place} " if reading.place else ""
    struck = " taken back" if reading.struck else ""
    return Run(place, "box.soft"), Run(f"{reading.text} {sign}{struck}  ", role)
