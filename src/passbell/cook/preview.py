"""What a change does to everything else, before it is taken."""

from dataclasses import dataclass
from typing import Literal

from passbell.cook.commands import Away, Command, HeatOff
from passbell.cook.engine import advance, tell
from passbell.cook.pause import as_if_paused
from passbell.cook.share import at_end_words
from passbell.cook.state import CookState
from passbell.cook.wording import later, to_the_minute

Thing = Literal["component", "mode", "rest", "dish_up"]


@dataclass(frozen=True, slots=True)
class Effect:
    """What a change does to one thing.

    Attributes:
        thing: what kind of thing.
        name: component, mode change or rest.
        change: seconds later (positive) or earlier (negative).
        words: the change in words.
        held: by how many seconds it waits longer between the heat and the plate.
        share: with what share cooked it comes out now, in words; empty: the same, or not known.
    """

    thing: Thing
    name: str
    change: int
    words: str
    held: int = 0
    share: str = ""


@dataclass(frozen=True, slots=True)
class Preview:
    """What a command would lead to.

    Attributes:
        before: the cook at this instant without it.
        after: the cook at this instant with it.
        effects: what it does to every component, mode change, rest and dish-up.
        warnings: what it stretches that the plan did not allow, in sentences.
        refusal: why it would be refused; empty: it would not.
    """

    before: CookState
    after: CookState
    effects: tuple[Effect, ...]
    warnings: tuple[str, ...]
    refusal: str = ""

    @property
    def delay(self) -> int:
        """By how many seconds dish-up moves."""
        return self.after.schedule.dish_up - self.before.schedule.dish_up


def preview(state: CookState, command: Command, now: int, lasting: int = 0) -> Preview:
    """What a command would do to everything, without doing it.

    Args:
        state: the cook.
        command: what is about to be said.
        now: the engine instant.
        lasting: for heat off and away, how many seconds it is taken to last; nothing moves at
            the moment it begins.
    """
    before = advance(state, now).state
    outcome = tell(before, command, now)
    after = outcome.state
    if lasting > 0 and outcome.refusal is None and isinstance(command, HeatOff | Away):
        after = as_if_paused(before, after, lasting, max(now, before.at))
    return Preview(
        before=before,
        after=after,
        effects=effects(before, after),
        warnings=warnings(before, after),
        refusal=outcome.refusal or "",
    )


def effects(before: CookState, after: CookState) -> tuple[Effect, ...]:
    """Every component, mode change, rest and dish-up, in that order, and by how much it moves.

    Args:
        before: the cook at this instant without the change.
        after: the cook at this instant with it.
    """
    found = [*_components(before, after), *_modes(before, after), *_rests(before, after)]
    change = after.schedule.dish_up - before.schedule.dish_up
    return (*found, Effect("dish_up", "dish-up", change, in_minutes(change)))


def wait_of(state: CookState, index: int) -> int:
    """How long a component waits between the heat and dish-up by the present schedule.

    The steps after its last time on the heat do not count; without one it never waits.
    """
    last, ends = state.tables.last_cook[index], state.schedule.ends[index]
    if last is None or last >= len(ends):
        return 0
    pairs = zip(state.schedule.starts[index][last + 1 :], ends[last + 1 :], strict=True)
    return max(0, state.schedule.dish_up - ends[last] - sum(end - start for start, end in pairs))


def _components(before: CookState, after: CookState) -> list[Effect]:
    found = []
    for index, component in enumerate(before.plan.components):
        last = before.tables.last_cook[index]
        old, new = before.schedule.ends[index], after.schedule.ends[index]
        if index in after.skipped or not old or len(old) != len(new):
            continue
        over = last is None or before.steps[index][last].ended is not None
        place = len(old) - 1 if last is None or over else last
        change = new[place] - old[place]
        held = wait_of(after, index) - wait_of(before, index)
        share = "" if over else at_end_words(before, after, index)
        words = ", ".join(text for text in (_moved(change, held), share) if text)
        found.append(Effect("component", component.name, change, words, held, share))
    return found


def _moved(change: int, held: int) -> str:
    wait = to_the_minute(held)
    held_words = f"held {abs(wait) // 60} min {'longer' if wait > 0 else 'less'}"
    return f"{in_minutes(change)}, {held_words}" if wait else in_minutes(change)


def in_minutes(seconds: int) -> str:
    """A change as a cook counts it: "3 min later"; less than half a minute is none."""
    return later(to_the_minute(seconds))


def _modes(before: CookState, after: CookState) -> list[Effect]:
    found = []
    for index, appliance in enumerate(before.plan.appliances):
        old, new = before.schedule.bounds[index], after.schedule.bounds[index]
        for stage in range(len(before.appliances[index].stages), len(appliance.stages)):
            if 0 < stage < min(len(old), len(new)) - 1:
                change = new[stage] - old[stage]
                name = f"{appliance.name} to {appliance.stages[stage].name}"
                found.append(Effect("mode", name, change, in_minutes(change)))
    return found


def _rests(before: CookState, after: CookState) -> list[Effect]:
    found = []
    for index, component in enumerate(before.plan.components):
        for place, step in enumerate(component.steps):
            old, new = before.schedule.ends[index], after.schedule.ends[index]
            if step.kind != "rest" or place >= min(len(old), len(new)):
                continue
            if before.steps[index][place].ended is None and new[place] != old[place]:
                change = new[place] - old[place]
                words = in_minutes(change)
                found.append(Effect("rest", f"{component.name}, rest over", change, words))
    return found


def warnings(before: CookState, after: CookState) -> tuple[str, ...]:
    """What the change stretches that the plan did not allow, in sentences."""
    known = set(before.schedule.relaxed)
    return tuple(text for text in after.schedule.relaxed if text not in known)
