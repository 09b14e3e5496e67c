"""The odds in words, never as a certainty."""

from collections.abc import Callable

from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.odds.matter import Matter
from passbell.odds.odds import WITHIN, Odds

NEARLY = 0.95
"""Above this share, and below what is left of it, tenths say too little."""


def chance_words(chance: float) -> str:
    """A chance in words: "7 in 10", "19 in 20 or better", "1 in 20 or less"."""
    if chance >= NEARLY:
        return "19 in 20 or better"
    if chance <= 1 - NEARLY:
        return "1 in 20 or less"
    return f"{min(9, max(1, round(chance * 10)))} in 10"


def odds_line(odds: Odds, local: Callable[[int], str]) -> str:
    """One line: the chance, by when, and how late the late ones are."""
    by = local(odds.wanted + WITHIN)
    late = spoken(-(-odds.late_90 // 60) * 60)
    tail = f"; 1 in 10 is later by {late} or more" if odds.late_90 > WITHIN else ""
    return f"{chance_words(odds.chance)} to serve by {by}{tail}"


def screen_lines(
    state: CookState,
    odds: Odds,
    most: tuple[int, int] | None,
    found: tuple[Matter, ...],
    local: Callable[[int], str],
) -> tuple[str, ...]:
    """Texts for the screen: the chance, how late the late ones are, what to do, and all about it.

    The second is empty where even the late ones are on time. The third is what it hangs on where
    nothing that can still be done was found to raise it; the others have room elsewhere.

    Args:
        state: the cook as it stands.
        odds: its odds.
        most: the step that goes most with a late dish-up, (component, step); None: none.
        found: the changes that raise the chance most, best first.
        local: from an engine instant to the local time.
    """
    chance = f"{chance_words(odds.chance)} by {local(odds.wanted + WITHIN)}"
    late = f"1 in 10 past {local(odds.wanted + odds.late_90)}" if odds.late_90 > WITHIN else ""
    ours = "our estimate"
    if most is not None:
        component = state.component(most[0])
        ours = f"{ours}; most on {component.name}: {component.steps[most[1]].text}"
    open_still = [matter for matter in found if _still(state, matter)]
    if not open_still:
        return chance, late, ours
    first = open_still[0]
    name, words = state.component(first.component).name, chance_words(first.after)
    told = f"{words} with {name} {spoken(first.by)} earlier"
    return chance, late, told, ours, *(matter_line(state, matter) for matter in open_still)


def _still(state: CookState, matter: Matter) -> bool:
    """Whether a step can still be begun so much earlier than it is planned now."""
    if matter.change != "earlier" or matter.component in state.skipped:
        return False
    row, starts = state.steps[matter.component], state.schedule.starts[matter.component]
    left = [i for i in range(matter.step + 1) if row[i].began is None]
    return matter.step in left and starts[left[0]] - state.at >= matter.by


def percent(chance: float) -> str:
    """A chance in whole percent, never 0 or 100: no number of cooks shows that."""
    return f"{min(99, max(1, round(chance * 100)))} %"


def matter_line(state: CookState, matter: Matter) -> str:
    """What could be done about a step, and what it was found to change."""
    name, text = state.component(matter.component).name, _text(state, matter)
    by = spoken(matter.by)
    told = (
        f"{name}: begin “{text}” {by} earlier"
        if matter.change == "earlier"
        else f"{name}: have “{text}” done before you start"
    )
    return f"{told}, and the chance rises from {percent(matter.before)} to {percent(matter.after)}"


def _text(state: CookState, matter: Matter) -> str:
    return state.component(matter.component).steps[matter.step].text
