"""A thermometer reading: recorded as shown, judged by the chart, never refused for being low."""

from passbell.cook import commands as cm
from passbell.cook import events as ev
from passbell.cook.cue import CueKey
from passbell.cook.decision import Decision, Refusal
from passbell.cook.fold import apply
from passbell.cook.neighbours import on_the_heat
from passbell.cook.outlook import Outlook, outlook
from passbell.cook.state import CookState
from passbell.cook.timing import look_interval
from passbell.cook.verdicts import is_gated, may_leave, read_too_soon, verdict
from passbell.units import clean_text

SOONEST_LOOK = 60
"""Two looks by the forecast are at least this far apart, in seconds."""

NOT_IN = "not in yet, so it counts for nothing"
"""What is said of a reading of food that has not been on the heat."""


def probe(state: CookState, command: cm.Probe, now: int) -> Decision | Refusal:
    """A reading was taken; a probe cue is thereby done once every place has been read."""
    if command.component >= len(state.steps):
        return Refusal("there is no such component")
    name = state.component(command.component).name
    step = on_the_heat(state, command.component)
    place = clean_text(command.place, 60) if command.place else None
    read = ev.WasRead(
        at=now,
        component=command.component,
        place=place or None,
        shown=command.shown,
        scale=command.scale,
        off_heat=step is None,
    )
    words = f"{name} {place + ' ' if place else ''}{command.shown:g} °{command.scale}"
    if step is None and read_too_soon(apply(state, read), command.component):
        return Decision(f"{words}: {NOT_IN}", (read,))
    if step is None:
        return Decision(words, (read,))
    return Decision(words, (read, *_looked(apply(state, read), command.component, step, now)))


def _looked(state: CookState, component: int, step: int, now: int) -> tuple[ev.Event, ...]:
    """The look that a full set of readings completes, and when to look again if it must stay."""
    judged = verdict(state, component)
    if not is_gated(state, component, step) or judged.verdict in ("incomplete", "recheck"):
        return ()
    looks = state.steps[component][step].looks
    key = CueKey("probe", component, step, n=len(looks))
    acted = ev.Acted(at=now, cue=key.id, happened=now, due=now)
    state = apply(state, acted)
    if may_leave(state, component, step):
        return (acted,)
    pause = judged.look_again_s or look_interval(state.component(component).steps[step].time)
    again = _worth_a_look(state, component, now) or now + pause
    if judged.verdict == "hold" and judged.hold_until is not None:
        again = judged.hold_until
    return (acted, ev.LookAgain(at=now, component=component, step=step, look_at=again))


def _worth_a_look(state: CookState, component: int, now: int) -> int | None:
    """The earliest instant at which the forecast holds a look for worth an opening, if it has one.

    It only says when to look; the event carries the instant, so that a replay needs no forecast.
    A reading that is odd itself is to be taken again soon.
    """
    found = outlook(state, component)
    if not isinstance(found, Outlook) or not found.readings:
        return None
    if any(odd.at_s >= found.forecast.from_s for odd in found.forecast.odd):
        return None
    return max(now + SOONEST_LOOK, found.look_at)
