"""Which times an appliance was opened in a cook, and what was done each time."""

from collections.abc import Iterable, Iterator

from passbell.cook.account import Opening
from passbell.cook.cards import ONE_OPENING
from passbell.cook.cue import CueKey
from passbell.cook.events import Acted, Backdated, Commanded, Event
from passbell.cook.state import CookState, StepState


def openings(state: CookState, events: Iterable[Event]) -> tuple[Opening, ...]:
    """Every opening, in the order of time; what was taken back did not happen.

    What happens at one appliance within a minute is one opening, as in the cues.

    Args:
        state: what the events lead to.
        events: of the whole cook.
    """
    acts = sorted([*_by_state(state), *_on_the_way(state, events)], key=lambda act: act[0])
    found: dict[str, list[Opening]] = {}
    for at, place, words in acts:
        there = found.setdefault(place, [])
        if there and at - there[-1].at <= ONE_OPENING:
            there[-1] = Opening(place, there[-1].at, (*there[-1].acts, words))
        else:
            there.append(Opening(place, at, (words,)))
    return tuple(sorted((o for row in found.values() for o in row), key=lambda o: o.at))


_Act = tuple[int, str, str]
"""(instant, appliance, words)."""


def _by_state(state: CookState) -> Iterator[_Act]:
    """What went in and out, and when somebody looked or probed."""
    for index, row in enumerate(state.steps):
        component = state.component(index)
        for step, real in zip(component.steps, row, strict=True):
            if step.on is None:
                continue
            probed = {r.at for r in state.readings if r.component == index and not r.off_heat}
            inside = {at for at in probed if _is_in(real, at)}
            for at in sorted(inside | set(real.looks)):
                yield at, step.on, f"{component.name}: {'probed' if at in probed else 'looked at'}"
            for at, words in _ends(real):
                yield at, step.on, f"{component.name} {words}"


def _ends(real: StepState) -> Iterator[tuple[int, str]]:
    if real.began is not None:
        yield real.began, "in"
    if real.ended is not None:
        yield real.ended, "out"


def _is_in(real: StepState, at: int) -> bool:
    return real.began is not None and real.began <= at and (real.ended is None or at <= real.ended)


def _on_the_way(state: CookState, events: Iterable[Event]) -> Iterator[_Act]:
    """Turns, tosses and the like; only the events know when they were done."""
    cancelled = {line.number for line in state.log if line.cancelled}
    number, done = 0, dict[str, int]()
    for event in events:
        if isinstance(event, Commanded):
            number = event.number
        elif isinstance(event, Acted | Backdated) and number not in cancelled:
            done[event.cue] = event.happened
    for cue, at in done.items():
        key = CueKey.read(cue)
        if key.kind != "during":
            continue
        component = state.component(key.owner)
        step = component.steps[key.item]
        if key.n < len(step.during) and step.on is not None:  # the others are done by the sink
            yield at, step.on, f"{component.name}: {step.during[key.n].do}"
