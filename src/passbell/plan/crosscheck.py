"""What must fit together in a plan: names, appliances, stages, times within times.

It works on the plain data of the file, so that it can speak beside faults of single values.
"""

import difflib
from collections.abc import Iterator
from typing import Any

from passbell.plan.model import STEP_KINDS
from passbell.plan.problem import Fault, Path
from passbell.units import Duration, UnitError, clean_text

_ONLY_COOK = ("on", "temp", "mode", "stage", "during", "until", "check")


def crosschecked(data: dict[str, Any]) -> list[Fault]:
    """Every fault between values of the file."""
    appliances = _tables(data.get("appliance"))
    components = _tables(data.get("component"))
    faults = [*_twice(appliances, ("appliance",)), *_twice(components, ("component",))]
    for index, appliance in enumerate(appliances):
        faults += _twice(_tables(appliance.get("stage")), ("appliance", index, "stage"))
    stages = {_name(a): [_name(s) for s in _tables(a.get("stage"))] for a in appliances}
    for index, component in enumerate(components):
        for place, step in enumerate(_tables(component.get("steps"))):
            faults += _step(step, ("component", index, "steps", place), stages)
    return faults


def _tables(value: object) -> list[dict[str, Any]]:
    """A list of tables; what is no table counts as an empty one, so that places stay right."""
    found = value if isinstance(value, list) else []
    return [entry if isinstance(entry, dict) else {} for entry in found]


def _name(table: dict[str, Any]) -> str:
    name = table.get("name")
    return clean_text(name) if isinstance(name, str) else ""


def _twice(tables: list[dict[str, Any]], path: Path) -> list[Fault]:
    seen: set[str] = set()
    faults = []
    for index, table in enumerate(tables):
        name = _name(table)
        if name and name.casefold() in seen:
            what = f"the name “{name}” is there twice"
            faults.append(Fault((*path, index, "name"), what, "give each its own name"))
        seen.add(name.casefold())
    return faults


def _step(step: dict[str, Any], path: Path, stages: dict[str, list[str]]) -> Iterator[Fault]:
    kinds = [kind for kind in STEP_KINDS if kind in step]
    if len(kinds) != 1:
        return
    if kinds[0] != "cook":
        for key in _ONLY_COOK:
            if key in step:
                what = f"“{key}” belongs to a cook step, not to {kinds[0]}"
                yield Fault((*path, key), what, "leave it out, or make it a cook step")
    else:
        yield from _on(step, path, stages)
    yield from _times(step, path)


def _on(step: dict[str, Any], path: Path, stages: dict[str, list[str]]) -> Iterator[Fault]:
    on = step.get("on")
    if not isinstance(on, str):
        if on is None:
            yield Fault(path, "a cook step needs “on”", 'name its appliance: on = "oven"')
        return
    name = clean_text(on)
    if name not in stages:
        near = difflib.get_close_matches(name, stages, 1, 0.5)
        there = f"there are {', '.join(stages)}" if stages else "add an [[appliance]]"
        mend = f"did you mean “{near[0]}”?" if near else there
        yield Fault((*path, "on"), f"there is no appliance “{name}”", mend)
        return
    yield from _stage(step.get("stage"), path, (name, stages[name]))


def _stage(value: object, path: Path, appliance: tuple[str, list[str]]) -> Iterator[Fault]:
    name, stages = appliance
    wanted = [value] if isinstance(value, str) else value if isinstance(value, list) else []
    names = [clean_text(w) for w in wanted if isinstance(w, str)]
    for stage in names:
        if stage not in stages:
            there = f"its stages are {', '.join(stages)}" if stages else "it has no stages"
            yield Fault((*path, "stage"), f"{name} has no stage “{stage}”", there)
            return
    if len(names) > 2 or (len(names) == 2 and stages.index(names[0]) > stages.index(names[1])):
        what = "stages are given as the first and the last, in the order of the program"
        yield Fault((*path, "stage"), what, f'write stage = ["{stages[0]}", "{stages[-1]}"]')


def _times(step: dict[str, Any], path: Path) -> Iterator[Fault]:
    """Hands, check and actions on the way lie within the time of their step."""
    time = _duration(step.get("time"))
    if time is None:
        return
    for key in ("hands", "check"):
        found = _duration(step.get(key))
        if found is not None and found > time:
            what = f"“{key}” is {found}, longer than its step of {time}"
            yield Fault((*path, key), what, f"write {time} or less")
    for index, action in enumerate(_tables(step.get("during"))):
        at = _duration(action.get("at"))
        if at is not None and at > time:
            what = f"it is at {at}, after the end of its step of {time}"
            yield Fault((*path, "during", index, "at"), what, 'write less, or at = "halfway"')


def _duration(value: object) -> Duration | None:
    try:
        return Duration.parse(value) if isinstance(value, str) else None
    except UnitError:
        return None
