"""Read a plan file: everything that is wrong with it at once, each with its line and the mend."""

import re
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.exceptions import ParseError, TOMLKitError

from passbell.plan.crosscheck import crosschecked
from passbell.plan.lines import DEEPEST, deepest, line_of, lines_of
from passbell.plan.model import Plan
from passbell.plan.problem import Fault, Path, PlanError, Problem
from passbell.plan.say import faults_of, where

LARGEST = 1_000_000
"""The largest plan file, in bytes."""
MOST_COMPONENTS = 200
MOST_STEPS = 2000


def read_plan(text: str, file: str) -> Plan:
    """The plan in a TOML text.

    Args:
        text: the whole file.
        file: what to call it in messages.

    Raises:
        PlanError: with every problem found, in the order of their lines.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    data = _parsed(text, file)
    lines = lines_of(text)
    faults = _too_much(data)
    if not faults:
        try:
            plan = Plan.model_validate(data)
        except ValidationError as error:
            faults = [*faults_of(error, data), *crosschecked(data)]
        else:
            faults = crosschecked(data)
            if not faults:
                return plan
    raise PlanError(_problems(faults, file, lines, data))


def _parsed(text: str, file: str) -> dict[str, Any]:
    if len(text.encode("utf-8", "replace")) > LARGEST:
        what, mend = "it is larger than 1 MB", "a plan is one meal: cut it down"
        raise PlanError((Problem(file, 1, "", what, mend),))
    if deepest(text) > DEEPEST:
        what, mend = "lists and tables are nested too deep", "write the steps one level deep"
        raise PlanError((Problem(file, 1, "", what, mend),))
    try:
        return dict(tomlkit.parse(text).unwrap())
    except (TOMLKitError, ValueError, KeyError, RecursionError) as error:
        line = error.line if isinstance(error, ParseError) else 1
        raise PlanError((Problem(file, line, "", _syntax(error), _SYNTAX_MEND),)) from None


_SYNTAX_MEND = 'write key = "value" on each line, and close every quote and bracket'


def _syntax(error: Exception) -> str:
    words = re.sub(r" at line \d+ col \d+", "", str(error)).strip(" .'\"") or "it is not TOML"
    return f"it cannot be read as TOML ({words})"


def _too_much(data: dict[str, Any]) -> list[Fault]:
    components = data.get("component")
    if not isinstance(components, list):
        return []
    steps = [
        len(c["steps"])
        for c in components
        if isinstance(c, dict) and isinstance(c.get("steps"), list)
    ]
    if len(components) > MOST_COMPONENTS:
        what = f"{len(components)} components are too many"
        return [Fault(("component", MOST_COMPONENTS), what, f"at most {MOST_COMPONENTS}")]
    if sum(steps) > MOST_STEPS:
        return [Fault(("component",), f"{sum(steps)} steps are too many", f"at most {MOST_STEPS}")]
    return []


def _problems(
    faults: list[Fault], file: str, lines: dict[Path, int], data: dict[str, Any]
) -> tuple[Problem, ...]:
    found = {
        Problem(file, line_of(lines, f.path), where(f.path, data), f.what, f.mend) for f in faults
    }
    return tuple(sorted(found, key=lambda p: (p.line, p.where, p.what)))
