"""What must not be missed about a component: one line, the most harmful first."""

from collections.abc import Callable

from passbell.cook.expect import next_look
from passbell.cook.neighbours import on_the_heat, raw_left
from passbell.cook.put_back import KEEP_GOING, reason_to_go_back, touched
from passbell.cook.state import CookState
from passbell.cook.verdicts import has_minimum, readings_of, verdict, was_read
from passbell.cook.waits import waits_now
from passbell.cook.wording import minutes
from passbell.safety.foods import is_raw_meat
from passbell.safety.thermometer import correction
from passbell.safety.waiting import fridge_until, fridge_words, holding_words
from passbell.units import Temperature

WORDS = {
    "below": "BELOW",
    "incomplete": "not all probed",
    "met": "minimum met",
    "hold": "hold and read again",
    "recheck": "read again",
    "no_figure": "no minimum published",
}
"""A verdict in a word or two."""


def component_alert(state: CookState, index: int, now: int, local: Callable[[int], str]) -> str:
    """What must not be missed about it now, the most harmful first; empty: nothing.

    Args:
        state: the cook.
        index: the component.
        now: the engine instant.
        local: from an engine instant to the local time ("18:20").
    """
    waits = waits_now(state, index, now)
    certain = waits is not None and waits.state != "ask"
    return (
        _verdict_alert(state, index, now)
        or _touched_alert(state, index, now)
        or (waits.words if waits is not None and certain else "")
        or _fridge_alert(state, index, now, local)
        or (waits.words if waits is not None else "")
    )


def held_hot(state: CookState, index: int) -> str:
    """How hot the food is that waits off the heat, as far as anybody knows; empty: it does not.

    By the last reading taken since it left, corrected by what the thermometer shows in ice water.
    """
    last = state.tables.last_cook[index]
    left = state.steps[index][last].ended if last is not None else None
    if left is None or not _waits_hot(state, index) or reason_to_go_back(state, index):
        return ""
    since = [r for r in readings_of(state, index) if r.off_heat and r.at >= left]
    if not since:
        return holding_words(None)
    latest = since[-1]
    shown = latest.shown - float(correction(state.ice, latest.scale))
    return holding_words(Temperature(round(shown, 1), latest.scale))


def _waits_hot(state: CookState, index: int) -> bool:
    """Whether nothing is being done with it and it is on no plate, left out or served."""
    if index in state.skipped or state.served is not None:
        return False
    plan, current = state.component(index), state.current(index)
    if current is None:
        return plan.steps[-1].kind != "finish"
    return plan.steps[current].kind == "finish" and state.steps[index][current].began is None


def _fridge_alert(state: CookState, index: int, now: int, local: Callable[[int], str]) -> str:
    """Raw meat whose prep is done long before the next work on it, or its heat.

    A rest between the two is part of the gap until what follows it is due: it belongs in the
    fridge whatever it is called.
    """
    plan, row = state.component(index), state.steps[index]
    first = plan.first_cook
    if first is None or not first or not is_raw_meat(plan.food) or index in state.skipped:
        return ""
    if row[first].began is not None:
        return ""
    begun = [i for i in range(first) if plan.steps[i].kind == "prep" and row[i].began is not None]
    last = begun[-1] if begun else first - 1
    following = next(i for i in range(last + 1, first + 1) if plan.steps[i].kind != "rest")
    start = state.schedule.starts[index][following]
    ended = row[last if start > now else following - 1].ended
    until = fridge_until(ended, start) if ended is not None else None
    return fridge_words(local(until)) if until is not None else ""


def _verdict_alert(state: CookState, index: int, now: int) -> str:
    step = on_the_heat(state, index)
    if not has_minimum(state, index):
        return ""
    if not was_read(state, index):
        why = reason_to_go_back(state, index)
        return f"{why}: {KEEP_GOING}" if why else ""
    judged = verdict(state, index)
    if judged.verdict == "met":
        return ""
    words = WORDS[judged.verdict]
    if judged.verdict == "below" and judged.below_by:
        words = f"BELOW by {judged.below_by}"
    if step is None:
        return f"{words}: {KEEP_GOING}" if reason_to_go_back(state, index) else words
    look = next_look(state, index, step)
    if look is not None and look > now:
        words += f", look again in {minutes(look - now)}"
    return words


def _touched_alert(state: CookState, index: int, now: int) -> str:
    """Food that came off a tray with raw meat stays suspect until it is back on the heat.

    So does what lies on a tray that raw meat has left for good, until it has had its heat.
    """
    if touched(state, index):
        return f"touched raw meat: {KEEP_GOING}"
    step = on_the_heat(state, index)
    left = raw_left(state, index, step) if step is not None else None
    if left is None or left[1] <= now:
        return ""
    return f"touched raw meat: stays {minutes(left[1] - now)} more"
