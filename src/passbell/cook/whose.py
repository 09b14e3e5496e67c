"""Readings as the cook types them: of which food, at which of its places."""

import re
from typing import NoReturn

from passbell.cook import commands as cm
from passbell.cook.cues import cues
from passbell.cook.neighbours import on_the_heat
from passbell.cook.state import CookState
from passbell.cook.verdicts import verdict
from passbell.safety.chart import chart_rows
from passbell.safety.places import number_of, wanted_places
from passbell.safety.reading import Setup
from passbell.units import clean_text

_READING = re.compile(
    r"(?:(?P<place>[^\d\s].*?|\d{1,3})\s+)?(?P<value>[+-]?\d{1,4}(?:[.,]\d{1,3})?)\s*°?\s*"
    r"(?P<scale>[fc])?",
    re.IGNORECASE,
)


class NotUnderstood(ValueError):
    """Words that are no command.

    Args:
        what: what is wrong.
        mend: how to write it.
    """

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(f"{what} {mend}" if what.endswith("?") else f"{what}; {mend}")
        self.what = what
        self.mend = mend


def named_component(state: CookState, name: str) -> int:
    """The component that a name, or the beginning of one of its words, stands for.

    Raises:
        NotUnderstood: when none, or more than one, does.
    """
    wanted = clean_text(name).casefold()
    names = [c.name.casefold() for c in state.plan.components]
    exact = [i for i, n in enumerate(names) if n == wanted]
    found = exact or [i for i, n in enumerate(names) if n.startswith(wanted)]
    found = found or [i for i, n in enumerate(names) if f" {wanted}" in n]
    if len(found) == 1:
        return found[0]
    every = ", ".join(c.name for c in state.plan.components)
    what = "is more than one component" if found else "is no component"
    raise NotUnderstood(f"“{clean_text(name)}” {what}", f"there are {every}")


def read_reading(line: str, state: CookState, selected: int | None) -> cm.Probe | None:
    """The reading that a line of words stands for; None: it is none.

    Raises:
        NotUnderstood: when it could be a reading of two foods, or of none.
    """
    match = _READING.fullmatch(line)
    if match is None:
        return None
    scale = (match["scale"] or state.scale).upper()
    component, place = _place(match["place"] or "", state, selected)
    return cm.Probe(
        component=component,
        # A bare number belongs where the box and the advice ask for the next reading.
        place=place or verdict(state, component).next_place,
        shown=float(match["value"].replace(",", ".")),
        scale="C" if scale == "C" else "F",
    )


def _place(text: str, state: CookState, selected: int | None) -> tuple[int, str | None]:
    """Which component, and which of its places, the words before a reading name."""
    if not text or text.isdecimal():
        return probed_component(state, selected), text or None
    whole = _component_named(state, text)
    if whole is not None and state.component(whole).name.casefold() == text.casefold():
        return whole, _own_place(state, whole, text)
    found = _meanings(text, state, whole)
    if whole is None and selected is not None and selected in found:
        return selected, found[selected]
    if len(found) > 1:
        _ask(text, state, found)
    if found:
        return next(iter(found.items()))
    for length in _word_ends(text):
        component = _component_named(state, text[:length])
        if component is not None:
            return component, text[length:].strip()
    return probed_component(state, selected), text


def _meanings(text: str, state: CookState, whole: int | None) -> dict[int, str | None]:
    """Every component that the words may mean, with its place: a thigh is also chicken thighs."""
    found: dict[int, str | None] = {}
    if whole is not None:
        found[whole] = _own_place(state, whole, text)
    for length in _word_ends(text):
        component, place = _component_named(state, text[:length]), text[length:].strip()
        if component is not None and _own_place(state, component, place):
            found.setdefault(component, place)
    for component in range(len(state.steps)):
        was_in = any(step.began is not None for step in state.steps[component])
        if was_in and _own_place(state, component, text):
            found.setdefault(component, text)
    return found


def _ask(text: str, state: CookState, found: dict[int, str | None]) -> NoReturn:
    """Which of them is meant, with words that can mean only one."""
    ways = []
    for component, place in found.items():
        number = number_of(place, _places(state, component)) if place else None
        name = state.component(component).name
        ways.append(f"{name} {number}" if number else name)
    raise NotUnderstood(f"“{text}” could be {len(found)} foods", f"type {' or '.join(ways)}")


def _word_ends(text: str) -> list[int]:
    """Where the words of a text but the last end, the longest beginning first."""
    return [n for n in range(len(text) - 1, 0, -1) if text[n] == " "]


def _component_named(state: CookState, name: str) -> int | None:
    """The component a name stands for; a single letter is a place unless it is a whole name."""
    names = [c.name.casefold() for c in state.plan.components]
    if len(name) == 1 and name.casefold() not in names:
        return None
    try:
        return named_component(state, name)
    except NotUnderstood:
        return None


def _own_place(state: CookState, component: int, text: str) -> str | None:
    """The text, where it names one of the places that this food is probed at."""
    return text if number_of(text, _places(state, component)) else None


def _places(state: CookState, component: int) -> tuple[str, ...]:
    plan = state.component(component)
    rows = [row for row in chart_rows(plan.food, state.chart) if not row.no_figure]
    return wanted_places(rows, Setup(pieces=plan.pieces))


def probed_component(state: CookState, selected: int | None) -> int:
    """Whose reading a bare number is: the row selected, the probe cue due, or the only one.

    Raises:
        NotUnderstood: when two or more could be meant.
    """
    if selected is not None:
        return selected
    due = [c.key.owner for c in cues(state) if c.key.kind == "probe" and state.cue(c.key.id)]
    candidates = due or could_be_probed(state)
    if len(set(candidates)) == 1:
        return candidates[0]
    if not candidates:
        if any(on_the_heat(state, c) is not None for c in range(len(state.steps))):
            raise NotUnderstood("nothing on the heat has to be probed", "type a name before it")
        raise NotUnderstood("nothing is on the heat", "a reading is of something that is, or was")
    names = ", ".join(state.component(c).name for c in candidates)
    raise NotUnderstood("whose reading?", f"type its name before the number: {names}")


def could_be_probed(state: CookState) -> list[int]:
    """Components with a food or a probe temperature that are on the heat, else off it again."""
    wanted = [
        index
        for index, c in enumerate(state.plan.components)
        if (c.food and c.food != ("plant",)) or any(s.until for s in c.steps)
    ]
    on = [c for c in wanted if on_the_heat(state, c) is not None]
    return on or [c for c in wanted if any(s.ended is not None for s in state.steps[c])]
