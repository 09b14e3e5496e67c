"""What the cook's hands have to do, and how long she may leave."""

from passbell.cook.cue import Cue
from passbell.cook.cues import cues
from passbell.cook.state import CookState
from passbell.cook.wording import minutes, spoken
from passbell.tui.views.model import Hands


def hands(state: CookState, now: int, slack: int) -> Hands:
    """Free or busy, until what, and what to prepare meanwhile.

    Args:
        state: the cook.
        now: the engine instant.
        slack: seconds that may be lost before dish-up moves.
    """
    wanted = [cue for cue in cues(state) if not cue.silent]
    first = wanted[0] if wanted else None
    busy = ", ".join(_busy_with(state))
    free = None if first is None else 0 if busy else max(0, first.at - now)
    due = first is not None and first.at <= now
    ahead = wanted[1:] if due else wanted  # what is due stands in Now, it is not for meanwhile
    prep = next((c for c in ahead if c.key.kind in ("prep", "finish")), None)
    prepare, doing, fits = _prepare(state, now, prep, wanted)
    return Hands(
        free=free,
        until=f"{first.verb} {first.what}" if first is not None else "",
        busy=busy,
        prepare=prepare,
        doing=doing,
        fits=fits,
        slack=slack,
        away=now - state.away if state.away is not None else None,
    )


def _busy_with(state: CookState) -> list[str]:
    return [
        f"{component.name}: {component.steps[index].text}"
        for c, component in enumerate(state.plan.components)
        for index, real in enumerate(state.steps[c])
        if real.running and component.steps[index].kind in ("prep", "finish")
    ]


def _prepare(
    state: CookState, now: int, prep: Cue | None, wanted: list[Cue]
) -> tuple[str, str, bool | None]:
    """The next prep or finish and by when to begin it, what it is, and whether it fits before."""
    if prep is None:
        return "", "", None
    step = state.component(prep.key.owner).steps[prep.key.item]
    other = next((c for c in wanted if c is not prep), None)
    fits = None if other is None else now + step.time <= other.at
    takes = f", {spoken(step.time)}" if step.time else ""
    begin = prep.at - now
    words = f"{prep.what}{takes}: begin {'in ' + minutes(begin) if begin > 0 else 'now'}"
    return words, step.text, fits
