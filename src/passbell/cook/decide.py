"""What a command means at an instant: the events it leads to, or why it is refused."""

from collections.abc import Callable
from typing import Any

from passbell.cook import commands as cm
from passbell.cook import events as ev
from passbell.cook.account import LABELS, TURNED_OUT
from passbell.cook.cues import open_cue
from passbell.cook.decide_back import put_back
from passbell.cook.decide_done import done, earlier, take_out
from passbell.cook.decide_heat import dial, extend_stage, extend_step, heat_off, heat_on, set_heat
from passbell.cook.decide_probe import probe
from passbell.cook.decide_together import together
from passbell.cook.decision import Decision, Refusal
from passbell.cook.fold import apply
from passbell.cook.neighbours import on_the_heat, raw_left
from passbell.cook.state import CookState
from passbell.cook.wording import minutes, spoken
from passbell.units import clean_text


def decide(state: CookState, command: cm.Command, now: int) -> Decision | Refusal:
    """The events of a command, time having passed up to `now`; or why it is refused."""
    if state.served is not None and not isinstance(command, cm.Note | cm.Earlier):
        return Refusal("the meal has been dished up; only notes can be added")
    return _DECIDE[command.do](state, command, now)


def _put_off(state: CookState, command: cm.PutOff, now: int) -> Decision | Refusal:
    cue = open_cue(state, command.cue)
    if cue is None:
        return Refusal("that has been done already")
    until = max(now, cue.at) + command.by
    event = ev.WasPutOff(at=now, cue=command.cue, until=until)
    return Decision(f"put off {spoken(command.by)}: {cue.text}", (event,))


def _seen(state: CookState, command: cm.Seen, now: int) -> Decision | Refusal:
    cue = open_cue(state, command.cue)
    known = state.cue(command.cue)
    if cue is None or known is None or known.seen:
        return Refusal("nothing rings")
    return Decision(f"seen {cue.text}", (ev.WasSeen(at=now, cue=command.cue),))


def _away(state: CookState, command: cm.Away, now: int) -> Decision | Refusal:
    if state.away is not None:
        return Refusal("you are away already")
    return Decision("away", (ev.WentAway(at=now),))


def _back(state: CookState, command: cm.Back, now: int) -> Decision | Refusal:
    if state.away is None:
        return Refusal("you are not away")
    return Decision(f"back after {minutes(now - state.away)}", (ev.CameBack(at=now),))


def _not_ready(state: CookState, command: cm.NotReady, now: int) -> Decision | Refusal:
    if command.appliance >= len(state.appliances):
        return Refusal("there is no such appliance")
    real = state.appliances[command.appliance]
    name = state.appliance(command.appliance).name
    if real.on is None or real.ready is not None:
        return Refusal(f"{name} is not heating up")
    until = now + command.by
    event = ev.PreheatDelayed(at=now, appliance=command.appliance, until=until)
    return Decision(f"{name} not ready: {spoken(command.by)} more", (event,))


def _skip(state: CookState, command: cm.Skip, now: int) -> Decision | Refusal:
    if command.component >= len(state.steps):
        return Refusal("there is no such component")
    name = state.component(command.component).name
    if on_the_heat(state, command.component) is not None:
        return Refusal(f"{name} is on the heat: take it out first")
    if command.component in state.skipped:
        return Refusal(f"{name} is left out already")
    event = ev.WasSkipped(at=now, component=command.component)
    notes = _lay_with(apply(state, event), command.component, now)
    return Decision(f"left out: {name}", (event, *notes))


def _lay_with(state: CookState, meat: int, now: int) -> list[ev.Event]:
    """A note for everything that lay on a tray with raw meat which is now left out."""
    notes: list[ev.Event] = []
    for component in range(len(state.steps)):
        step = on_the_heat(state, component)
        left = raw_left(state, component, step) if step is not None else None
        if left is not None and left[0] == meat and left[1] > now:
            names = state.component(component).name, state.component(meat).name
            text = f"{names[0]}: lay with raw {names[1]}; stays in {minutes(left[1] - now)} more"
            notes.append(ev.Noted(at=now, text=text, component=component, of="program"))
    return notes


def _serve_at(state: CookState, command: cm.ServeAt, now: int) -> Decision | Refusal:
    if command.at is not None and command.at < now:
        return Refusal("that time is past: give a later one")
    words = "as soon as possible" if command.at is None else f"in {spoken(command.at - now)}"
    return Decision(f"serve {words}", (ev.ServeSet(at=now, serve=command.at),))


def _note(state: CookState, command: cm.Note, now: int) -> Decision | Refusal:
    text = clean_text(command.text)
    if not text:
        return Refusal("the note is empty")
    event = ev.Noted(at=now, text=text, component=command.component)
    return Decision(_note_words(state, command.component, text), (event,))


def _note_words(state: CookState, component: int | None, text: str) -> str:
    """A note as the list of acts tells it: of which component; a line of the debrief as it is."""
    if component is None:
        return text if text.startswith(tuple(LABELS.values())) else f"note: {text}"
    name = state.component(component).name
    if text.startswith(TURNED_OUT):
        return f"{name} turned out: {text.removeprefix(TURNED_OUT)}"
    return f"note on {name}: {text}"


def _several(state: CookState, command: cm.Several, now: int) -> Decision | Refusal:
    """One after the other; the first that is refused refuses them all."""
    words: list[str] = []
    events: list[ev.Event] = []
    for part in command.commands:
        decision = _DECIDE[part.do](state, part, now)
        if isinstance(decision, Refusal):
            return decision
        words.append(decision.words)
        for event in decision.events:
            state = apply(state, event)
            events.append(event)
    return Decision("; ".join(words), tuple(events))


def _mark(state: CookState, command: cm.Mark, now: int) -> Decision | Refusal:
    return Decision(f"mark {len(state.marks) + 1}", (ev.Marked(at=now),))


def _chart(state: CookState, command: cm.SetChart, now: int) -> Decision | Refusal:
    event = ev.ChartSet(at=now, chart=command.chart)
    return Decision(f"chart: {command.chart}", (event,))


def _ice(state: CookState, command: cm.SetIce, now: int) -> Decision | Refusal:
    event = ev.IceSet(at=now, shown=command.shown)
    return Decision(f"ice water: {command.shown}", (event,))


_DECIDE: dict[str, Callable[[CookState, Any, int], Decision | Refusal]] = {
    "done": done,
    "earlier": earlier,
    "put_off": _put_off,
    "seen": _seen,
    "away": _away,
    "back": _back,
    "heat_off": heat_off,
    "heat_on": heat_on,
    "extend_stage": extend_stage,
    "extend_step": extend_step,
    "not_ready": _not_ready,
    "dial": dial,
    "take_out": take_out,
    "put_back": put_back,
    "several": _several,
    "together": together,
    "skip": _skip,
    "probe": probe,
    "serve_at": _serve_at,
    "note": _note,
    "mark": _mark,
    "chart": _chart,
    "ice": _ice,
    "set_heat": set_heat,
}
