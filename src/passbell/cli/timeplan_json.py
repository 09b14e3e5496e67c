"""A time plan as JSON: whole seconds from now, for other programs and tests."""

import json
from datetime import datetime
from typing import Any

from passbell.cli.parser import say
from passbell.cook.cues import cues
from passbell.cook.display import stage_words
from passbell.cook.state import CookState
from passbell.cook.wording import minutes
from passbell.schedule.model import Contradiction, Work
from passbell.schedule.slack import slacks


def timeplan_json(state: CookState, at_start: datetime) -> dict[str, Any]:
    """The schedule of a cook that has not begun.

    Args:
        state: the cook before its first act.
        at_start: the instant of second 0, with its zone.
    """
    schedule = state.schedule
    return {
        "title": state.plan.title,
        "dish_up": schedule.dish_up,
        "start": schedule.start,
        "over_hold": schedule.over_hold,
        "wait": schedule.wait,
        "proven": schedule.proven,
        "bound": schedule.bound,
        "late": schedule.late,
        "earlier": schedule.earlier,
        "steps": _steps(state),
        "stages": _stages(state),
        "cues": _cues(state),
        "at_start": at_start.isoformat(timespec="seconds"),
    }


def contradiction_json(error: Contradiction) -> dict[str, Any]:
    """A plan that contradicts itself: the steps, what contradicts what, and the mend."""
    steps = [{"component": s.component, "index": s.index, "text": s.text} for s in error.steps]
    return {"error": {"kind": error.kind, "steps": steps, "text": error.text, "mend": error.mend}}


def contradicted(error: Contradiction, program: str = "passbell", *, as_json: bool) -> int:
    """Say that a plan contradicts itself, as a sentence or as data; the exit code."""
    if as_json:
        print(json.dumps(contradiction_json(error), ensure_ascii=False))
    else:
        say(f"{error.text} {error.mend}", program)
    return 1


def _steps(state: CookState) -> list[dict[str, Any]]:
    spare = slacks(state.problem, state.schedule)
    return [
        _step(state, work, spare[work.component][work.index])
        for row in state.problem.works
        for work in row
    ]


def _step(state: CookState, work: Work, slack: int) -> dict[str, Any]:
    plan = state.component(work.component)
    step = plan.steps[work.index]
    start = state.schedule.starts[work.component][work.index]
    return {
        "component": plan.name,
        "index": work.index,
        "kind": step.kind,
        "text": step.text,
        "on": step.on,
        "stage": _stage_at(state, work, start),
        "start": start,
        "end": state.schedule.ends[work.component][work.index],
        "hands": [start, start + work.hands] if work.hands else None,
        "slack": slack,
    }


def _stage_at(state: CookState, work: Work, start: int) -> str | None:
    """The stage an appliance is in when food goes in; None: it has no stages."""
    if work.machine is None:
        return None
    stages = state.appliance(work.machine).stages
    bounds = state.schedule.bounds[work.machine]
    found = [stage.name for k, stage in enumerate(stages) if bounds[k] <= start]
    return found[-1] if found else None


def _stages(state: CookState) -> list[dict[str, Any]]:
    found = []
    for index, appliance in enumerate(state.plan.appliances):
        bounds = state.schedule.bounds[index]
        for k, stage in enumerate(appliance.stages if bounds else ()):
            found.append(
                {
                    "appliance": appliance.name,
                    "name": stage.name,
                    "start": bounds[k],
                    "end": bounds[k + 1],
                    "mode": stage.mode,
                    "temp": str(stage.temp) if stage.temp else None,
                    "words": stage_words(state, index, k),
                }
            )
    return found


def _cues(state: CookState) -> list[dict[str, Any]]:
    return [
        {
            "at": cue.at,
            "kind": cue.key.kind,
            "component": cue.component,
            "text": cue.text,
            "appliance": cue.place if cue.place not in ("hands", "table") else None,
            "display": minutes(cue.display) if cue.display is not None else None,
        }
        for cue in cues(state)
        if not cue.silent
    ]
