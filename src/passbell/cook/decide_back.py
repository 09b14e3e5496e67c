"""Put back: food that was taken out goes on cooking where it was."""

from passbell.cook import commands as cm
from passbell.cook import events as ev
from passbell.cook.decision import Decision, Refusal
from passbell.cook.neighbours import on_the_heat
from passbell.cook.put_back import step_to_go_back
from passbell.cook.state import CookState


def put_back(state: CookState, command: cm.PutBack, now: int) -> Decision | Refusal:
    """A component went back on the heat; what came after its time there begins anew."""
    if command.component >= len(state.steps):
        return Refusal("there is no such component")
    name = state.component(command.component).name
    if command.component in state.skipped:
        return Refusal(f"{name} is left out of this meal")
    if on_the_heat(state, command.component) is not None:
        return Refusal(f"{name} is on the heat")
    step = step_to_go_back(state, command.component)
    if step is None:
        return Refusal(f"{name} has not been on the heat yet: add it")
    event = ev.WentBack(at=now, component=command.component, step=step)
    return Decision(f"put back: {name}", (event,))
