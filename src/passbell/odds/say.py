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
    state: CookState, odds: Odds, most: tuple[int, int] | None, local: Callable[[int], str]
) -> tuple[str, str, str]:
    """Three short texts for the screen: the chance, how late the late ones are, what it hangs on.

    The second is empty where even the late ones are on time.

    Args:
        state: the cook that the odds are of.
        odds: its odds.
        most: the step that goes most with a late dish-up, (component, step); None: none.
        local: from an engine instant to the local time.
    """
    chance = f"{chance_words(odds.chance)} by {local(odds.wanted + WITHIN)}"
    late = f"1 in 10 past {local(odds.wanted + odds.late_90)}" if odds.late_90 > WITHIN else ""
    ours = "our estimate"
    if most is None:
        return chance, late, ours
    component = state.component(most[0])
    return chance, late, f"{ours}; most on {component.name}: {component.steps[most[1]].text}"


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
