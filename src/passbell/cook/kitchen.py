"""A plan in this kitchen: what its appliances are known to make of the times that are written."""

from fractions import Fraction
from typing import Annotated

from pydantic import Field

from passbell.plan.model import Appliance, Component, During, Plan, Stage, Step, Words
from passbell.units import Duration, Frozen
from passbell.units.duration import LONGEST

GRAIN, FINE, SHORT = 30, 5, 600
"""Times are changed to the half minute, those under ten minutes to five seconds."""


class Habit(Frozen):
    """What is known of an appliance.

    Attributes:
        appliance: its name, as plans call it.
        preheat: how long it heats up, as a ratio to what is written.
        pace: how long food takes in it, as a ratio to what is written.
        runs: the cooks this rests on; 0: the cook's own word.
    """

    appliance: Words
    preheat: Annotated[float, Field(ge=0.25, le=4)] = 1.0
    pace: Annotated[float, Field(ge=0.5, le=2)] = 1.0
    runs: int = 0


def adjusted(plan: Plan, habits: tuple[Habit, ...]) -> Plan:
    """The plan with the times of this kitchen.

    Times of food are rounded down and times of stages up, so that whatever fitted still fits; a
    first look is never put later. What is not on an appliance stays as it is written.
    """
    known = {habit.appliance: habit for habit in habits}
    if not any(appliance.name in known for appliance in plan.appliances):
        return plan
    appliances = tuple(_appliance(a, known.get(a.name)) for a in plan.appliances)
    components = tuple(_component(c, known) for c in plan.components)
    return plan.model_copy(update={"appliances": appliances, "components": components})


def preheat_in(appliance: Appliance, habit: Habit | None) -> Duration:
    """How long an appliance heats up in this kitchen."""
    if habit is None or habit.preheat == 1:
        return appliance.preheat
    return _bounded(round(appliance.preheat * Fraction(habit.preheat) / GRAIN) * GRAIN)


def _appliance(appliance: Appliance, habit: Habit | None) -> Appliance:
    if habit is None:
        return appliance
    stages = tuple(_stage(stage, habit.pace) for stage in appliance.stages)
    return appliance.model_copy(update={"preheat": preheat_in(appliance, habit), "stages": stages})


def _stage(stage: Stage, pace: float) -> Stage:
    if stage.time is None or pace == 1:
        return stage
    grain = _grain(stage.time)
    time = _bounded(-(-stage.time * Fraction(pace) // grain) * grain)
    return stage.model_copy(update={"time": time})


def _component(component: Component, known: dict[str, Habit]) -> Component:
    steps = tuple(_step(s, known[s.on].pace) if s.on in known else s for s in component.steps)
    return component.model_copy(update={"steps": steps})


def _step(step: Step, pace: float) -> Step:
    time = paced(step.time, pace)
    if time == step.time:
        return step
    look = step.first_look
    return step.model_copy(
        update={
            "time": time,
            "hands": step.hands and Duration(min(step.hands, time)),
            "check": look and Duration(min(look, time)),
            "during": tuple(_action(action, pace, time) for action in step.during),
        }
    )


def paced(time: int, pace: float) -> Duration:
    """A time on the heat at this pace, rounded down; never shorter at a slow pace."""
    if pace == 1:
        return Duration(time)
    grain = _grain(time)
    rounded = int(time * Fraction(pace) // grain * grain)
    return _bounded(max(time, rounded) if pace > 1 else rounded or time)


def _grain(time: int) -> int:
    return FINE if time < SHORT else GRAIN


def _action(action: During, pace: float, time: int) -> During:
    if action.at == "halfway":
        return action
    return action.model_copy(update={"at": Duration(min(paced(action.at, pace), time))})


def _bounded(seconds: int) -> Duration:
    return Duration(max(0, min(LONGEST, seconds)))
