"""The passing of time: when the engine is needed next, and what happens then."""

from passbell.cook import events as ev
from passbell.cook.cue import CueKey
from passbell.cook.cues import can_be_done, dues
from passbell.cook.due import in_time
from passbell.cook.expect import safety_rest_end
from passbell.cook.fold import apply
from passbell.cook.replan import replan, replan_pause
from passbell.cook.standing import standing
from passbell.cook.state import CookState
from passbell.cook.timing import expected_time

WAITING_KINDS = ("call", "off", "rest_over", "dish_up")
"""Cues whose delay moves nothing else: the rest is not planned anew while they wait."""


def next_wake(state: CookState) -> int | None:
    """The next instant at which something happens by itself; None: nothing will.

    It depends on the state alone, so that ticks of any length lead to the same events.
    """
    if "wake" not in state.memo:
        state.memo["wake"] = None if state.served is not None else _next_wake(state)
    found = state.memo["wake"]
    return found if isinstance(found, int) else None


def _next_wake(state: CookState) -> int | None:
    known = {CueKey.read(cue): standing.until for cue, standing in state.cues}
    instants = [
        due.at for due in dues(state) if due.key not in known and can_be_done(state, due.key)
    ]
    instants += [until for until in known.values() if until is not None]
    instants += [end for _, _, end in running_rests(state)]
    since = waiting_since(state)
    if since is not None:
        instants.append(state.replanned + replan_pause(state.replanned - since))
    return max(state.at, min(instants)) if instants else None


def running_rests(state: CookState) -> tuple[tuple[int, int, int], ...]:
    """The rests under way: (component, step, instant at which the clock ends it)."""
    found = []
    for component, row in enumerate(state.steps):
        for index, real in enumerate(row):
            if real.began is None or real.ended is not None:
                continue
            if state.component(component).steps[index].kind == "rest":
                end = real.began + expected_time(state, component, index, state.at)
                found.append((component, index, max(end, safety_rest_end(state, component) or 0)))
    return tuple(found)


def waiting_since(state: CookState) -> int | None:
    """Since when something waits for the cook, so that the rest slides with the clock."""
    if "since" not in state.memo:
        state.memo["since"] = _waiting_since(state)
    found = state.memo["since"]
    return found if isinstance(found, int) else None


def _waiting_since(state: CookState) -> int | None:
    since = [c.since for cue, c in state.cues if CueKey.read(cue).kind not in WAITING_KINDS]
    since += [a.stopped for a in state.appliances if a.stopped is not None]
    since += [state.away] if state.away is not None else []
    since += _overdue_ends(state)
    return min(since) if since else None


def _overdue_ends(state: CookState) -> list[int]:
    """Expected ends that have passed of steps under way (food not yet allowed to leave)."""
    found = []
    for component, row in enumerate(state.steps):
        for index, real in enumerate(row):
            if real.began is None or real.ended is not None:
                continue
            if state.component(component).steps[index].kind != "rest":
                end = real.began + expected_time(state, component, index, state.at)
                if end <= state.replanned:
                    found.append(end)
    return found


def settle(state: CookState, now: int, *, steady: bool) -> tuple[CookState, tuple[ev.Event, ...]]:
    """What happens by itself at an instant: rests end, the rest is replanned, cues fall due.

    Args:
        state: the state, time having passed up to `now`.
        now: the instant.
        steady: whether only time has passed, or what was asked for was done when it was due.

    Returns:
        The state after it, with what has been worked out from it, and the events that led there.
    """
    events: list[ev.Event] = []

    def happen(event: ev.Event) -> None:
        nonlocal state
        events.append(event)
        state = apply(state, event)

    for component, step, end in running_rests(state):
        if end <= now:
            happen(ev.RestEnded(at=now, component=component, step=step))
    if state.served is None:
        still = standing(state, now) if steady else None
        schedule = still or replan(state, now)
        happen(ev.Replanned(at=now, schedule=None if schedule == state.schedule else schedule))
    for event in cue_changes(state, now):
        happen(event)
    return state, tuple(events)


def cue_changes(state: CookState, now: int) -> list[ev.Event]:
    """Cues that fall due at an instant, and those that no longer are."""
    known = {CueKey.read(cue): standing.until for cue, standing in state.cues}
    due = [found for found in dues(state) if found.at <= now]
    gone: list[ev.Event] = []
    if known:
        there = {f.key: f.at for f in dues(state) if can_be_done(state, f.key)}
        gone = [
            ev.Withdrawn(at=now, cue=key.id)
            for key, until in known.items()
            if key not in there or (there[key] > now and (until is None or until <= now))
        ]
    fresh: list[ev.Event] = [
        ev.FellDue(at=now, cue=found.key.id)
        for found in in_time(due)
        if can_be_done(state, found.key)
        and (found.key not in known or ((until := known[found.key]) is not None and until <= now))
    ]
    return [*gone, *fresh]
