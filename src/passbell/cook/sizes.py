"""Pieces thicker or thinner than the plan was tested with: its times today, and what is said of it.

The plan's file is never changed: what comes out are the few values that differ today.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from passbell.cook.own_times import OwnTimes
from passbell.heat import TimeRange, thickness_range
from passbell.plan.model import Component, Plan, Step
from passbell.plan.problem import Path
from passbell.units import Duration, Length, MendableError, clean_text

GRAIN = 30
"""Times are changed to the half minute."""

THICKEST_RATIO = 3.0
"""Beyond three times, or a third of, the size the times were tested with, nothing is said."""

Value = Duration | Length | str


class TodayError(MendableError):
    """Something that cannot be otherwise today.

    Args:
        what: what is wrong.
        mend: what to do.
        choices: what can be chosen, a line each.
    """

    def __init__(self, what: str, mend: str, choices: tuple[str, ...] = ()) -> None:
        super().__init__(what, mend)
        self.choices = choices


@dataclass(frozen=True, slots=True)
class Today:
    """What is otherwise today.

    Attributes:
        changes: the values of the plan that differ, by their paths.
        notes: a sentence each for the time plan.
    """

    changes: dict[Path, Value] = field(default_factory=dict)
    notes: tuple[str, ...] = ()


def component_named(plan: Plan, name: str) -> int:
    """The component that a name, its beginning or a part of it stands for.

    Raises:
        TodayError: when none does, or more than one.
    """
    wanted = clean_text(name).casefold()
    names = [c.name.casefold() for c in plan.components]
    exact = [i for i, n in enumerate(names) if n == wanted]
    begun = exact or [i for i, n in enumerate(names) if wanted and n.startswith(wanted)]
    found = begun or [i for i, n in enumerate(names) if wanted and wanted in n]
    if len(found) == 1:
        return found[0]
    what = "is more than one component" if found else "is no component"
    every = ", ".join(c.name for c in plan.components)
    raise TodayError(f"“{clean_text(name)}” {what}", f"there are {every}")


def resized(plan: Plan, component: int, size: Length, own: OwnTimes | None = None) -> Today:
    """The plan's values for pieces of another size: expected times, and first looks.

    A first look is put at the early end of the range, the stagger counts on the expected time
    (exponent 1.2, band 1.0 to 1.5). What the cook's own runs needed for a size wins over that.
    Food without a look of its own gets one.

    Args:
        plan: the plan as written.
        component: whose pieces differ.
        size: their thickness or diameter today.
        own: what her runs with other sizes needed.

    Raises:
        TodayError: when the plan does not say what size its times were tested with, or the new
            one is too far from it to say anything.
    """
    dish = plan.components[component]
    _hold(dish, size)
    assert dish.size is not None
    changes: dict[Path, Value] = {
        ("component", component, "size"): size,
        ("component", component, "reckoned"): f"from {dish.size}",
    }
    notes = []
    for index, step in enumerate(dish.steps):
        if step.kind == "cook":
            known = (own or {}).get((component, index), ())
            found = thickness_range(int(step.time), dish.size.mm, size.mm, known)
            path: Path = ("component", component, "steps", index)
            look = _first_look(step, found)
            changes |= _step(path, step, found) | {(*path, "check"): Duration(look)}
            notes.append(_note((dish, size, step), found, look))
            changes |= dict(_longer_stages(plan, step, _grained(found.expected_s)))
    return Today(changes, tuple(notes) + _stage_notes(plan, changes))


def _hold(dish: Component, size: Length) -> None:
    if dish.size is None:
        what = f"the plan does not say what size of {dish.name} its times were tested with"
        raise TodayError(what, "write size into the plan")
    if not any(step.kind == "cook" for step in dish.steps):
        raise TodayError(f"{dish.name} is never on the heat", "its size changes no time")
    ratio = size.mm / dish.size.mm
    if not 1 / THICKEST_RATIO <= ratio <= THICKEST_RATIO:
        what = f"{size} is too far from the {dish.size} that the times were tested with"
        raise TodayError(what, "test it and write the time down anew")


def _step(path: Path, step: Step, found: TimeRange) -> dict[Path, Value]:
    """The step's time, and what is done on the way."""
    ratio = found.expected_s / int(step.time) if step.time else 1.0
    expected = _grained(found.expected_s)
    changes: dict[Path, Value] = {(*path, "time"): Duration(expected)}
    for n, during in enumerate(step.during):
        if during.at != "halfway":
            at = min(expected, round(int(during.at) * ratio / GRAIN) * GRAIN)
            changes[(*path, "during", n, "at")] = Duration(at)
    return changes


def _first_look(step: Step, found: TimeRange) -> int:
    """The plan's own first look at the early end of the range, else that end itself."""
    look = found.first_look_s
    if step.first_look is not None and step.time:
        look = min(look, int(step.first_look) * found.first_look_s // int(step.time))
    return min(_grained(found.expected_s), max(GRAIN, look // GRAIN * GRAIN))


def _grained(seconds: int) -> int:
    return max(GRAIN, round(seconds / GRAIN) * GRAIN)


def _longer_stages(plan: Plan, step: Step, time: int) -> Iterator[tuple[Path, Value]]:
    """A step longer than its stages lengthens the last of them."""
    place = plan.appliance_index(step.on or "")
    stages = plan.appliances[place].stages
    names = [stage.name for stage in stages]
    ends = [names.index(name) for name in step.stage] or [0, len(stages) - 1]
    allowed = stages[min(ends) : max(ends) + 1]
    if not stages or any(stage.time is None for stage in allowed):
        return
    missing = time - sum(int(stage.time or 0) for stage in allowed)
    if missing > 0:
        path = ("appliance", place, "stage", max(ends), "time")
        yield path, Duration(int(stages[max(ends)].time or 0) + missing)


def _note(what: tuple[Component, Length, Step], found: TimeRange, look_s: int) -> str:
    dish, size, step = what
    early, late = (_whole(s) for s in (found.earliest_s, found.latest_s))
    return (
        f"{dish.name} {size} instead of {dish.size}: {early} to {late} min, reckoned with "
        f"{_whole(found.expected_s)} instead of {_whole(int(step.time))} min, "
        f"first look after {_whole(look_s)} min ({step.text}){_by_whom(found)}"
    )


def _by_whom(found: TimeRange) -> str:
    """That it rests on her own runs, where it does."""
    if not found.runs:
        return ""
    word = "run" if len(found.runs) == 1 else "runs"
    return f", from your own time in {word} {', '.join(map(str, sorted(found.runs)))}"


def _whole(seconds: int) -> str:
    return str(max(1, round(seconds / 60)))


def _stage_notes(plan: Plan, changes: dict[Path, Value]) -> tuple[str, ...]:
    found = []
    for path, value in changes.items():
        if path[0] == "appliance" and isinstance(value, Duration):
            oven = plan.appliances[int(path[1])]
            stage = oven.stages[int(path[3])]
            longer = _whole(int(value) - int(stage.time or 0))
            found.append(f"{oven.name}, {stage.name}: {longer} min longer for it")
    return tuple(found)
