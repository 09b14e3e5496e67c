"""Heat off and on, longer and shorter, and what an appliance's own display reads."""

from passbell.cook import commands as cm
from passbell.cook import events as ev
from passbell.cook.decision import Decision, Refusal
from passbell.cook.neighbours import on_the_heat
from passbell.cook.state import CookState
from passbell.cook.timing import expected_time, least_rest, stage_time
from passbell.cook.wording import minutes, spoken
from passbell.safety.foods import is_raw_meat
from passbell.safety.waiting import oven_note
from passbell.units import clean_text

LOOK_EARLIER = "food kept cooling or cooking by itself: look earlier"


def heat_off(state: CookState, command: cm.HeatOff, now: int) -> Decision | Refusal:
    """The heat of one appliance, or of all that are on, stopped."""
    found = _chosen(state, command.appliance)
    running = tuple(
        i
        for i in found
        if (a := state.appliances[i]).on is not None
        and a.stopped is None
        and a.switched_off is None
    )
    if not running:
        return Refusal("nothing is on")
    names = ", ".join(state.appliance(i).name for i in running)
    return Decision(f"heat off: {names}", (ev.HeatStopped(at=now, appliances=running),))


def heat_on(state: CookState, command: cm.HeatOn, now: int) -> Decision | Refusal:
    """The heat goes on; the food is to be looked at early."""
    found = _chosen(state, command.appliance)
    stopped = tuple(i for i in found if state.appliances[i].stopped is not None)
    if not stopped:
        return Refusal("no heat was stopped")
    names = ", ".join(state.appliance(i).name for i in stopped)
    events: list[ev.Event] = [ev.HeatResumed(at=now, appliances=stopped)]
    if any(on_the_heat(state, c) is not None for c in range(len(state.steps))):
        events.append(ev.Noted(at=now, text=LOOK_EARLIER, of="program"))
    return Decision(f"heat on: {names}", tuple(events))


def _chosen(state: CookState, appliance: int | None) -> tuple[int, ...]:
    every = tuple(range(len(state.appliances)))
    return every if appliance is None else tuple(i for i in every if i == appliance)


def extend_stage(state: CookState, command: cm.ExtendStage, now: int) -> Decision | Refusal:
    """The running stage lasts longer, and all food in it stays longer; or shorter."""
    if command.appliance >= len(state.appliances):
        return Refusal("there is no such appliance")
    real, plan = state.appliances[command.appliance], state.appliance(command.appliance)
    stage = real.stage
    if stage is None or not plan.stages:
        return Refusal(f"{plan.name} has no stage running")
    by = _bounded_stage(state, command, stage, now)
    if not by:
        return Refusal(f"{plan.stages[stage].name} cannot be shorter")
    events: list[ev.Event] = [
        ev.StageExtended(at=now, appliance=command.appliance, stage=stage, by=by)
    ]
    for component in range(len(state.steps)):
        index = on_the_heat(state, component)
        if index is None or state.component(component).steps[index].on != plan.name:
            continue
        change = _bounded_step(state, (component, index), by, now)
        if change:
            events.append(ev.StepExtended(at=now, component=component, step=index, by=change))
    words = f"{plan.name}, {plan.stages[stage].name}: {_signed(by)}"
    return Decision(words, tuple(events))


def _bounded_stage(state: CookState, command: cm.ExtendStage, stage: int, now: int) -> int:
    """The change, cut so that the stage does not end in the past."""
    time = stage_time(state, command.appliance, stage, now)
    if time is None or command.by >= 0:
        return command.by
    passed = now - state.appliances[command.appliance].stages[stage]
    return min(0, max(command.by, passed - time))


def extend_step(state: CookState, command: cm.ExtendStep, now: int) -> Decision | Refusal:
    """A component's running or next step takes longer, or shorter."""
    if command.component >= len(state.steps):
        return Refusal("there is no such component")
    name = state.component(command.component).name
    index = command.step if command.step is not None else state.current(command.component)
    left = index is not None and index < len(state.steps[command.component])
    if index is None or not left or command.component in state.skipped:
        return Refusal(f"{name} has nothing left to do")
    if state.steps[command.component][index].ended is not None:
        return Refusal(f"{name}: that is over")
    by = _bounded_step(state, (command.component, index), command.by, now)
    if not by:
        return Refusal(f"{name} cannot be shorter")
    event = ev.StepExtended(at=now, component=command.component, step=index, by=by)
    text = state.component(command.component).steps[index].text
    return Decision(f"{name}, {text}: {_signed(by)}", (event,))


def _bounded_step(state: CookState, where: tuple[int, int], by: int, now: int) -> int:
    """The change, cut so that the step does not end in the past, nor before its safety rest."""
    if by >= 0:
        return by
    real = state.steps[where[0]][where[1]]
    passed = now - real.began if real.began is not None else 0
    rests = state.component(where[0]).steps[where[1]].kind == "rest"
    least = max(passed, least_rest(state, *where)) if rests else passed
    return min(0, max(by, least - expected_time(state, *where, now)))


def _signed(by: int) -> str:
    return f"{'+' if by > 0 else '−'}{spoken(by)}"


def dial(state: CookState, command: cm.Dial, now: int) -> Decision | Refusal:
    """What the display of an appliance reads was typed in: that wins."""
    if command.appliance >= len(state.appliances):
        return Refusal("there is no such appliance")
    name = state.appliance(command.appliance).name
    if state.appliances[command.appliance].on is None:
        return Refusal(f"{name} is not on")
    event = ev.Dialled(at=now, appliance=command.appliance, seconds=command.seconds)
    return Decision(f"{name} reads {minutes(command.seconds)}", (event,))


def set_heat(state: CookState, command: cm.SetHeat, now: int) -> Decision | Refusal:
    """The cook turned an appliance's knob besides the plan: the forecast takes it into account."""
    if command.appliance >= len(state.appliances):
        return Refusal("there is no such appliance")
    name, mode = state.appliance(command.appliance).name, clean_text(command.mode or "", 60)
    if state.appliances[command.appliance].on is None:
        return Refusal(f"{name} is not on")
    if command.temp is None and not mode:
        return Refusal(f"say what {name} is set to")
    turned = ev.KnobTurned(
        at=now, appliance=command.appliance, temp=command.temp, mode=mode or None
    )
    said = " ".join(word for word in (mode, str(command.temp or "")) if word)
    note = oven_note(command.temp) if command.temp and _meat_in(state, name) else ""
    notes = (ev.Noted(at=now, text=note, of="program"),) if note else ()
    return Decision(f"{name} set to {said}", (turned, *notes))


def _meat_in(state: CookState, appliance: str) -> bool:
    return any(
        (step := on_the_heat(state, index)) is not None
        and component.steps[step].on == appliance
        and is_raw_meat(component.food)
        for index, component in enumerate(state.plan.components)
    )
