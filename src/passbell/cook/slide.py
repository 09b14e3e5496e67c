"""Many instants of waiting at once: everything still to come slides with the clock, and no more.

While something takes longer than planned, the rest is planned anew on a grid of instants. Mostly
each of these plans is the one before, moved along by the time between. `slid` finds the last of
such a row without going through the others. That is right because everything in a plan that moves
along is either fixed or goes with the clock: what by moving it keeps every limit at the first and
at the last instant keeps it between them, and a bound that its dish-up meets at the last one, it
meets at all, for no bound grows faster than the clock. The odds use it, which ask what comes of a
cook and not for every event on the way; in a real cook every instant is an event of its own.
"""

from passbell.cook import events as ev
from passbell.cook.cue import CueKey
from passbell.cook.cues import can_be_done, dues
from passbell.cook.expect import expected_end, safety_rest_end
from passbell.cook.fold import apply
from passbell.cook.put_back import waits_outside
from passbell.cook.replan import problem_now, replan_pause
from passbell.cook.shift import moved_by
from passbell.cook.state import CookState
from passbell.cook.timing import stage_time
from passbell.cook.wake import cue_changes, running_rests, waiting_since


def slid(state: CookState, until: int) -> tuple[CookState, ev.Replanned] | None:
    """The state at an instant of the grid up to which only the clock moves anything, a late one.

    Args:
        state: the cook, planned anew at its own instant.
        until: no further than this, in engine seconds.

    Returns:
        That state, and the event that leads to it; None where fewer than two instants are saved,
        or where it is not certain that they can be.
    """
    since = waiting_since(state)
    if since is None or until < state.at + 2 * replan_pause(state.at - since):
        return None
    if not _can_slide(state):
        return None
    grid = _grid(state, since, _same_until(state, until))
    place = len(grid) - 1
    while place > 0:
        at = grid[place]
        schedule = moved_by(state, problem_now(state, at), at - state.at)
        if schedule is not None:
            event = ev.Replanned(at=at, schedule=schedule)
            after = apply(state, event)
            return None if cue_changes(after, at) else (after, event)
        place //= 2
    return None


def _can_slide(state: CookState) -> bool:
    """Whether nothing but the clock is at work, of all that could make a plan do more than move."""
    schedule, problem = state.schedule, state.problem
    if state.replanned != state.at or state.away is not None or state.skipped:
        return False
    if problem.hands != 1 or any((m.holds or 1) > 1 for m in problem.machines):
        return False
    if schedule.stretched or schedule.relaxed or schedule.earlier is not None:
        return False
    rests = (safety_rest_end(state, c) or 0 for c in range(len(state.steps)))
    if max(rests, default=0) > schedule.dish_up or waits_outside(state):
        return False
    return not any(
        len(work.runs) > 1 and state.steps[work.component][work.index].began is None
        for chain in problem.works
        for work in chain
    )


def _grid(state: CookState, since: int, limit: int) -> list[int]:
    """The instants of the grid within a limit."""
    found, at = [], state.at
    while (at := at + replan_pause(at - since)) <= limit:
        found.append(at)
    return found


def _same_until(state: CookState, until: int) -> int:
    """Up to when what is fixed stays so, and nothing falls due; before now: not even that long."""
    known = {CueKey.read(cue): standing.until for cue, standing in state.cues}
    limits = [until]
    limits += [due.at - 1 for due in dues(state)
              if due.key not in known and can_be_done(state, due.key)]  # fmt: skip
    limits += [until - 1 for until in known.values() if until is not None]
    limits += [end - 1 for _, _, end in running_rests(state)]
    for component, row in enumerate(state.steps):
        for index, real in enumerate(row):
            if real.running:
                end = expected_end(state, component, index, state.at)
                if end > state.at:
                    limits.append(end)
    for machine in range(len(state.appliances)):
        limits += _machine_until(state, machine)
    return min(limits)


def _machine_until(state: CookState, machine: int) -> list[int]:
    """Up to when an appliance asks the same of the rest; now: it may ask something else."""
    real, planned = state.appliances[machine], state.problem.machines[machine]
    if real.stopped is not None:
        return [state.at]
    found = []
    if real.on is not None and real.ready is None:
        found.append(max(real.on + planned.preheat, real.ready_from) - 1)
    if planned.stages and real.switched_off is None:
        stage = len(real.stages) - 1
        if stage < 0:
            found += [state.at] if _fed(state, machine) else []
        elif stage < len(planned.stages) - 1:
            time = stage_time(state, machine, stage, state.at)
            found.append(state.at if time is None else real.stages[stage] + time)
    return found


def _fed(state: CookState, machine: int) -> bool:
    return any(
        on == machine and state.steps[c][i].began is not None
        for c, row in enumerate(state.tables.machines)
        for i, on in enumerate(row)
    )
