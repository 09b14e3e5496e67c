"""What is wrong with a value, in the words of a cook, and where it stands."""

import difflib
from collections.abc import Callable
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from passbell.plan.model import STEP_KINDS, Appliance, Component, During, Plan, Stage, Step
from passbell.plan.problem import Fault, Path
from passbell.units import clean_text, quoted
from passbell.units.text import shown

MOST_FAULTS = 2000
"""The most faults of values that are told at once."""

_MODELS: dict[str, type[BaseModel]] = {
    "stage": Stage,
    "during": During,
    "steps": Step,
    "component": Component,
    "appliance": Appliance,
}
_HEADERS = {"component": "[[component]]", "appliance": "[[appliance]]"}
_HEADERS |= {"stage": "[[appliance.stage]]"}
_EXAMPLES = {
    "title": 'title = "Sunday roast"',
    "serves": "serves = 4",
    "name": 'name = "carrots"',
    "time": 'time = "6 min"',
    "steps": 'steps = [ { prep = "peel", time = "6 min" } ]',
    "component": "a [[component]] for every dish",
    "at": 'at = "halfway"',
    "do": 'do = "turn"',
    "ingredients": 'ingredients = ["300 g carrots"]',
    "during": 'during = [{ at = "halfway", do = "turn" }]',
    "food": 'food = "plant"',
    "stage": 'stage = "roast", or the first and the last: stage = ["roast", "crisp"]',
}
_Says = Callable[[Path, dict[str, Any], object], tuple[str, str]]


def faults_of(error: ValidationError, data: dict[str, Any], above: Path = ()) -> list[Fault]:
    """Every fault that pydantic found, without those that only follow from another.

    Of more than MOST_FAULTS only the first are told: one slip repeated, or no plan at all.

    Args:
        error: of a whole plan, or of what stands at a path of it.
        data: the whole file.
        above: that path.
    """
    details = error.errors(include_url=False)[:MOST_FAULTS]
    paths = [(*above, *detail["loc"]) for detail in details]
    misspelt = {
        (*path[:-1], _near_key(path))
        for detail, path in zip(details, paths, strict=True)
        if detail["type"] == "extra_forbidden"
    }
    found = []
    for detail, path in zip(details, paths, strict=True):
        follows = {
            "too_short": any(p[: len(path)] == path and len(p) > len(path) for p in paths),
            "missing": path in misspelt,
        }
        if not follows.get(detail["type"], False):
            found.append(_fault(detail, _written(path, data)))
    return found


def _written(path: Path, data: dict[str, Any]) -> Path:
    """The text of a step stands behind the word of its kind."""
    if path[-1:] != ("text",):
        return path
    step = at_path(data, path[:-1])
    kinds = [kind for kind in STEP_KINDS if isinstance(step, dict) and kind in step]
    return (*path[:-1], kinds[0]) if "steps" in path and kinds else path


def _fault(detail: ErrorDetails, path: Path) -> Fault:
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "unit":
        return Fault(path, str(context["what"]), str(context["mend"]))
    say = _SAYS.get(kind)
    if say is not None:
        return Fault(path, *say(path, context, detail["input"]))
    return Fault(path, f"{shown(detail['input'])} does not fit here", f"write {_example(path)}")


def _unknown(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    key = str(path[-1])
    known = known_keys(path[:-1])
    near = _near_key(path)
    home = _home(key)
    if near:
        mend = f"did you mean “{near}”?"
    elif home:
        mend = f"it belongs {home}"
    else:
        mend = f"the keys here are {', '.join(known)}"
    return f"there is no key {quoted(key)} here", mend


def _near_key(path: Path) -> str:
    known = known_keys(path[:-1])
    return next(iter(difflib.get_close_matches(str(path[-1])[:60].lower(), known, 1, 0.6)), "")


def _home(key: str) -> str:
    """Where a key belongs that is known, but not where it was written."""
    if key in known_keys(()):
        return "to the whole meal: write it above the first [[appliance]] and [[component]]"
    homes = [
        _HEADERS.get(name, f"an entry of {name}")
        for name in reversed(_MODELS)
        if key in known_keys((name,))
    ]
    return f"to {' or '.join(homes)}" if homes else ""


def known_keys(table: Path) -> list[str]:
    """The keys that may stand in a table of the file."""
    names = [part for part in table if isinstance(part, str)]
    model = _MODELS[names[-1]] if names else Plan
    keys = [field.alias or name for name, field in model.model_fields.items()]
    if model is Step:
        keys = [*STEP_KINDS, *(key for key in keys if key not in ("kind", "text"))]
    return keys


def _missing(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    key = str(path[-1])
    return f"“{key}” is missing", f"add {_EXAMPLES.get(key, key)}"


def _number(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{shown(value)} is not a whole number", f"write it like {path[-1]} = 2"


def _least(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{shown(value)} is too small", f"write {context['ge']} or more"


def _most(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{shown(value)} is too large", f"write {context['le']} or less"


def _text(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    if isinstance(path[-1], int):
        return f"{shown(value)} is not text", f"write {_example(path)}"
    return f"{shown(value)} is not text", f'write it in quotes: {path[-1]} = "…"'


def _choice(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    words = str(context["expected"]).replace("'", '"')
    return f"{shown(value)} is none of the words there are", f"write {words}"


def _list(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    header = _HEADERS.get(str(path[-1]))
    if header is not None and isinstance(value, dict):
        return "there may be several of it", f"write {header}, with two brackets on each side"
    return f"{shown(value)} is not a list", f"write {_example(path)}"


def _table(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    names = [part for part in path if isinstance(part, str)]
    if names[-1] in _HEADERS:
        return f"{shown(value)} is not a table", f"write {_HEADERS[names[-1]]} with its keys below"
    return f"{shown(value)} is not a table in braces", f"write {_example(path)}"


def _empty(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return "the list is empty", f"write {_example(path)}"


def _example(path: Path) -> str:
    names = [part for part in path if isinstance(part, str)]
    return _EXAMPLES.get(names[-1], f'{names[-1]} = ["…"]')


_SAYS: dict[str, _Says] = {
    "extra_forbidden": _unknown,
    "missing": _missing,
    "int_type": _number,
    "int_parsing": _number,
    "int_from_float": _number,
    "greater_than_equal": _least,
    "less_than_equal": _most,
    "string_type": _text,
    "literal_error": _choice,
    "tuple_type": _list,
    "list_type": _list,
    "model_type": _table,
    "model_attributes_type": _table,
    "dict_type": _table,
    "too_short": _empty,
}


def where(path: Path, data: dict[str, Any]) -> str:
    """A place in the file in words: 'component "carrots", step 2'; empty: the whole file."""
    words: list[str] = []
    for place, part in enumerate(path):
        before = path[place - 1] if place else None
        if isinstance(part, int) and isinstance(before, str):
            here = at_path(data, path[: place + 1])
            name = here.get("name") if isinstance(here, dict) else None
            noun = _NOUNS.get(before, before)
            words.append(f"{noun} {quoted(name) if isinstance(name, str) else part + 1}")
    if path and isinstance(path[-1], str):
        words.append(clean_text(path[-1], 60))
    return ", ".join(words)


_NOUNS = {"steps": "step", "during": "action", "ingredients": "ingredient"}


def at_path(data: object, path: Path) -> object:
    """What stands at a path of plain data; None where nothing does."""
    for part in path:
        if isinstance(data, dict) and isinstance(part, str):
            data = data.get(part)
        elif isinstance(data, list | tuple) and isinstance(part, int) and part < len(data):
            data = data[part]
        else:
            return None
    return data
