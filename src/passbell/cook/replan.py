"""The rest of the meal as a stagger: what happened is fixed, nothing else begins before now."""

from dataclasses import replace

from passbell.cook.cue import CueKey
from passbell.cook.expect import expected_end, safety_rest_end
from passbell.cook.put_back import as_if_back
from passbell.cook.shift import shifted
from passbell.cook.state import CookState, StepState
from passbell.cook.timing import expected_time, stage_time
from passbell.schedule.model import Machine, Problem, Schedule, Work
from passbell.schedule.solve import solve_live


def replan_pause(age: int) -> int:
    """How long until the rest is planned again while something has waited for `age` seconds."""
    return 5 if age < 60 else 15 if age < 600 else 60


STOPPED_PAUSE = 60
"""While its heat is off, no food is asked into an appliance sooner than this, in seconds."""


def replan(state: CookState, now: int, *, back: bool = True) -> Schedule:
    """The best schedule for what is left, as if all that is overdue happened now.

    Args:
        state: the cook.
        now: the engine instant.
        back: whether what came off the heat too early goes back on it.
    """
    problem = problem_now(state, now, back=back)
    schedule = shifted(state, problem) or solve_live(problem, like=state.schedule)
    if not state.readings:
        return schedule
    rests = (safety_rest_end(state, c) or 0 for c in range(len(state.steps)))
    table = max(schedule.dish_up, *rests, 0)
    return schedule if table == schedule.dish_up else replace(schedule, dish_up=table)


def meal_slack(state: CookState) -> int:
    """How long everything not yet begun may be put off before dish-up moves, in seconds.

    Planned anew: a schedule that stands while time passes does not say so any more.
    """
    known = state.memo.get("slack")
    if not isinstance(known, int):
        known = state.memo["slack"] = 0 if state.served is not None else _slack(state)
    return known


def _slack(state: CookState) -> int:
    return solve_live(problem_now(state, state.at), like=state.schedule).spare


def problem_now(state: CookState, now: int, *, back: bool = True) -> Problem:
    """The stagger of what is left at an instant; arguments as for `replan`."""
    state = as_if_back(state, now) if back else state
    base = state.problem
    works = []
    for chain, row in zip(base.works, state.steps, strict=True):
        left = [_work(state, work, real, now) for work, real in zip(chain, row, strict=True)]
        works.append(tuple([work for work in left if work is not None]))
    return Problem(
        tuple(works),
        base.holds,
        tuple([_machine(state, i, m, now) for i, m in enumerate(base.machines)]),
        base.hands,
        state.serve,
        now,
        base.names,
    )


def _work(state: CookState, work: Work, real: StepState, now: int) -> Work | None:
    """A step as it stands; one that nothing has changed is the very one of the plan."""
    if real.began is not None and real.ended is not None:
        return _over(state, work, real)
    if real.began is not None:
        time = expected_end(state, work.component, work.index, now) - real.began
        gap = _slack_left(state, work, real.began + time)
        return _as_it_went(work, time, _hands(work, time), (real.began, None), gap=gap)
    if work.component in state.skipped:
        return None
    if _stopped(state, work):
        now += STOPPED_PAUSE
        release = max(now, real.release)
    else:
        release = real.release if real.release > now else 0
    time = expected_time(state, work.component, work.index, now)
    if state.readings and work.kind in ("prep", "finish"):
        rest = safety_rest_end(state, work.component) or 0
        release = max(release, rest if rest > now else 0)
    if time == work.time and release == work.release:
        return work
    return _as_it_went(work, time, _hands(work, time), (None, None), release)


def _over(state: CookState, work: Work, real: StepState) -> Work:
    """A step that is over, kept: it is asked for at every replan from then on."""
    key = "over", work.component, work.index
    kept = state.tables.known.get(key)
    if isinstance(kept, tuple) and kept[0] is real:
        found: Work = kept[1]
        return found
    assert real.began is not None
    assert real.ended is not None
    time = real.ended - real.began
    gap = _slack_left(state, work, real.ended)
    found = _as_it_went(work, time, min(work.hands, time), (real.began, real.ended), gap=gap)
    state.tables.known[key] = real, found
    return found


def _slack_left(state: CookState, work: Work, end: int) -> int:
    """What is left of the slack after a prep that has begun: so far as it is late, it is spent.

    What went as planned keeps its slack, so that dinner does not come sooner than was promised.
    """
    if not work.gap_min:
        return 0
    planned = state.first.starts[work.component][work.index + 1]
    return max(0, min(work.gap_min, planned - end))


def _as_it_went(
    work: Work,
    time: int,
    hands: int,
    fact: tuple[int | None, int | None],
    release: int = 0,
    *,
    gap: int | None = None,
) -> Work:
    """A step with another time; written out, for it is done for every step at every replan."""
    return Work(
        work.component,
        work.index,
        work.kind,
        time,
        hands,
        work.machine,
        work.runs,
        work.gap_min if gap is None else gap,
        work.gap_max,
        release,
        *fact,
        work.text,
        work.asks,
    )


def _stopped(state: CookState, work: Work) -> bool:
    return work.machine is not None and state.appliances[work.machine].stopped is not None


def _hands(work: Work, time: int) -> int:
    """Hands-on time of a step whose time has changed: hands-on throughout stays so."""
    return time if work.hands >= work.time else min(work.hands, time)


def _machine(state: CookState, index: int, machine: Machine, now: int) -> Machine:
    real = state.appliances[index]
    release, preheat = now, machine.preheat
    if real.on is not None:
        ready = real.ready
        if ready is None:
            ready = ready_at(max(real.on + machine.preheat, real.ready_from), now)
            release = ready
        preheat = max(0, ready - real.on)
    stages = tuple(stage_left(state, index, k, now) for k in range(len(machine.stages)))
    return Machine(
        machine.name,
        preheat,
        machine.holds,
        stages,
        real.on,
        real.stages,
        release,
        real.switched_off is not None,
        machine.stage_names,
    )


def ready_at(due: int, now: int) -> int:
    """When an appliance will be said to be ready: never yet, while it waits to be said."""
    return due if due > now else now + replan_pause(now - due)


def stage_left(state: CookState, machine: int, stage: int, now: int) -> int | None:
    """How long a stage lasts: what is over as it was, what is overdue until now."""
    real = state.appliances[machine]
    if stage < len(real.stages) - 1:
        return real.stages[stage + 1] - real.stages[stage]
    time = stage_time(state, machine, stage, now)
    last = stage == len(state.appliance(machine).stages) - 1
    if time is None or stage != len(real.stages) - 1 or last:
        return time
    put_off = state.cue(CueKey("mode", machine, stage + 1).id)
    until = max(now, put_off.until or 0) if put_off else now
    return max(time, until - real.stages[stage])
