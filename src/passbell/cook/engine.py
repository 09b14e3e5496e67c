"""The engine: state, command or passing time, and now → events. Pure; the clock is handed in."""

from dataclasses import dataclass
from typing import Literal

from passbell.cook import events as ev
from passbell.cook.commands import Command, Redo, Seen, TakeBack
from passbell.cook.decide import decide
from passbell.cook.decision import Refusal
from passbell.cook.fold import apply, start
from passbell.cook.kitchen import Habit, adjusted
from passbell.cook.prepare import prepared
from passbell.cook.standing import as_asked
from passbell.cook.state import CookState
from passbell.cook.wake import next_wake, settle
from passbell.plan.model import ChartKey, Plan
from passbell.schedule.problem import problem_of
from passbell.schedule.solve import solve


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of something.

    Attributes:
        state: the state after it.
        events: what happened, in order; empty after a refusal that came with no passing of time.
        refusal: why a command was not accepted; None: it was.
    """

    state: CookState
    events: tuple[ev.Event, ...]
    refusal: str | None = None


def begin(
    plan: Plan,
    serve: int | None = None,
    *,
    chart: ChartKey | None = None,
    scale: Literal["F", "C"] = "F",
    kitchen: tuple[Habit, ...] = (),
) -> Outcome:
    """Start a cook at instant 0.

    Args:
        plan: as read from its file.
        serve: wanted dish-up instant, in seconds from now; None: as soon as possible.
        chart: whose minimums apply; None: as the plan says.
        scale: the thermometer's unit.
        kitchen: what the appliances of this kitchen make of the plan's times.

    Raises:
        Contradiction: when no schedule can satisfy the plan.
    """
    if chart is not None:
        plan = plan.model_copy(update={"chart": chart})
    plan = prepared(adjusted(plan, kitchen))
    schedule = solve(problem_of(plan, serve))
    started = ev.Started(
        serve=serve, chart=plan.chart, scale=scale, schedule=schedule, kitchen=kitchen
    )
    state = start(plan, started)
    outcome = advance(state, 0)
    return Outcome(outcome.state, (started, *outcome.events))


def advance(state: CookState, now: int) -> Outcome:
    """Let time pass up to `now`: what falls due meanwhile happens at its own instant, in order."""
    events: list[ev.Event] = []
    while (at := next_wake(state)) is not None and at <= now:
        state, fresh = settle(state, at, steady=True)
        events.extend(fresh)
    return Outcome(state, tuple(events))


def tell(state: CookState, command: Command, now: int) -> Outcome:
    """Let time pass up to `now`, then carry out a command; a refused one changes nothing.

    Time never runs backwards: an instant before the state's own counts as that.
    """
    passed = advance(state, now)
    state, now = passed.state, max(now, passed.state.at)
    told = _undo(state, command, now) if isinstance(command, TakeBack | Redo) else None
    told = told or _carry_out(state, command, now)
    return Outcome(told.state, (*passed.events, *told.events), told.refusal)


def _carry_out(state: CookState, command: Command, now: int) -> Outcome:
    """What is decided, and what happens by itself at that instant because of it.

    A stopped sound moves nothing: a take back forgets it, so it may not move the next replan.
    """
    decision = decide(state, command, now)
    if isinstance(decision, Refusal):
        return Outcome(state, (), decision.why)
    number = state.commands + 1
    events: list[ev.Event] = [
        ev.Commanded(at=now, number=number, words=decision.words),
        *decision.events,
    ]
    for event in events:
        state = apply(state, event)
    if not isinstance(command, Seen):
        state, fresh = settle(state, now, steady=as_asked(decision.events))
        events.extend(fresh)
    return Outcome(state, tuple(events))


def _undo(state: CookState, command: TakeBack | Redo, now: int) -> Outcome:
    """Live the time since again, without the command taken back or with the one redone."""
    kept = state.past if isinstance(command, TakeBack) else state.future
    if kept is None:
        back = isinstance(command, TakeBack)
        return Outcome(state, (), "nothing to take back" if back else "nothing was taken back")
    number = kept[0]
    event: ev.Event = (
        ev.TakenBack(at=now, number=number)
        if isinstance(command, TakeBack)
        else ev.Redone(at=now, number=number)
    )
    lived = advance(apply(state, event), now)
    return Outcome(lived.state, (event, *lived.events))
