"""What must not be missed about a component: one line, the most harmful first."""

from passbell.cook.expect import next_look
from passbell.cook.neighbours import held_by, on_the_heat
from passbell.cook.state import CookState
from passbell.cook.verdicts import has_minimum, verdict
from passbell.cook.wording import minutes

WORDS = {
    "below": "BELOW",
    "incomplete": "not all probed",
    "met": "minimum met",
    "hold": "hold and read again",
    "recheck": "read again",
    "no_figure": "no minimum published",
}
"""A verdict in a word or two."""


def component_alert(state: CookState, index: int, now: int) -> str:
    """What must not be missed about it now; empty: nothing."""
    return _verdict_alert(state, index, now) or _touched_alert(state, index) or ""


def _verdict_alert(state: CookState, index: int, now: int) -> str:
    if not has_minimum(state, index) or not any(r.component == index for r in state.readings):
        return ""
    judged = verdict(state, index)
    if judged.verdict == "met":
        return ""
    words = WORDS[judged.verdict]
    if judged.verdict == "below" and judged.below_by:
        words = f"BELOW by {judged.below_by}"
    step = on_the_heat(state, index)
    if step is None:
        return f"{words}: back to the heat" if judged.verdict == "below" else words
    look = next_look(state, index, step)
    if look is not None and look > now:
        words += f", look again in {minutes(look - now)}"
    return words


def _touched_alert(state: CookState, index: int) -> str:
    """Food that came off a tray with raw meat stays suspect until it is back on the heat."""
    step = on_the_heat(state, index)
    if step is not None and not held_by(state, index, step):
        return ""
    for remark in reversed(state.remarks):
        if remark.component == index and "touched raw meat" in remark.text and step is None:
            return "touched raw meat: back on the heat"
    return ""
