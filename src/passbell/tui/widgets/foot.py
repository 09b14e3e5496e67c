"""The foot: the probe box, and in its place whatever is being asked."""

from typing import NamedTuple

from passbell.tui.paint import Line, Run, crop, wrap
from passbell.tui.views.model import CookView, Pending, Probe, Way
from passbell.tui.widgets.painted import Painted
from passbell.tui.widgets.probe import Typing, draw_probe, field

_NARROW = 50
"""Cells from which an answer may say what it means."""


class FootPart(NamedTuple):
    """What the foot shows.

    Attributes:
        probe: the probe box.
        pending: a change with ways out; None: none.
        typing: the line being typed; its prompt is empty for the probe box; None: none.
        question: a question before leaving; empty: none.
        acts: the last acts, after taking one back; empty: not shown.
        refusal: why the last line typed was not understood; may be empty.
    """

    probe: Probe
    pending: Pending | None = None
    typing: Typing | None = None
    question: str = ""
    acts: tuple[str, ...] = ()


def foot_part(view: CookView, typing: Typing | None, question: str, acts: bool) -> FootPart:
    """What the foot shows of the view and of the screen's own state."""
    return FootPart(view.probe, view.pending, typing, question, view.steps_back[:8] if acts else ())


class Foot(Painted):
    """The place at the foot of the screen where the cook types and answers."""

    GROUND = "box"

    def __init__(self) -> None:
        super().__init__("foot")
        self._part: FootPart | None = None

    def show(self, part: FootPart) -> None:
        """Show this."""
        if part != self._part:
            self._part = part
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room."""
        return draw_foot(self._part, width, height) if self._part else []


def draw_foot(part: FootPart, width: int, height: int) -> list[Line]:
    """The foot in so many cells: leaving, then a line typed, then ways out, then the box."""
    if part.question:
        return _leaving(part.question, width, height)
    if part.typing is not None and part.typing.prompt:
        return _asking(part.typing, part.probe.refusal, width, height)
    if part.typing is None and part.pending is not None and part.pending.ways:
        return _ways(part.pending, width, height)
    if part.typing is None and part.acts:
        return _acts(part.acts, width, height)
    typed = part.typing.typed if part.typing else None
    return draw_probe(part.probe, typed, width, height)


def _leaving(question: str, width: int, height: int) -> list[Line]:
    """The question, and both answers whatever the room."""
    wide = width >= _NARROW
    leave = "leave, the cook can be resumed  " if wide else "leave"
    answers: Line = (
        Run("   " if wide else " ", "box"),
        Run(" 1 ", "picked", "answer:1"),
        Run(f" {leave} ", "box", "answer:1"),
        Run(" 2 ", "picked", "answer:2"),
        Run(" stay", "box", "answer:2"),
    )
    texts = wrap(question, width - 5, max(1, height - 1))
    return [*[(Run("   ", "box"), Run(text, "box.strong")) for text in texts], crop(answers, width)]


def _asking(typing: Typing, refusal: str, width: int, height: int) -> list[Line]:
    prompt: Line = (
        Run("   ", "box"),
        Run(f"{typing.prompt} ", "box.strong"),
        *field(typing.typed),
    )
    hint = (Run("   ", "box"), Run(typing.hint, "box.soft"))
    if not refusal:
        return [crop(prompt, width), crop(hint, width)][:height]
    texts = wrap(f"not understood: {refusal}", width - 6, max(1, height - 1))
    return [crop(prompt, width), *[(Run("   ", "box"), Run(f" {t} ", "fault")) for t in texts]]


def _ways(pending: Pending, width: int, height: int) -> list[Line]:
    """The ways out by number; the digit or a click takes one."""
    ways = pending.ways[:9]
    most = max(1, (height - 1) // len(ways))
    lines: list[Line] = []
    for n, way in enumerate(ways, start=1):
        told, tag = _way(way, width - 6, most), f"way:{n}"
        marks = (Run(f" {n} ", "picked"), *[Run("   ", "box")] * most)
        lines += [
            tuple(run._replace(tag=tag) for run in (mark, *part))
            for mark, part in zip(marks, told, strict=False)
        ]
    lines = [(Run("   ", "box"), *line) for line in lines]
    if len(lines) < height:
        digits = "1" if len(ways) == 1 else f"1 to {len(ways)}"
        keys = f"   {digits}: this instead; Enter: as shown above; Esc drops it"
        lines.append((Run(keys, "box.soft"),))
    return lines[:height]


def _way(way: Way, width: int, most: int) -> list[Line]:
    """A way in so many lines: what it is and dinner by it, then what else moves."""
    if most == 1:
        others = (Run(f"; {way.others}", "box"),) if way.others else ()
        return [crop((Run(f" {way.words}", "box.strong"), *others), width)]
    first = wrap(way.words, width - 1, most)
    rest = wrap(way.others, width - 1, most - len(first))
    told = [(part, "box.strong") for part in first] + [(part, "box") for part in rest]
    return [(Run(f" {part}", role),) for part, role in told]


def _acts(acts: tuple[str, ...], width: int, height: int) -> list[Line]:
    head: Line = (Run("   LAST ACTS, newest first", "box.soft"),)
    lines = [crop((Run("   ", "box"), Run(act, "box")), width) for act in acts]
    return [head, *lines][:height]
