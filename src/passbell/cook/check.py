"""Every problem a plan has before it is cooked: what `check` and the plan list say."""

from collections.abc import Iterator

from passbell.cook.check_food import food_findings
from passbell.cook.check_times import time_findings
from passbell.cook.engine import begin
from passbell.plan.findings import Finding, findings
from passbell.plan.layer import layers
from passbell.plan.model import Plan
from passbell.plan.unfilled import unfilled
from passbell.schedule.model import Contradiction
from passbell.schedule.offers import allowed_runs

_ORDER = ("error", "warning", "note")


def examine(plan: Plan, serve: int | None = None, text: str = "") -> tuple[Finding, ...]:
    """All findings of a plan, errors first.

    What only the plan shows, what the temperature charts say, and what the schedule says.

    Args:
        plan: as read from its file.
        serve: wanted dish-up instant, in seconds from the start; None: a serving time plays no
            part.
        text: the text it was read from, for what only its remarks show.
    """
    found = [*unfilled(text), *findings(plan), *food_findings(plan), *_impossible(plan)]
    try:
        state = begin(plan, serve).state
    except Contradiction as error:
        found += [_contradiction(error), *layers(plan)]
    else:
        found += time_findings(plan, state)
    return tuple(sorted(dict.fromkeys(found), key=lambda f: _ORDER.index(f.severity)))


def _impossible(plan: Plan) -> Iterator[Finding]:
    """Every step that no stage of its appliance can take, not the first alone."""
    for c, component in enumerate(plan.components):
        for i, step in enumerate(component.steps):
            if step.kind == "cook":
                try:
                    allowed_runs(plan, c, i)
                except Contradiction as error:
                    yield _contradiction(error)


def _contradiction(error: Contradiction) -> Finding:
    names = dict.fromkeys(step.component for step in error.steps)
    mend = error.mend[:1].lower() + error.mend[1:].rstrip(".")
    return Finding("error", ", ".join(names) or None, error.text.rstrip("."), mend)
