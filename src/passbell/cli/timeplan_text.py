"""A time plan as text: a table of what to do when, and a drawn time line."""

from collections.abc import Callable, Iterator

from passbell.cook.cues import cues
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.tui.views.rows import segments_of

MARKS = {"prep": "·", "cook": "█", "rest": "░", "hold": "-", "finish": "+"}
"""How each kind of step is drawn."""

LEGEND = "· prep   █ on the heat   ░ rest   - held hot   + finish"


LONG_REST = 15 * 60
"""A rest before the heat so long, in seconds, has a line of its own: the cook does without it."""


def table(state: CookState, local: Callable[[int], str]) -> Iterator[str]:
    """What to do when, a line each, and the long rests between that and the heat."""
    lines = list(_rests(state))
    for cue in cues(state):
        if not cue.silent:
            took = _takes(state, cue.key.owner, cue.key.item) if cue.key.part == "begin" else ""
            lines.append((cue.at, f"{cue.text}{took}"))
    lines.sort(key=lambda line: line[0])
    width = max((len(local(at)) for at, _ in lines), default=0)
    for at, text in lines:
        yield f"  {local(at):>{width}}  {text}"


def _rests(state: CookState) -> Iterator[tuple[int, str]]:
    """The long rests before the heat that begin by themselves, each with its instant."""
    for index, component in enumerate(state.plan.components):
        for i, step in enumerate(component.steps[: component.first_cook]):
            if i and step.kind == "rest" and step.time >= LONG_REST:
                text = f"REST {component.name} — {step.text}{_takes(state, index, i)}"
                yield state.schedule.starts[index][i], text


def _takes(state: CookState, component: int, step: int) -> str:
    return f" ({spoken(state.component(component).steps[step].time)})"


def drawing(state: CookState, local: Callable[[int], str], width: int) -> Iterator[str]:
    """A time line a component, from the first act to dish-up, in columns of equal time.

    Args:
        state: the cook before its first act.
        local: from an engine instant to the local time.
        width: columns the whole drawing may take.
    """
    names = [c.name for c in state.plan.components]
    indent = min(24, max(len(n) for n in names)) + 3
    room = max(20, width - indent - 1)
    first, last = state.schedule.start, max(state.schedule.dish_up, state.schedule.start + 60)
    head, tail = local(first), local(last)
    yield " " * indent + head + " " * max(1, room - len(head) - len(tail)) + tail
    for index, name in enumerate(names):
        cells = [" "] * room
        for segment in segments_of(state, index, 0):
            begin = round((segment.start - first) / (last - first) * room)
            end = round((segment.end - first) / (last - first) * room)
            for column in range(max(0, begin), min(room, max(end, begin + 1))):
                cells[column] = MARKS.get(segment.kind, " ")
        yield f"  {name[: indent - 3]:<{indent - 3}} {''.join(cells).rstrip()}"
    yield " " * indent + LEGEND
