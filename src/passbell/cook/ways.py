"""Ways out of a delay: what else could be done about it, each with its own effect.

Only ways that safety allows are offered: nothing that lies with raw meat is taken out, and a rest
is never cut below what the chart asks for.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from passbell.cook.commands import Command, ExtendStage, ExtendStep, Several
from passbell.cook.engine import tell
from passbell.cook.neighbours import held_by, is_raw, on_the_heat
from passbell.cook.preview import Effect, effects
from passbell.cook.state import CookState
from passbell.cook.timing import least_rest
from passbell.cook.verdicts import may_leave
from passbell.cook.wording import spoken

MOST = 4
"""How many ways are offered, the least harmful first."""


@dataclass(frozen=True, slots=True)
class WayOut:
    """Something to do about a change besides taking it as it is.

    Attributes:
        words: what it is ("take the carrots out on time and hold them 3 min").
        command: what taking it says: the change and the way together.
        effects: what both do to everything.
        harm: (seconds over hold, dish-up moved, waits, rest given up), fewer is better.
    """

    words: str
    command: Command
    effects: tuple[Effect, ...]
    harm: tuple[int, int, int, int]


def ways_out(state: CookState, change: Command, now: int) -> tuple[WayOut, ...]:
    """The ways out of a change, the least harmful first; none where it delays nothing.

    Args:
        state: the cook, time having passed up to `now`.
        change: what is about to be taken.
        now: the engine instant.
    """
    taken = tell(state, change, now)
    if taken.refusal is not None:
        return ()
    base = _harm(state, taken.state, 0)
    found = []
    for words, more, given in _candidates(state, change, taken.state):
        command = Several(commands=(change, more))
        outcome = tell(state, command, now)
        if outcome.refusal is None:
            harm = _harm(state, outcome.state, given)
            if harm[:3] != base[:3] or _moved(taken.state, outcome.state):
                found.append(WayOut(words, command, effects(state, outcome.state), harm))
    return tuple(sorted(found, key=lambda way: way.harm)[:MOST])


def _harm(before: CookState, after: CookState, given: int) -> tuple[int, int, int, int]:
    new, old = after.schedule, before.schedule
    return new.over_hold, new.dish_up - old.dish_up, new.wait, given


def _moved(one: CookState, other: CookState) -> bool:
    return one.schedule.ends != other.schedule.ends


Candidate = tuple[str, ExtendStep, int]
"""Words, the second command, and seconds of rest given up."""


def _candidates(state: CookState, change: Command, taken: CookState) -> Iterator[Candidate]:
    delay = taken.schedule.dish_up - state.schedule.dish_up
    if isinstance(change, ExtendStage) and change.by > 0:
        yield from _out_on_time(state, change)
    if delay > 0:
        yield from _shorter_rests(state, delay)


def _out_on_time(state: CookState, change: ExtendStage) -> Iterator[Candidate]:
    """Food in the stage that could come out when planned and be held, the stage being longer."""
    name = state.appliance(change.appliance).name
    for index, component in enumerate(state.plan.components):
        step = on_the_heat(state, index)
        if step is None or component.steps[step].on != name:
            continue
        if is_raw(state, index) or held_by(state, index, step):
            continue
        if not may_leave(state, index, step):
            continue
        words = f"take {component.name} out on time and hold it {spoken(change.by)}"
        yield words, ExtendStep(component=index, by=-change.by), 0


def _shorter_rests(state: CookState, delay: int) -> Iterator[Candidate]:
    """Rests that are longer than the chart asks for; only what is beyond that can be given."""
    for index, component in enumerate(state.plan.components):
        for place, step in enumerate(component.steps):
            real = state.steps[index][place]
            last = component.last_cook
            if step.kind != "rest" or real.ended is not None or last is None or place < last:
                continue
            given = min(delay, step.time + real.extra - least_rest(state, index, place))
            if given >= 30:
                words = f"rest {component.name} {spoken(given)} less"
                yield words, ExtendStep(component=index, by=-given, step=place), given
