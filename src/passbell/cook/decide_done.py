"""Done, earlier and take out: the acts themselves."""

from dataclasses import replace

from passbell.cook import commands as cm
from passbell.cook import events as ev
from passbell.cook.cue import Cue, CueKey, CueKind
from passbell.cook.cues import HAND_VERBS, is_in, on_heat_before, open_cue
from passbell.cook.cues_appliance import in_use
from passbell.cook.decide_back import put_back
from passbell.cook.decision import Decision, Refusal
from passbell.cook.expect import safety_rest_end
from passbell.cook.neighbours import held_by, on_the_heat, raw_left
from passbell.cook.put_back import KEEP_GOING
from passbell.cook.state import CookState
from passbell.cook.timing import expected_time
from passbell.cook.verdicts import has_minimum, verdict
from passbell.cook.wording import minutes
from passbell.safety.neighbours import TOUCHED

BACK = 60
"""How far one *earlier* moves the last act back, in seconds."""


def done(state: CookState, command: cm.Done, now: int) -> Decision | Refusal:
    """The cue was carried out now."""
    cue = open_cue(state, command.cue)
    if cue is None:
        return Refusal("that has been done already")
    if cue.key.goes_back:
        return put_back(state, cm.PutBack(component=cue.key.owner), now)
    hindrance = _hindrance(state, cue, now)
    if hindrance:
        return Refusal(hindrance)
    acted = ev.Acted(at=now, cue=command.cue, happened=now, due=cue.at)
    return Decision(_told(cue), (*_before(state, cue, now), acted, *_after(state, cue, now)))


def _told(cue: Cue) -> str:
    """The act as it is kept: what takes two presses is begun by the first, done by the second."""
    work = HAND_VERBS.get(cue.key.kind)
    if cue.key.part == "end" and work is not None:
        return f"done: {replace(cue, verb=work).text}"
    return f"{'begun' if cue.verb == work else 'done'}: {cue.text}"


def _hindrance(state: CookState, cue: Cue, now: int) -> str | None:
    """Why an act cannot be: an earlier step is not over, or a safety rest is running."""
    key = cue.key
    if key.kind == "dish_up":
        return _not_yet(state, now)
    if key.kind == "off" and in_use(state, key.owner):
        return f"{cue.what} is still needed: food is on it, or to come"
    if key.of_appliance or key.of_meal or key.kind == "rest_over":
        return None
    if not is_in(state, key):
        return f"{cue.what} is not in yet: add it first"
    if key.part == "begin":
        end = safety_rest_end(state, key.owner)
        if end is not None and end > now:
            return f"{cue.what} rests {minutes(end - now)} more: the chart asks for it"
    hot = on_heat_before(state, key)
    return None if hot is None else f"{cue.what}: take it out first, “{hot}” is not over"


def _not_yet(state: CookState, now: int) -> str | None:
    for component in range(len(state.steps)):
        name = state.component(component).name
        if on_the_heat(state, component) is not None:
            return f"{name} is still on the heat: take it out first"
        end = safety_rest_end(state, component)
        if end is not None and end > now:
            return f"{name} rests {minutes(end - now)} more: the chart asks for it"
    return None


def _before(state: CookState, cue: Cue, now: int) -> tuple[ev.Event, ...]:
    """What going on implies: work before it is finished, and a rest before it is cut short."""
    key = cue.key
    if key.of_appliance or key.of_meal or not (key.part == "begin" or key.kind == "add"):
        return ()
    events: list[ev.Event] = []
    for index in range(key.item):
        real = state.steps[key.owner][index]
        kind = state.component(key.owner).steps[index].kind
        if real.ended is not None or kind == "cook":
            continue
        if kind == "rest":
            if index == 0 and real.began is None:
                begin = CueKey("prep", key.owner, index, "begin")
                events.append(ev.Acted(at=now, cue=begin.id, happened=now, due=now))
            events.append(ev.RestEnded(at=now, component=key.owner, step=index))
            continue
        events.extend(_finished(state, key.owner, index, now))
    return tuple(events)


