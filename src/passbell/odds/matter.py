"""Which steps matter most: each change is cooked again, with the same luck, and told as it is."""

from collections.abc import Callable
from dataclasses import dataclass
from statistics import fmean
from typing import Literal

from passbell.cook.commands import Done
from passbell.cook.cue import CueKey
from passbell.cook.engine import tell
from passbell.cook.state import CookState
from passbell.odds.hand import Lead, Where
from passbell.odds.luck import Luck
from passbell.odds.odds import Draws, Odds

TRIED = 3
"""So many steps are tried: those whose luck goes most with a late dish-up."""

TOLD = 2
"""So many are told, those that gain most."""

GAIN = 0.05
"""A gain smaller than this is not told: other seeds would give another."""

STEP = 60
"""A step is begun earlier by whole minutes."""

Again = Callable[[CookState, tuple[Lead, ...]], Odds]
"""Cooks a meal again with the same luck: (the cook, what is done early) → its odds."""


@dataclass(frozen=True, slots=True)
class Matter:
    """A step that matters, and what could be done about it.

    Attributes:
        component, step: which.
        change: begun earlier, or done ahead, before the cook starts.
        by: how much earlier, in seconds; what it takes, where it is done ahead.
        before, after: the chance without and with it.
    """

    component: int
    step: int
    change: Literal["earlier", "ahead"]
    by: int
    before: float
    after: float


def matters(state: CookState, base: Odds, draws: Draws, again: Again) -> tuple[Matter, ...]:
    """The changes of one step that raise the chance most, best first; none where none does.

    Args:
        state: the cook as it stands.
        base: its odds.
        draws: what they were drawn from.
        again: cooks it again.
    """
    found = []
    for where in _suspects(state, base, draws)[:TRIED]:
        matter = _tried(state, where, base, again)
        if matter is not None and matter.after >= matter.before + GAIN:
            found.append(matter)
    return tuple(sorted(found, key=lambda matter: -matter.after)[:TOLD])


def hangs_on(state: CookState, base: Odds, draws: Draws) -> Where | None:
    """The step to come whose time goes most with a late dish-up; None: none does.

    Arguments as for `matters`.
    """
    return next(iter(_suspects(state, base, draws)), None)


def _suspects(state: CookState, base: Odds, draws: Draws) -> list[Where]:
    """Steps to come, those first whose time goes most with a late dish-up."""
    late = [max(0, at - base.wanted) for at in base.served]
    weights = [(_together(_times(state, where, draws), late), where) for where in _to_come(state)]
    return [where for weight, where in sorted(weights, reverse=True) if weight > 0]


def _to_come(state: CookState) -> list[Where]:
    return [
        (component, index)
        for component, row in enumerate(state.steps)
        for index, real in enumerate(row)
        if real.began is None and component not in state.skipped
    ]


def _times(state: CookState, where: Where, draws: Draws) -> list[int]:
    """How long a step takes in each run."""
    work = state.problem.works[where[0]][where[1]]
    lucks = [Luck(draws.seed, run, draws.spread) for run in range(draws.runs)]
    if state.tables.gated[where[0]][where[1]]:
        return [luck.probe(where, work.time) for luck in lucks]
    return [luck.hands(where, work.hands) for luck in lucks]


def _together(times: list[int], late: list[int]) -> float:
    """How many seconds later the dish-up is for each standard deviation of a step's time."""
    middle, usual = fmean(times), fmean(late)
    spread = sum((t - middle) ** 2 for t in times)
    if not spread:
        return 0.0
    both = sum((t - middle) * (at - usual) for t, at in zip(times, late, strict=True))
    return float(both / (spread * len(times)) ** 0.5)


def _tried(state: CookState, where: Where, base: Odds, again: Again) -> Matter | None:
    """A step begun earlier where there is time for it, else done ahead; None: neither can be."""
    work = state.problem.works[where[0]][where[1]]
    by = -(-max(work.time, 240) // (4 * STEP)) * STEP
    first = min(state.schedule.starts[where[0]][i] for i in _chain(state, where))
    room = (first - state.at) // STEP * STEP
    if room >= STEP:
        by = min(by, room)
        after = again(state, _leads(state, where, by)).chance
        return Matter(*where, "earlier", by, base.chance, after)
    ahead = _ahead(state, where)
    if ahead is None:
        return None
    return Matter(*where, "ahead", work.time, base.chance, again(ahead, ()).chance)


def _chain(state: CookState, where: Where) -> list[int]:
    """The step and what has to be done before it in its component."""
    row = state.steps[where[0]]
    return [index for index in range(where[1] + 1) if row[index].began is None]


def _leads(state: CookState, where: Where, by: int) -> tuple[Lead, ...]:
    component = where[0]
    keys = []
    for index in _chain(state, where):
        kind = state.component(component).steps[index].kind
        machine = state.tables.machines[component][index]
        if kind == "cook":
            keys.append(CueKey("add", component, index))
        elif kind != "rest" or not index:
            keys.append(CueKey("finish" if kind == "finish" else "prep", component, index, "begin"))
        if machine is not None and state.appliances[machine].on is None:
            keys += [CueKey("preheat", machine), CueKey("mode", machine, 0)]
    return tuple(Lead(key, by) for key in keys)


def _ahead(state: CookState, where: Where) -> CookState | None:
    """The cook with a prep, the first step of its component, done before anything else."""
    component, index = where
    if index or state.component(component).steps[0].kind != "prep":
        return None
    for part in ("begin", "end"):
        key = CueKey("prep", component, 0, part)
        outcome = tell(state, Done(cue=key.id), state.at)
        if outcome.refusal is not None:
            return None
        state = outcome.state
    return state
