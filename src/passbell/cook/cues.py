"""Every cue that is still to come or due, from the facts and the schedule of the rest."""

from collections.abc import Iterator
from dataclasses import replace

from passbell.cook.cue import TIME_ORDER, Cue, CueKey, CueKind
from passbell.cook.cues_appliance import appliance_cues
from passbell.cook.display import display_at
from passbell.cook.expect import next_look
from passbell.cook.neighbours import held_by
from passbell.cook.state import CookState
from passbell.cook.timing import action_at, machine_of, off_time
from passbell.cook.verdicts import is_gated, may_leave
from passbell.plan.model import Step
from passbell.safety.cautions import CLEAN_TONGS, WASH_HANDS
from passbell.safety.foods import is_raw_meat


def cues(state: CookState) -> tuple[Cue, ...]:
    """All cues not yet done, by the instant they are due.

    A cue that fell due keeps the instant it did; one put off comes again at its new instant.
    """
    if state.served is not None:
        return ()
    found = [*_component_cues(state), *_appliance_cues(state), *_meal_cues(state)]
    return tuple(sorted((standing_at(state, cue) for cue in found), key=_order))


def raw_cues(state: CookState) -> tuple[Cue, ...]:
    """The same, each at the instant that the schedule gives it."""
    if state.served is not None:
        return ()
    found = [*_component_cues(state), *_appliance_cues(state), *_meal_cues(state)]
    return tuple(sorted(found, key=_order))


def standing_at(state: CookState, cue: Cue) -> Cue:
    """A cue at the instant it fell due, or until which it is put off."""
    known = state.cue(cue.key.id)
    if known is None:
        return cue
    return replace(cue, at=known.since if known.until is None else max(known.until, cue.at))


_ON_THE_WAY = ("during", "check", "probe", "take_out")


def can_be_done(state: CookState, key: CueKey) -> bool:
    """Whether its food is where the cue needs it: nothing comes out before it is in."""
    if key.kind not in _ON_THE_WAY:
        return True
    return state.steps[key.owner][key.item].began is not None


def _order(cue: Cue) -> tuple[int, int, int, int]:
    return cue.at, TIME_ORDER.index(cue.key.kind), cue.key.owner, cue.key.item


def _meal_cues(state: CookState) -> Iterator[Cue]:
    dish_up = state.schedule.dish_up
    key = CueKey("call", 0)
    if state.plan.call and key.id not in state.closed:
        at = max(0, dish_up - state.plan.call)
        yield Cue(key, at, "CALL", "everybody", "the meal is nearly ready", "table")
    yield Cue(CueKey("dish_up", 0), dish_up, "DISH UP", state.plan.title, "", "table")


def _appliance_cues(state: CookState) -> Iterator[Cue]:
    for index in range(len(state.appliances)):
        yield from appliance_cues(state, index)


def _component_cues(state: CookState) -> Iterator[Cue]:
    for component in range(len(state.steps)):
        for index, real in enumerate(state.steps[component]):
            if component in state.skipped and real.began is None:
                continue
            yield from _step_cues(state, component, index)


def _step_cues(state: CookState, component: int, index: int) -> Iterator[Cue]:
    plan, real = state.step(component, index)
    if plan.kind == "rest":
        yield from _rest_cues(state, component, index)
    elif real.ended is not None:
        yield from _wash_cue(state, component, index)
    elif plan.kind == "cook":
        yield from _cook_cues(state, component, index)
    else:
        yield _hands_cue(state, component, index)


def _hands_cue(state: CookState, component: int, index: int) -> Cue:
    """A prep or a finish: one cue to begin, then a silent one for its expected end."""
    plan, real = state.step(component, index)
    name = state.component(component).name
    kind: CueKind = "prep" if plan.kind == "prep" else "finish"
    if real.began is None:
        key = CueKey(kind, component, index, "begin")
        at = state.schedule.starts[component][index]
        return Cue(
            key, at, "PREPARE" if kind == "prep" else "FINISH", name, plan.text, "hands", name
        )
    key = CueKey(kind, component, index, "end")
    at = state.schedule.ends[component][index]
    return Cue(key, at, "FINISHED", name, plan.text, "hands", name, silent=True)


def _rest_cues(state: CookState, component: int, index: int) -> Iterator[Cue]:
    plan, real = state.step(component, index)
    name = state.component(component).name
    if index == 0 and real.began is None:
        at = state.schedule.starts[component][index]
        key = CueKey("prep", component, index, "begin")
        yield Cue(key, at, "START", name, plan.text, "hands", name)
    key = CueKey("rest_over", component, index)
    following = state.steps[component][index + 1 : index + 2]
    if key.id in state.closed or (following and following[0].began is not None):
        return
    at = real.ended if real.ended is not None else state.schedule.ends[component][index]
    yield Cue(key, at, "RESTED", name, plan.text, "hands", name, silent=bool(following))


