"""Ways out of a delay: what else could be done about it, each with its own effect.

Only ways that safety allows are offered: nothing that lies with raw meat is taken out, and a rest
is never cut below what the chart asks for.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from passbell.cook.commands import Command, ExtendStage, ExtendStep, PutOff, ServeAt, Several
from passbell.cook.cue import CueKey
from passbell.cook.engine import tell
from passbell.cook.neighbours import held_by, is_raw, on_the_heat
from passbell.cook.preview import Effect, effects, preview, wait_of
from passbell.cook.state import CookState
from passbell.cook.timing import least_rest
from passbell.cook.verdicts import may_leave
from passbell.cook.wording import spoken, to_the_minute

MOST = 5
"""How many ways are offered, the least harmful first."""

WORTH = 30
"""What moves by less than this, in seconds, is no way out and is not put into words."""

LONGEST_PUT_OFF = 3600
"""No food is held back by one command for longer than this, in seconds."""


class Harm(NamedTuple):
    """What a way costs, the worst first; fewer is better (the order is ours, after the stagger's).

    Attributes:
        over_hold: seconds that food waits beyond its hold.
        later: seconds by which dish-up moves.
        longer: seconds that food cooks longer than it was to.
        wait: seconds that food waits between the heat and the plate.
        rest: seconds of quality rest given up.
    """

    over_hold: int
    later: int
    longer: int
    wait: int
    rest: int


@dataclass(frozen=True, slots=True)
class WayOut:
    """Something to do about a change.

    Attributes:
        words: what it is ("take the carrots out on time and hold them 3 min").
        command: what taking it says: the change and the way together.
        effects: what both do to everything.
        harm: what it costs.
    """

    words: str
    command: Command
    effects: tuple[Effect, ...]
    harm: Harm


def ways_out(state: CookState, change: Command, now: int) -> tuple[WayOut, ...]:
    """The ways out of a change, the least harmful first; none where there is no other way.

    Serving later, which is the change taken as it is, stands among them.

    Args:
        state: the cook.
        change: what is about to be taken.
        now: the engine instant.
    """
    if not isinstance(change, Extends):
        return ()
    seen = preview(state, change, now)
    if seen.refusal:
        return ()
    base = _harm(seen.before, seen.after, 0)
    found = []
    for words, more, given in _candidates(seen.before, change, seen.after):
        command = Several(commands=(change, more))
        outcome = tell(seen.before, command, now)
        if outcome.refusal is not None:
            continue
        harm = _harm(seen.before, outcome.state, given)
        if any(new < old for new, old in zip(harm, base, strict=True)):
            found.append(WayOut(words, command, effects(seen.before, outcome.state), harm))
    if seen.delay >= WORTH and not isinstance(change, ServeAt):
        found.append(WayOut(_as_it_is(seen.before, seen.after), change, seen.effects, base))
    return tuple(sorted(found, key=lambda way: way.harm)[:MOST])


Extends = ExtendStage | ExtendStep | PutOff | ServeAt
"""Commands that can be taken together with a way out of them."""


def _harm(before: CookState, after: CookState, given: int) -> Harm:
    new, old = after.schedule, before.schedule
    longer = sum(
        max(0, real.extra - before.steps[component][index].extra)
        for component, row in enumerate(after.steps)
        for index, real in enumerate(row)
        if before.component(component).steps[index].kind == "cook"
    )
    return Harm(new.over_hold, new.dish_up - old.dish_up, longer, new.wait, given)


def _as_it_is(before: CookState, after: CookState) -> str:
    """Serving later, said as such, with what is held back meanwhile."""
    words = f"serve {_minutes(after.schedule.dish_up - before.schedule.dish_up)} later"
    held: dict[str, list[str]] = {}
    for name, by in _held_back(before, after):
        held.setdefault(_minutes(by), []).append(name)
    adding = ", ".join(f"{', '.join(names)} {by} later" for by, names in held.items())
    return f"{words}, adding {adding}" if adding else words


def _minutes(by: int) -> str:
    return spoken(to_the_minute(by))


def _held_back(before: CookState, after: CookState) -> Iterator[tuple[str, int]]:
    """Food not yet in that the schedule itself adds later, and by how much."""
    for index, place, start in _to_come(before):
        by = after.schedule.starts[index][place] - start
        if by >= WORTH:
            yield before.component(index).name, by


def _to_come(state: CookState) -> list[tuple[int, int, int]]:
    """Food not yet on the heat: (component, cook step, planned start), the next first."""
    found = [
        (index, component.first_cook, state.schedule.starts[index][component.first_cook])
        for index, component in enumerate(state.plan.components)
        if component.first_cook is not None
        and index not in state.skipped
        and state.steps[index][component.first_cook].began is None
    ]
    return sorted(found, key=lambda one: one[2])


Candidate = tuple[str, ExtendStep | PutOff, int]
"""Words, the second command, and seconds of rest given up."""


def _candidates(state: CookState, change: Command, taken: CookState) -> Iterator[Candidate]:
    delay = taken.schedule.dish_up - state.schedule.dish_up
    if isinstance(change, ExtendStage) and change.by > 0:
        yield from _out_on_time(state, change)
    if delay > 0:
        yield from _shorter_rests(state, delay)
    yield from _added_later(state, taken, delay)


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
        words = f"take {component.name} out on time and hold it {_minutes(change.by)}"
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
            if given >= WORTH:
                words = f"rest {component.name} {_minutes(given)} less"
                yield words, ExtendStep(component=index, by=-given, step=place), given


def _added_later(state: CookState, taken: CookState, delay: int) -> Iterator[Candidate]:
    """The next food to go on the heat held back further, where it would wait for the rest."""
    for index, place, start in _to_come(state)[:1]:
        by = min(LONGEST_PUT_OFF, max(delay, wait_of(taken, index)))
        if by >= WORTH and by - (taken.schedule.starts[index][place] - start) >= WORTH:
            cue = CueKey("add", index, place).id
            words = f"add {state.component(index).name} {_minutes(by)} later"
            yield words, PutOff(cue=cue, by=by), 0
