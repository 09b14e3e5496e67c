"""The appliances: what each does now, what its own display should read, what comes next."""

from passbell.cook.display import dial_zero, display_now, stage_words
from passbell.cook.neighbours import on_the_heat
from passbell.cook.state import CookState
from passbell.cook.wording import minutes
from passbell.tui.views.model import ApplianceLine

SWITCHES_OFF_SOON = 180
"""From when its display runs out this soon, in seconds, and food needs longer, it is said."""


def appliance_lines(state: CookState, now: int) -> tuple[ApplianceLine, ...]:
    """All appliances, in file order."""
    return tuple(_line(state, index, now) for index in range(len(state.appliances)))


def _line(state: CookState, index: int, now: int) -> ApplianceLine:
    standing = _standing(state, index)
    display = display_now(state, index, now) if standing in ("on", "hot", "stopped") else None
    return ApplianceLine(
        name=state.appliance(index).name,
        standing=standing,
        mode=_mode(state, index),
        display=minutes(display) if display is not None else None,
        coming=_coming(state, index, now),
        alert=_alert(state, index, now),
        inside=_inside(state, index),
    )


def _standing(state: CookState, index: int) -> str:
    real = state.appliances[index]
    if real.switched_off is not None:
        return "over"
    if real.on is None:
        return "off"
    if real.stopped is not None:
        return "stopped"
    if real.ready is None:
        return "preheating"
    return "on" if _inside(state, index) else "hot"


def _inside(state: CookState, index: int) -> tuple[str, ...]:
    name = state.appliance(index).name
    return tuple(
        component.name
        for c, component in enumerate(state.plan.components)
        if (step := on_the_heat(state, c)) is not None and component.steps[step].on == name
    )


def _mode(state: CookState, index: int) -> str:
    real = state.appliances[index]
    if not state.appliance(index).stages or real.on is None or real.switched_off is not None:
        return ""
    words = stage_words(state, index, real.stage or 0)
    since = real.stages[-1] if real.stages else 0
    turned = [turn for turn in real.turns if turn.at >= since]
    if not turned:
        return words
    said = [t for turn in turned for t in (turn.mode, turn.temp) if t is not None]
    return f"{words}, set to {said[-1]}"


def _coming(state: CookState, index: int, now: int) -> str:
    """The next change of its program, or when it is to be switched on."""
    real, stages = state.appliances[index], state.appliance(index).stages
    bounds = state.schedule.bounds[index]
    if real.switched_off is not None or not bounds:
        return ""
    if real.on is None:
        on = state.schedule.on[index]
        first = f"{stage_words(state, index, 0)} " if stages else ""
        return (
            ""
            if on is None
            else f"{first}on {_soon(on - now)}"
            if on > now
            else f"{first}to be on by now"
        )
    following = 0 if real.stage is None else real.stage + 1
    if following >= len(stages) or following >= len(bounds) - 1 or real.ready is None:
        return ""
    words = "start" if real.stage is None else f"then {stage_words(state, index, following)}"
    return f"{words} {_soon(bounds[following] - now)}"


def _soon(left: int) -> str:
    return f"in {minutes(left)}" if left > 0 else "now"


def _alert(state: CookState, index: int, now: int) -> str:
    real = state.appliances[index]
    if real.stopped is not None:
        return f"NO HEAT for {minutes(now - real.stopped)}"
    zero = dial_zero(state, index, now)
    if zero is None or real.stage is None or not _inside(state, index):
        return ""
    bounds = state.schedule.bounds[index]
    need = bounds[real.stage + 1] if real.stage + 1 < len(bounds) else zero
    if need <= zero or zero - now > SWITCHES_OFF_SOON:
        return ""
    if zero <= now:
        return "may have switched itself off: look"
    return f"switches itself off in {minutes(zero - now)}"
