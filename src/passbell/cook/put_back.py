"""Food that left the heat too early: whether it can go back, and why it should."""

from passbell.cook.acts import go_back
from passbell.cook.cue import CueKey
from passbell.cook.neighbours import on_the_heat
from passbell.cook.state import CookState
from passbell.cook.verdicts import has_minimum, verdict
from passbell.safety.neighbours import TOUCHED

KEEP_GOING = "put back, keep going"
"""What to do about it, wherever it is said."""


def step_to_go_back(state: CookState, component: int) -> int | None:
    """The cook step that would go on; None: it has not been on the heat, or is on it now."""
    if on_the_heat(state, component) is not None:
        return None
    steps = state.component(component).steps
    ended = [
        index
        for index, real in enumerate(state.steps[component])
        if steps[index].kind == "cook" and real.ended is not None
    ]
    return ended[-1] if ended else None


def reason_to_go_back(state: CookState, component: int) -> str:
    """Why food that is off the heat for good belongs back on it; empty: it does not.

    Meat, poultry and fish whose minimum has not been read at every place; what came off a tray
    with raw meat.
    """
    last = state.tables.last_cook[component]
    if last is None or state.steps[component][last].ended is None or component in state.skipped:
        return ""
    if not state.remarks and not has_minimum(state, component):
        return ""
    if step_to_go_back(state, component) != last:
        return ""
    judged = verdict(state, component)
    if has_minimum(state, component) and judged.verdict not in ("met", "no_figure"):
        if judged.verdict == "below":
            by = f" by {judged.below_by}" if judged.below_by else ""
            return f"below its minimum{by}"
        return "minimum not read"
    return "touched raw meat" if touched(state, component) else ""


def waits_outside(state: CookState) -> bool:
    """Whether anything is off the heat that belongs back on it."""
    return any(reason_to_go_back(state, c) for c in range(len(state.steps)))


def as_if_back(state: CookState, now: int) -> CookState:
    """The state with everything that belongs back on the heat put back now: a supposition.

    What the cook has put off goes back when it is asked for again. The rest of the meal is planned
    on it, so that taking food out too early brings nothing forward.
    """
    for component in range(len(state.steps)):
        if not reason_to_go_back(state, component):
            continue
        step = step_to_go_back(state, component)
        if step is not None:
            known = state.cue(CueKey.back_in(component, step).id)
            put_off = known.until if known is not None else None
            state = go_back(state, (component, step), max(now, put_off or 0))
    return state


def touched(state: CookState, component: int) -> bool:
    """Whether it came off a tray with raw meat when it left the heat last."""
    step = step_to_go_back(state, component)
    if step is None:
        return False
    left = state.steps[component][step].ended_noted
    return any(
        r.component == component and r.of == "program" and r.at == left and TOUCHED in r.text
        for r in state.remarks
    )
