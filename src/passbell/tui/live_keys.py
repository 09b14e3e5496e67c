"""What a key means: the command it is, by how the cook stands and what is chosen."""

from passbell.cook import commands as cm
from passbell.cook.neighbours import on_the_heat
from passbell.cook.put_back import reason_to_go_back
from passbell.cook.state import CookState
from passbell.cook.words import read_words
from passbell.tui.desk import Action


def key_command(action: Action, state: CookState, selected: int | None) -> cm.Command:
    """The command that a key stands for.

    Args:
        action: what the key is called.
        state: the cook.
        selected: the component that is chosen, by its place in file order; None: none.

    Raises:
        NotUnderstood: when there is nothing the key could mean now.
    """
    if action == "away":
        return cm.Back() if state.away is not None else cm.Away()
    if action == "heat_off":
        return _heat(state, _appliance_of(state, selected))
    if action == "take_out" and selected is not None and reason_to_go_back(state, selected):
        return cm.PutBack(component=selected)
    return read_words(action.replace("_", " "), state, selected=selected)


def _heat(state: CookState, chosen: int | None) -> cm.Command:
    """Off, or on again where any stands still."""
    stopped = [i for i, a in enumerate(state.appliances) if a.stopped is not None]
    if stopped:
        return cm.HeatOn(appliance=chosen if chosen in stopped else None)
    return cm.HeatOff(appliance=chosen)


def _appliance_of(state: CookState, selected: int | None) -> int | None:
    """The appliance that the selected component is on; None: all."""
    step = on_the_heat(state, selected) if selected is not None else None
    if selected is None or step is None:
        return None
    on = state.component(selected).steps[step].on
    return state.plan.appliance_index(on) if on is not None else None
