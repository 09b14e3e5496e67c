"""What is wrong with a value, in the words of a cook, and where it stands."""

import difflib
from collections.abc import Callable
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from passbell.plan.model import STEP_KINDS, Appliance, Component, During, Plan, Stage, Step
from passbell.plan.problem import Fault, Path
from passbell.units import clean_text

_MODELS: tuple[tuple[str, type[BaseModel]], ...] = (
    ("stage", Stage),
    ("during", During),
    ("steps", Step),
    ("component", Component),
    ("appliance", Appliance),
)


def faults_of(error: ValidationError, data: dict[str, Any]) -> list[Fault]:
    """Every fault that pydantic found, without those that only follow from another."""
    details = error.errors(include_url=False)
    paths = [_path(d) for d in details]
    found = []
    for detail, path in zip(details, paths, strict=True):
        follows = detail["type"] == "too_short" and any(
            p[: len(path)] == path and len(p) > len(path) for p in paths
        )
        if not follows:
            found.append(_fault(detail, path, data))
    return found


def _path(detail: ErrorDetails) -> Path:
    """The path of a value in the file: tags of unions are not part of it."""
    return tuple(p for p in detail["loc"] if isinstance(p, int) or not _is_tag(p))


def _is_tag(part: str) -> bool:
    return any(sign in part for sign in "[(") or part == "literal"


def _fault(detail: ErrorDetails, path: Path, data: dict[str, Any]) -> Fault:
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "unit":
        return Fault(path, str(context["what"]), str(context["mend"]))
    say = _SAYS.get(kind)
    if say is not None:
        return Fault(path, *say(path, context, detail["input"]))
    return Fault(path, f"{_shown(detail['input'])} does not fit: {detail['msg']}", "correct it")


def _shown(value: object) -> str:
    return clean_text(repr(value), 60) if isinstance(value, str) else clean_text(str(value), 60)


def _unknown(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    key = str(path[-1])
    known = known_keys(path[:-1])
    near = difflib.get_close_matches(key, known, 1, 0.6)
    mend = f"did you mean “{near[0]}”?" if near else f"the keys here are {', '.join(known)}"
    return f"there is no key “{clean_text(key, 60)}”", mend


def known_keys(table: Path) -> list[str]:
    """The keys that may stand in a table of the file."""
    names = [p for p in table if isinstance(p, str)]
    model: type[BaseModel] = Plan
    if names:
        model = dict(_MODELS).get(names[-1], Plan)
    keys = [field.alias or name for name, field in model.model_fields.items()]
    if model is Step:
        keys = [*STEP_KINDS, *(k for k in keys if k not in ("kind", "text"))]
    return keys


def _missing(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    key = str(path[-1])
    return f"“{key}” is missing", f"add {_EXAMPLES.get(key, key + ' = …')}"


_EXAMPLES = {
    "title": 'title = "Sunday roast"',
    "serves": "serves = 2",
    "name": 'name = "carrots"',
    "time": 'time = "6 min"',
    "steps": 'steps = [ { prep = "peel", time = "6 min" } ]',
    "component": "a [[component]] for every dish",
    "at": 'at = "halfway"',
    "do": 'do = "turn"',
}


def _number(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{_shown(value)} is not a whole number", f"write {path[-1]} = 2"


def _least(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{_shown(value)} is too small", f"write {context['ge']} or more"


def _most(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{_shown(value)} is too large", f"write {context['le']} or less"


def _text(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{_shown(value)} is not text", f'write it in quotes: {path[-1]} = "…"'


def _choice(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{_shown(value)} is none of the words there are", f"write {context['expected']}"


def _list(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{_shown(value)} is not a list", "write it in square brackets: [ … ]"


def _table(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return f"{_shown(value)} is not a table", 'write it as { prep = "peel", time = "6 min" }'


def _empty(path: Path, context: dict[str, Any], value: object) -> tuple[str, str]:
    return "the list is empty", f"add {_EXAMPLES.get(str(path[-1]), 'an entry')}"


_SAYS: dict[str, Callable[[Path, dict[str, Any], object], tuple[str, str]]] = {
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
    here: Any = data
    for place, part in enumerate(path):
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            here = None
        before = path[place - 1] if place else None
        if isinstance(part, int) and isinstance(before, str):
            name = here.get("name") if isinstance(here, dict) else None
            number = "step" if before == "steps" else before
            quoted = f"“{clean_text(name, 60)}”" if isinstance(name, str) else str(part + 1)
            words.append(f"{number} {quoted}")
    if path and isinstance(path[-1], str) and (words or len(path) == 1):
        words.append(clean_text(path[-1], 60))
    return ", ".join(words)