def _cook_cues(state: CookState, component: int, index: int) -> Iterator[Cue]:
    plan, real = state.step(component, index)
    start = real.began if real.began is not None else state.schedule.starts[component][index]
    end = state.schedule.ends[component][index]
    if real.began is None:
        key = CueKey("add", component, index)
        how = _clean_hands(state, component, plan.text)
        yield _at_appliance(state, key, start, ("ADD", how))
    machine = machine_of(state, component, index)
    if machine is not None and state.appliances[machine].stopped is not None:
        return
    yield from _during_cues(state, component, index, start)
    look = (
        next_look(state, component, index)
        if real.began is not None
        else _planned_look(state, component, index, start)
    )
    if look is not None:
        yield _look_cue(state, component, index, look)
    if real.began is None or _may_come_out(state, component, index):
        key = CueKey("take_out", component, index)
        yield _at_appliance(state, key, end, ("TAKE OUT", _into(state, component, index)))


def _clean_hands(state: CookState, component: int, text: str) -> str:
    """An instruction that ends, for raw meat, with the hands."""
    raw = is_raw_meat(state.component(component).food)
    return f"{text}; {WASH_HANDS}" if raw else text


def _wash_cue(state: CookState, component: int, index: int) -> Iterator[Cue]:
    """After raw meat has left a tray it shared: tongs and plate, a cue of its own."""
    plan, real = state.step(component, index)
    n = len(plan.during)
    own = state.component(component)
    shared = plan.kind == "cook" and any(
        other is not own and other.shares == own.shares and step.on == plan.on
        for other in state.plan.components
        for step in other.steps
    )
    if shared and is_raw_meat(own.food) and n not in real.acted and real.ended is not None:
        key = CueKey("during", component, index, n=n)
        yield Cue(key, real.ended, "WASH", "tongs and plate", CLEAN_TONGS, "hands", own.name)


def _may_come_out(state: CookState, component: int, index: int) -> bool:
    return may_leave(state, component, index) and not held_by(state, component, index)


def _into(state: CookState, component: int, index: int) -> str:
    """What becomes of it when it leaves the heat: its rest, else its doneness."""
    plan = state.component(component)
    following = plan.steps[index + 1 : index + 2]
    if following and following[0].kind == "rest":
        return f"rest: {following[0].text}"
    if following and following[0].kind == "cook":
        return f"then: {following[0].text}"
    return plan.doneness or ""


def _planned_look(state: CookState, component: int, index: int, start: int) -> int | None:
    plan, _ = state.step(component, index)
    first = plan.first_look
    if first is None:
        return start + plan.time if is_gated(state, component, index) else None
    return start + first


def _look_cue(state: CookState, component: int, index: int, at: int) -> Cue:
    plan, real = state.step(component, index)
    probing = is_gated(state, component, index)
    key = CueKey("probe" if probing else "check", component, index, n=len(real.looks))
    how = f"until {plan.until}" if plan.until else state.component(component).doneness or plan.text
    return _at_appliance(state, key, at, ("PROBE" if probing else "CHECK", how))


def _during_cues(state: CookState, component: int, index: int, start: int) -> Iterator[Cue]:
    plan, real = state.step(component, index)
    off = off_time(state, component, index, state.at) if real.began is not None else 0
    for n, action in enumerate(plan.during):
        if n not in real.acted:
            key = CueKey("during", component, index, n=n)
            at = start + action_at(plan, n) + off
            yield _at_appliance(state, key, at, (_verb(plan, n), _rest_of(action.do)))


def _verb(plan: Step, n: int) -> str:
    return plan.during[n].do.split(" ", 1)[0].rstrip(",;:").upper()


def _rest_of(text: str) -> str:
    """What follows the verb; a pronoun alone says nothing beside the component's name."""
    rest = text.partition(" ")[2]
    return "" if rest.casefold() in ("it", "them", "all", "everything") else rest


def _at_appliance(state: CookState, key: CueKey, at: int, words: tuple[str, str]) -> Cue:
    name = state.component(key.owner).name
    machine = machine_of(state, key.owner, key.item)
    assert machine is not None
    place = state.appliance(machine).name
    display = display_at(state, machine, at)
    return Cue(key, at, words[0], name, words[1], place, name, display)
