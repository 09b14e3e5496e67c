"""The state after an event. The same code serves the live cook, a resume, an undo and a replay."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any, Literal

from passbell.cook import events as ev
from passbell.cook.acts import end_step, go_back, place_act, running_idle
from passbell.cook.cue import CueKey
from passbell.cook.state import (
    Act,
    ApplianceState,
    CookState,
    CueState,
    LogLine,
    Remark,
    TakenReading,
    first_state,
)
from passbell.cook.tables import tables_of
from passbell.cook.timing import off_time
from passbell.heat import Turn
from passbell.plan.model import Plan
from passbell.schedule.problem import problem_of

NOT_TAKEN_BACK = ("seen",)
"""First words of commands that a take back passes over."""


def fold(plan: Plan, events: Iterable[ev.Event]) -> CookState:
    """The state that a list of events, the first of them `Started`, leads to.

    Raises:
        ValueError: when the first event is not `Started`.
    """
    iterator = iter(events)
    first = next(iterator, None)
    if first is None or first.type != "started":
        raise ValueError("a cook begins with its start")
    state = start(plan, first)
    for event in iterator:
        state = apply(state, event)
    return state


def start(plan: Plan, event: ev.Started) -> CookState:
    """The state at the start of a cook."""
    state = first_state(plan, problem_of(plan), event.serve, event.schedule)
    tables = tables_of(plan, event.chart)
    return state.but(chart=event.chart, scale=event.scale, tables=tables)


def apply(state: CookState, event: ev.Event) -> CookState:
    """The state after one event."""
    return _APPLY[event.type](state, event)


def _commanded(state: CookState, event: ev.Commanded) -> CookState:
    line = LogLine(event.number, event.at, event.words)
    undoable = event.words.split(" ", 1)[0] not in NOT_TAKEN_BACK
    past = _kept(event.number, state) if undoable else state.past
    future = None if undoable else state.future
    return state.but(
        at=event.at,
        commands=event.number,
        log=(*state.log, line),
        past=past,
        future=future,
    )


def _kept(number: int, state: CookState) -> tuple[int, CookState]:
    """A state to return to, without what was worked out from it: that can be worked out again."""
    return number, state.bare()


def _found(number: int, state: CookState, way: Literal["past", "future"]) -> CookState:
    """The state kept with a command, on the way back or forward."""
    link = state.past if way == "past" else state.future
    while link is not None and link[0] != number:
        link = link[1].past if way == "past" else link[1].future
    if link is None:
        raise ValueError(f"nothing is kept with command {number}")
    return link[1]


def _replanned(state: CookState, event: ev.Replanned) -> CookState:
    schedule = event.schedule or state.schedule
    return state.but(at=event.at, replanned=event.at, schedule=schedule)


def _fell_due(state: CookState, event: ev.FellDue) -> CookState:
    known = state.cue(event.cue)
    since = known.since if known else event.at
    return state.but(at=event.at, cues=state.cues_with(event.cue, CueState(since)))


def _withdrawn(state: CookState, event: ev.Withdrawn) -> CookState:
    return state.but(at=event.at, cues=state.cues_with(event.cue, None))


def _was_seen(state: CookState, event: ev.WasSeen) -> CookState:
    known = state.cue(event.cue) or CueState(event.at)
    return state.but(at=event.at).with_cue(event.cue, replace(known, seen=True))


def _was_put_off(state: CookState, event: ev.WasPutOff) -> CookState:
    known = state.cue(event.cue) or CueState(event.at)
    state = state.but(at=event.at)
    state = state.with_cue(event.cue, CueState(known.since, seen=True, until=event.until))
    key = CueKey.read(event.cue)
    if key.kind in ("prep", "add", "finish") and key.part != "end":
        step = state.steps[key.owner][key.item]
        return state.with_step(key.owner, key.item, replace(step, release=event.until))
    if key.kind in ("check", "probe"):
        step = state.steps[key.owner][key.item]
        return state.with_step(key.owner, key.item, replace(step, look_at=event.until))
    return state


def _acted(state: CookState, event: ev.Acted) -> CookState:
    key = CueKey.read(event.cue)
    state = place_act(state.but(at=event.at), key, event.happened, event.at)
    act = Act(event.cue, event.happened, event.at, event.due)
    return state.but(cues=state.cues_with(event.cue, None), last_act=act)


def _backdated(state: CookState, event: ev.Backdated) -> CookState:
    act = state.last_act
    assert act is not None
    state = place_act(state.but(at=event.at), CueKey.read(event.cue), event.happened, act.noted)
    return state.but(last_act=replace(act, happened=event.happened))


def _went_back(state: CookState, event: ev.WentBack) -> CookState:
    cue = CueKey.back_in(event.component, event.step).id
    act = Act(cue, event.at, event.at, event.at)
    state = go_back(state.but(at=event.at), (event.component, event.step), event.at)
    return state.with_cue(cue, None).but(last_act=act)


def _rest_ended(state: CookState, event: ev.RestEnded) -> CookState:
    return end_step(state.but(at=event.at), (event.component, event.step), event.at, event.at)


def _went_away(state: CookState, event: ev.WentAway) -> CookState:
    return state.but(at=event.at, away=event.at)


def _came_back(state: CookState, event: ev.CameBack) -> CookState:
    return state.but(at=event.at, steps=running_idle(state, event.at), away=None)


def _heat_stopped(state: CookState, event: ev.HeatStopped) -> CookState:
    for index in event.appliances:
        real = state.appliances[index]
        state = state.with_appliance(index, replace(real, stopped=event.at))
    return state.but(at=event.at)


def _heat_resumed(state: CookState, event: ev.HeatResumed) -> CookState:
    steps = tuple(
        tuple(
            replace(s, off=off_time(state, c, i, event.at))
            if s.running and _on_one_of(state, c, i, event.appliances)
            else s
            for i, s in enumerate(row)
        )
        for c, row in enumerate(state.steps)
    )
    for index in event.appliances:
        settled = _settled(_reheated(state, index, event.at), event.at)
        state = state.with_appliance(index, settled)
    return state.but(at=event.at, steps=steps)


def _on_one_of(state: CookState, component: int, step: int, machines: tuple[int, ...]) -> bool:
    on = state.component(component).steps[step].on
    return on is not None and state.plan.appliance_index(on) in machines


def _reheated(state: CookState, index: int, now: int) -> ApplianceState:
    """An appliance whose heat stopped while it heated up needs that much longer."""
    real = state.appliances[index]
    if real.on is None or real.ready is not None or real.stopped is None:
        return real
    due = max(real.on + state.appliance(index).preheat, real.ready_from)
    return replace(real, ready_from=due + now - max(real.stopped, real.on))


def _settled(real: ApplianceState, now: int) -> ApplianceState:
    """An appliance whose heat goes on: the time it stood still is put down to its stage."""
    stopped = real.stopped if real.stopped is not None else now
    stage = real.stage
    stage_off = real.stage_off
    if stage is not None:
        still = now - max(stopped, real.stages[stage])
        stage_off = (*stage_off[:stage], stage_off[stage] + still, *stage_off[stage + 1 :])
    dial_off = real.dial_off + (now - max(stopped, real.dial[0]) if real.dial else 0)
    spans = (*real.still, (stopped, now))
    return replace(real, stopped=None, stage_off=stage_off, dial_off=dial_off, still=spans)


def _stage_extended(state: CookState, event: ev.StageExtended) -> CookState:
    real = state.appliances[event.appliance]
    extra = list(real.stage_extra)
    extra[event.stage] += event.by
    state = state.with_appliance(event.appliance, replace(real, stage_extra=tuple(extra)))
    return state.but(at=event.at)


def _step_extended(state: CookState, event: ev.StepExtended) -> CookState:
    step = state.steps[event.component][event.step]
    new = replace(step, extra=step.extra + event.by)
    return state.but(at=event.at).with_step(event.component, event.step, new)


def _preheat_delayed(state: CookState, event: ev.PreheatDelayed) -> CookState:
    real = replace(state.appliances[event.appliance], ready_from=event.until, ready=None)
    cue = CueKey("ready", event.appliance).id
    return state.but(at=event.at).with_appliance(event.appliance, real).with_cue(cue, None)


def _dialled(state: CookState, event: ev.Dialled) -> CookState:
    real = state.appliances[event.appliance]
    real = replace(real, dial=(event.at, event.seconds), dial_off=0)
    return state.but(at=event.at).with_appliance(event.appliance, real)


def _knob_turned(state: CookState, event: ev.KnobTurned) -> CookState:
    real = state.appliances[event.appliance]
    turns = (*real.turns, Turn(event.at, event.temp, event.mode))
    return replace(state, at=event.at).with_appliance(event.appliance, replace(real, turns=turns))


def _was_read(state: CookState, event: ev.WasRead) -> CookState:
    reading = TakenReading(
        event.component,
        event.place,
        event.shown,
        event.scale,
        event.at,
        event.off_heat,
        state.commands,
    )
    return state.but(at=event.at, readings=(*state.readings, reading))


def _look_again(state: CookState, event: ev.LookAgain) -> CookState:
    step = replace(state.steps[event.component][event.step], look_at=event.look_at)
    return state.but(at=event.at).with_step(event.component, event.step, step)


def _action_moved(state: CookState, event: ev.ActionMoved) -> CookState:
    real = state.steps[event.component][event.step]
    kept = tuple(pair for pair in real.moved if pair[0] != event.n)
    real = replace(real, moved=(*kept, (event.n, event.until)))
    return state.but(at=event.at).with_step(event.component, event.step, real)


def _was_skipped(state: CookState, event: ev.WasSkipped) -> CookState:
    """Left out: what was under way for it is over, and asks for nobody's hands any more."""
    state = state.but(at=event.at, skipped=state.skipped | {event.component})
    for index, real in enumerate(state.steps[event.component]):
        if real.running:
            ended = replace(real, ended=event.at, ended_noted=event.at)
            state = state.with_step(event.component, index, ended)
    for cue, _ in state.cues:
        key = CueKey.read(cue)
        if not key.of_appliance and not key.of_meal and key.owner == event.component:
            state = state.with_cue(cue, None)
    return state


