"""How long things take as they really go: what has passed, and what is expected."""

from passbell.cook.state import CookState, StepState
from passbell.plan.model import Step


def machine_of(state: CookState, component: int, index: int) -> int | None:
    """Index of the appliance a step is on; None: it is on none."""
    return state.tables.machines[component][index]


def off_time(state: CookState, component: int, index: int, now: int) -> int:
    """Seconds the heat was off under a running cook step, up to now."""
    step = state.steps[component][index]
    machine = machine_of(state, component, index)
    if machine is None or step.began is None:
        return step.off
    stopped = state.appliances[machine].stopped
    return step.off + (now - max(stopped, step.began) if stopped is not None else 0)


def idle_time(state: CookState, step: StepState, now: int) -> int:
    """Seconds hands-on work stood still during a running step, up to now."""
    if state.away is None or step.began is None:
        return step.idle
    return step.idle + max(0, now - max(state.away, step.began))


def expected_time(state: CookState, component: int, index: int, now: int) -> int:
    """How long a step is expected to take: as planned, with what was added and what stood still."""
    plan, real = state.plan.components[component].steps[index], state.steps[component][index]
    time = plan.time + real.extra
    if plan.kind == "rest":
        return max(least_rest(state, component, index), time)
    if real.began is None:
        time += real.off if plan.kind == "cook" else real.idle
    elif plan.kind == "cook":
        time += off_time(state, component, index, now)
    else:
        time += idle_time(state, real, now)
    return time if time > 0 else 0


def least_rest(state: CookState, component: int, index: int) -> int:
    """What the chart asks of a rest after the last time on the heat, in seconds; 0: nothing."""
    last = state.tables.last_cook[component]
    return state.tables.asked[component] if last is not None and index == last + 1 else 0


def action_at(plan: Step, n: int) -> int:
    """When the n-th action on the way is due, from going in, heat-off time left out."""
    at = plan.during[n].at
    return plan.time // 2 if at == "halfway" else int(at)


def stage_time(state: CookState, machine: int, stage: int, now: int) -> int | None:
    """How long a stage lasts, with what was added and what stood still; None: as its food needs."""
    planned = state.appliance(machine).stages[stage].time
    if planned is None:
        return None
    real = state.appliances[machine]
    off = real.stage_off[stage]
    if real.stopped is not None and real.stage == stage:
        off += now - max(real.stopped, real.stages[stage])
    return max(0, planned + real.stage_extra[stage] + off)


def look_interval(time: int) -> int:
    """How long to wait before looking again: a tenth of the time, 1 to 10 min, by the half minute.

    Common practice, no source.
    """
    return min(600, max(60, round(time / 10 / 30) * 30))
