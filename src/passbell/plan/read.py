"""Read a plan file: everything that is wrong with it at once, each with its line and the mend."""

import re
from typing import Any

from pydantic import ValidationError

from passbell.plan.crosscheck import crosschecked
from passbell.plan.cursor import Stray
from passbell.plan.loose import Loose
from passbell.plan.model import Plan
from passbell.plan.problem import Fault, PlanError, Problem
from passbell.plan.say import faults_of, where
from passbell.plan.syntax import LARGEST, located, parsed, too_large

__all__ = ["LARGEST", "MOST_COMPONENTS", "MOST_STEPS", "read_file", "read_plan"]

MOST_COMPONENTS = 200
MOST_STEPS = 2000
MOST_PROBLEMS = 500
"""The most problems that are told of one file."""


def read_file(data: bytes, file: str) -> tuple[Plan, str]:
    """The plan in the bytes of a file, and its text.

    Args:
        data: the whole file, in UTF-8.
        file: what to call it in messages.

    Raises:
        PlanError: with every problem found.
    """
    if len(data) > LARGEST:
        raise PlanError((too_large(file),))
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise PlanError((Problem(file, 1, "", "it is written in UTF-16", "save it as UTF-8"),))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        what = f"it is not written in UTF-8 (byte {data[error.start]:#04x})"
        raise PlanError((Problem(file, line, "", what, "save it as UTF-8"),)) from None
    return read_plan(text, file), text


def read_plan(text: str, file: str) -> Plan:
    """The plan in a TOML text.

    Args:
        text: the whole file.
        file: what to call it in messages.

    Raises:
        PlanError: with every problem found, in the order of their lines.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    read = parsed(text, file)
    plan, faults = _validated(read.data)
    if plan is not None and not read.strays:
        return plan
    if not _OF_A_PLAN.search(text):
        raise _no_plan(file)
    faults = [fault for fault in faults if not read.is_lost(fault.path)]
    told = {fault.path for fault in faults}
    strays = [stray for stray in read.strays if stray.path not in told]
    raise PlanError(_problems(faults, strays, file, located(read, text)))


_OF_A_PLAN = re.compile(
    r"^[ \t]*(?:\[\[?[ \t]*(?:component|appliance)\b"
    r"|(?:title|serves|serve_at|hands|slack|chart|steps)[ \t]*=)",
    re.MULTILINE,
)
"""A line that only a plan has, however badly the rest of it is written."""


def _no_plan(file: str) -> PlanError:
    what = "this is no plan: it has no title, serves, appliance or component"
    mend = "look at the file's name, or begin a plan with: passbell new"
    return PlanError((Problem(file, 1, "", what, mend),))


def _validated(data: dict[str, Any]) -> tuple[Plan | None, list[Fault]]:
    """The plan in plain data, or everything that is wrong with it."""
    faults = _too_much(data)
    if faults:
        return None, faults
    try:
        plan = Plan.model_validate(data)
    except ValidationError as error:
        return None, [*faults_of(error, data), *crosschecked(data)]
    faults = crosschecked(data)
    return (None if faults else plan), faults


def _too_much(data: dict[str, Any]) -> list[Fault]:
    components = data.get("component")
    if not isinstance(components, list):
        return []
    lists = [c.get("steps") for c in components if isinstance(c, dict)]
    steps = sum(len(steps) for steps in lists if isinstance(steps, list))
    if len(components) > MOST_COMPONENTS:
        what = f"{len(components)} components are too many"
        return [Fault(("component", MOST_COMPONENTS), what, f"at most {MOST_COMPONENTS}")]
    if steps > MOST_STEPS:
        return [Fault((), f"{steps} steps are too many", f"at most {MOST_STEPS}")]
    return []


def _problems(
    faults: list[Fault], strays: list[Stray], file: str, read: Loose
) -> tuple[Problem, ...]:
    told = [(read.line(fault.path), fault) for fault in faults]
    told += [(stray.line, Fault(stray.path, stray.what, stray.mend)) for stray in strays]
    found = {Problem(file, n, where(f.path, read.data), f.what, f.mend) for n, f in told}
    ordered = sorted(found, key=lambda p: (p.line, p.where, p.what))
    if len(ordered) > MOST_PROBLEMS:
        more = f"there is more wrong, {len(ordered) - MOST_PROBLEMS} times"
        last = ordered[MOST_PROBLEMS].line
        ordered[MOST_PROBLEMS:] = [Problem(file, last, "", more, "mend these first")]
    return tuple(ordered)