def _serve_set(state: CookState, event: ev.ServeSet) -> CookState:
    return state.but(at=event.at, serve=event.serve)


def _noted(state: CookState, event: ev.Noted) -> CookState:
    remark = Remark(event.at, event.text, event.component, event.of)
    return state.but(at=event.at, remarks=(*state.remarks, remark))


def _marked(state: CookState, event: ev.Marked) -> CookState:
    return state.but(at=event.at, marks=(*state.marks, event.at))


def _chart_set(state: CookState, event: ev.ChartSet) -> CookState:
    tables = tables_of(state.plan, event.chart)
    before = (*state.charts_before, (event.at, state.chart))
    return state.but(at=event.at, chart=event.chart, tables=tables, charts_before=before)


def _ice_set(state: CookState, event: ev.IceSet) -> CookState:
    return state.but(at=event.at, ice=event.shown)


def _taken_back(state: CookState, event: ev.TakenBack) -> CookState:
    """The state before the command; the record, struck readings and the way forward are kept."""
    before = _found(event.number, state, "past")
    lost = tuple(r for r in state.readings if r not in before.readings)
    return before.but(
        commands=state.commands,
        log=tuple(replace(e, cancelled=True) if e.number == event.number else e for e in state.log),
        struck=(*state.struck, *lost),
        future=_kept(event.number, state),
    )


