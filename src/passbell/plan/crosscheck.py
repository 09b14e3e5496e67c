"""What must fit together in a plan: names, appliances, stages, times within times.

It works on the plain data of the file, so that it can speak beside faults of single values.
"""

import difflib
from collections.abc import Iterator
from typing import Any

from pydantic import ValidationError

from passbell.plan.model import STEP_KINDS, Step
from passbell.plan.problem import Fault, Path
from passbell.plan.say import faults_of
from passbell.units import Duration, UnitError, clean_text, quoted

_ONLY_COOK = ("on", "temp", "mode", "stage", "during", "until", "check")
_Stages = dict[str, list[str]]


def crosschecked(data: dict[str, Any]) -> list[Fault]:
    """Every fault between values of the file."""
    appliances = _tables(data.get("appliance"))
    components = _tables(data.get("component"))
    faults = [*_twice(appliances, ("appliance",)), *_twice(components, ("component",))]
    for index, appliance in enumerate(appliances):
        faults += _twice(_tables(appliance.get("stage")), ("appliance", index, "stage"))
    stages = {_name(a): [_name(s) for s in _tables(a.get("stage"))] for a in appliances}
    known = None if isinstance(data.get("appliance"), dict) else stages
    for index, component in enumerate(components):
        for place, step in enumerate(_tables(component.get("steps"))):
            faults += _step(step, ("component", index, "steps", place), known)
    return faults


def _tables(value: object) -> list[dict[str, Any]]:
    """A list of tables; what is no table counts as an empty one, so that places stay right."""
    found = value if isinstance(value, list) else []
    return [entry if isinstance(entry, dict) else {} for entry in found]


def _name(table: dict[str, Any]) -> str:
    name = table.get("name")
    return clean_text(name) if isinstance(name, str) else ""


def _twice(tables: list[dict[str, Any]], path: Path) -> Iterator[Fault]:
    seen: set[str] = set()
    for index, table in enumerate(tables):
        name = _name(table)
        if name and name.casefold() in seen:
            what = f"the name {quoted(name)} is there twice"
            yield Fault((*path, index, "name"), what, "give each its own name")
        seen.add(name.casefold())


def _step(step: dict[str, Any], path: Path, stages: _Stages | None) -> Iterator[Fault]:
    for key in ("kind", "text"):
        if key in step:
            mend = 'begin the step like prep = "peel"'
            yield Fault((*path, key), f"there is no key “{key}” here", mend)
    kinds = [kind for kind in STEP_KINDS if kind in step]
    if len(kinds) != 1:
        yield from _kindless(step, path)
    elif kinds[0] == "cook":
        yield from _on(step, path, stages)
    else:
        for key in _ONLY_COOK:
            if key in step:
                what = f"“{key}” belongs to a cook step, not to {kinds[0]}"
                yield Fault((*path, key), what, "leave it out, or make it a cook step")
    yield from _times(step, path)


def _kindless(step: dict[str, Any], path: Path) -> Iterator[Fault]:
    """The other faults of a step that pydantic gives up on for want of its first word."""
    if not step or "kind" in step:
        return
    rest = {key: value for key, value in step.items() if key not in STEP_KINDS}
    try:
        Step.model_validate({"finish": "as if"} | rest)
    except ValidationError as error:
        yield from faults_of(error, {}, path)


def _on(step: dict[str, Any], path: Path, stages: _Stages | None) -> Iterator[Fault]:
    on = step.get("on")
    if on is None:
        yield Fault(path, "a cook step needs “on”", 'name its appliance: on = "oven"')
    if not isinstance(on, str) or stages is None:
        return
    name = clean_text(on)
    if name in stages:
        yield from _stage(step.get("stage"), path, (name, stages[name]))
        return
    near = _near(name, list(stages))
    there = f"there are {', '.join(stages)}" if stages else f'add [[appliance]], name = "{name}"'
    mend = f"did you mean {quoted(near)}?" if near else there
    yield Fault((*path, "on"), f"there is no appliance {quoted(name)}", mend)


def _near(name: str, names: list[str]) -> str:
    folded = {known.casefold(): known for known in names if known}
    near = difflib.get_close_matches(name.casefold(), folded, 1, 0.5)
    return folded[near[0]] if near else ""


def _stage(value: object, path: Path, appliance: tuple[str, list[str]]) -> Iterator[Fault]:
    on, stages = appliance
    wanted = [value] if isinstance(value, str) else value if isinstance(value, list) else []
    names = [clean_text(w) for w in wanted if isinstance(w, str)]
    for place, stage in enumerate(names):
        if stage not in stages:
            near = _near(stage, stages)
            there = f"its stages are {', '.join(stages)}" if stages else "it has no stages"
            mend = f"did you mean {quoted(near)}?" if near else there
            at: Path = (*path, "stage", place) if isinstance(value, list) else (*path, "stage")
            yield Fault(at, f"{quoted(on)} has no stage {quoted(stage)}", mend)
    places = [stages.index(name) for name in names if name in stages]
    if len(names) > 2 or (len(places) == 2 and places[0] > places[1]):
        first, last = (stages[min(places)], stages[max(places)]) if places else ("…", "…")
        what = "stages are given as the first and the last, in the order of the program"
        yield Fault((*path, "stage"), what, f'write stage = ["{first}", "{last}"]')


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
