"""Read a plan file: everything that is wrong with it at once, each with its line and the mend."""

from typing import Any

from pydantic import ValidationError

from passbell.plan.crosscheck import crosschecked
from passbell.plan.model import Plan
from passbell.plan.places import Places, places_of
from passbell.plan.problem import Fault, PlanError, Problem
from passbell.plan.say import faults_of, where
from passbell.plan.syntax import LARGEST, parsed, too_large

__all__ = ["LARGEST", "MOST_COMPONENTS", "MOST_STEPS", "read_file", "read_plan"]

MOST_COMPONENTS = 200
MOST_STEPS = 2000


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
    data = parsed(text, file)
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
    raise PlanError(_problems(faults, file, places_of(text), data))


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
    faults: list[Fault], file: str, places: Places, data: dict[str, Any]
) -> tuple[Problem, ...]:
    found = {
        Problem(file, places.line(f.path), where(f.path, data), f.what, f.mend) for f in faults
    }
    return tuple(sorted(found, key=lambda p: (p.line, p.where, p.what)))