def _redone(state: CookState, event: ev.Redone) -> CookState:
    """The state as it was before the take back."""
    undone = _found(event.number, state, "future")
    log = tuple(replace(e, cancelled=False) if e.number == event.number else e for e in state.log)
    back = tuple(r for r in state.struck if r not in undone.readings)
    return undone.but(commands=state.commands, log=log, struck=back)


_APPLY: dict[str, Callable[[CookState, Any], CookState]] = {
    "commanded": _commanded,
    "replanned": _replanned,
    "fell_due": _fell_due,
    "withdrawn": _withdrawn,
    "was_seen": _was_seen,
    "was_put_off": _was_put_off,
    "acted": _acted,
    "backdated": _backdated,
    "went_back": _went_back,
    "rest_ended": _rest_ended,
    "went_away": _went_away,
    "came_back": _came_back,
    "heat_stopped": _heat_stopped,
    "heat_resumed": _heat_resumed,
    "stage_extended": _stage_extended,
    "step_extended": _step_extended,
    "preheat_delayed": _preheat_delayed,
    "dialled": _dialled,
    "knob_turned": _knob_turned,
    "was_read": _was_read,
    "look_again": _look_again,
    "action_moved": _action_moved,
    "was_skipped": _was_skipped,
    "serve_set": _serve_set,
    "noted": _noted,
    "marked": _marked,
    "chart_set": _chart_set,
    "ice_set": _ice_set,
    "taken_back": _taken_back,
    "redone": _redone,
}
