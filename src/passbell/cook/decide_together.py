"""Acts moved to one instant, so that they share one opening of an appliance."""

from passbell.cook import commands as cm
from passbell.cook import events as ev
from passbell.cook.cue import Cue, CueKey
from passbell.cook.cues import can_be_done, open_cue
from passbell.cook.decision import Decision, Refusal
from passbell.cook.state import ADDING, NEAR, CookState
from passbell.cook.timing import machine_of
from passbell.cook.verdicts import is_gated
from passbell.cook.wording import spoken

_LATER = ("take_out", "add", "mode", "during", "check", "probe")
_EARLIER = ("during", "check", "probe", "add")


def together(state: CookState, command: cm.Together, now: int) -> Decision | Refusal:
    """Acts of one appliance at one instant; each that cannot be moved so refuses them all."""
    at = max(now, command.at)
    events: list[ev.Event] = []
    words: list[str] = []
    for cue_id in command.cues:
        cue = open_cue(state, cue_id)
        if cue is None:
            return Refusal("that has been done already")
        if not _movable(state, cue, at):
            return Refusal(f"{cue.verb} {cue.what} cannot wait for the other, nor come before it")
        events.extend(_moved(state, cue, at, now))
        words.append(f"{cue.verb} {cue.what}")
    return Decision(f"together in {spoken(at - now)}: {', '.join(words)}", tuple(events))


def _movable(state: CookState, cue: Cue, at: int) -> bool:
    kinds = _LATER if at >= cue.at else _EARLIER
    near = abs(at - max(cue.at, state.at)) <= NEAR
    if not near or cue.key.kind not in kinds or cue.key.goes_back:
        return False
    if cue.key.kind == "add" and at < cue.at:
        return may_join(state, cue.key, at)
    return can_be_done(state, cue.key)


def may_join(state: CookState, key: CueKey, at: int) -> bool:
    """Whether food may go in a little earlier than planned: it is ready, and its stage runs."""
    machine = machine_of(state, key.owner, key.item)
    if machine is None or state.appliance(machine).holds is not None:
        return False
    before = state.schedule.ends[key.owner][key.item - 1] if key.item else 0
    bounds = state.schedule.bounds[machine]
    runs = state.problem.works[key.owner][key.item].runs
    first = min((run[0] for run in runs), default=0)
    begun = bool(bounds) and first < len(bounds) and bounds[first] <= at
    return begun and before <= at


def _moved(state: CookState, cue: Cue, at: int, now: int) -> tuple[ev.Event, ...]:
    key = cue.key
    if key.kind == "during":
        return (ev.ActionMoved(at=now, component=key.owner, step=key.item, n=key.n, until=at),)
    if key.kind == "add" and at < cue.at:
        early = ev.ActionMoved(at=now, component=key.owner, step=key.item, n=ADDING, until=at)
        return (early,)
    if key.kind in ("check", "probe"):
        return (ev.LookAgain(at=now, component=key.owner, step=key.item, look_at=at),)
    if key.kind == "take_out" and not is_gated(state, key.owner, key.item):
        by = at - max(state.schedule.ends[key.owner][key.item], state.at)
        return (ev.StepExtended(at=now, component=key.owner, step=key.item, by=max(0, by)),)
    return (ev.WasPutOff(at=now, cue=key.id, until=at),)