def _finished(state: CookState, component: int, index: int, now: int) -> list[ev.Event]:
    """Work that was not marked as finished: over when it was expected to be, or by now."""
    plan, real = state.step(component, index)
    kind: CueKind = "prep" if plan.kind == "prep" else "finish"
    end = now
    found: list[ev.Event] = []
    if real.began is None:
        begin = CueKey(kind, component, index, "begin")
        found.append(ev.Acted(at=now, cue=begin.id, happened=now, due=now))
    else:
        end = min(now, real.began + expected_time(state, component, index, now))
    key = CueKey(kind, component, index, "end")
    return [*found, ev.Acted(at=now, cue=key.id, happened=end, due=end)]


def _after(state: CookState, cue: Cue, now: int) -> tuple[ev.Event, ...]:
    if cue.key.kind == "set" and cue.display is not None:
        return (ev.Dialled(at=now, appliance=cue.key.owner, seconds=cue.display),)
    if cue.key.kind == "take_out":
        return _flags(state, cue.key.owner, cue.key.item, now)
    if cue.key.kind == "dish_up":
        return tuple(_unproven(state, now))
    return ()


def _unproven(state: CookState, now: int) -> list[ev.Event]:
    """A flag for every food that is served without its minimum having been read."""
    found: list[ev.Event] = []
    for component in range(len(state.steps)):
        if component in state.skipped or not has_minimum(state, component):
            continue
        judged = verdict(state, component)
        if judged.verdict != "met":
            name = state.component(component).name
            text = f"{name}: dished up with the verdict “{judged.verdict}”"
            found.append(ev.Noted(at=now, text=text, component=component, of="program"))
    return found


def take_out(state: CookState, command: cm.TakeOut, now: int) -> Decision | Refusal:
    """A component came off the heat, asked for or not; the record says what that means."""
    if command.component >= len(state.steps):
        return Refusal("there is no such component")
    name = state.component(command.component).name
    index = on_the_heat(state, command.component)
    if index is None:
        return Refusal(f"{name} is not on the heat")
    key = CueKey("take_out", command.component, index)
    due = state.schedule.ends[command.component][index]
    acted = ev.Acted(at=now, cue=key.id, happened=now, due=due)
    flags = _flags(state, command.component, index, now)
    return Decision(f"done: TAKE OUT {name}", (acted, *flags))


def _flags(state: CookState, component: int, index: int, now: int) -> tuple[ev.Noted, ...]:
    """What the record says of food that leaves the heat sooner than it should."""
    texts = _take_out_flags(state, component, index, now)
    return tuple(ev.Noted(at=now, text=t, component=component, of="program") for t in texts)


def _take_out_flags(state: CookState, component: int, index: int, now: int) -> list[str]:
    name = state.component(component).name
    flags = []
    last = index == state.component(component).last_cook
    if last and has_minimum(state, component) and verdict(state, component).verdict != "met":
        flags.append(f"{name}: taken out before its minimum was read; {KEEP_GOING}")
    left = raw_left(state, component, index)
    if held_by(state, component, index) or (left is not None and now < left[1]):
        flags.append(f"{name}: {TOUCHED}")
    return flags


def earlier(state: CookState, command: cm.Earlier, now: int) -> Decision | Refusal:
    """The last act happened a minute earlier, at most when it was due."""
    act = state.last_act
    if act is None:
        return Refusal("nothing has been done yet")
    key = CueKey.read(act.cue)
    if key.kind in ("set", "rest_over", "call"):
        return Refusal("that has no time to correct")
    limit = max(min(act.due, act.noted), _not_before(state, key, act.happened))
    happened = max(limit, act.happened - BACK)
    if happened >= act.happened:
        return Refusal("it cannot have been earlier than it was due")
    event = ev.Backdated(at=now, cue=act.cue, happened=happened)
    return Decision(f"earlier by {minutes(act.happened - happened)}", (event,))


def _not_before(state: CookState, key: CueKey, happened: int) -> int:
    """What the act cannot have happened before: the end of the step before, its own beginning."""
    if key.of_meal:
        return 0
    if key.of_appliance:
        real = state.appliances[key.owner]
        before = real.stages[key.item - 1] if key.kind == "mode" and key.item else real.on
        own = key.kind == "mode" and not key.item and before == happened
        return 0 if own or key.kind == "preheat" else before or 0
    step = state.steps[key.owner][key.item]
    if key.part == "begin" or key.kind == "add":
        previous = state.steps[key.owner][key.item - 1].ended if key.item else 0
        return previous or 0
    return step.began or 0
