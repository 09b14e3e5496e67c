"""Every cue that is still to come or due, from the facts and the schedule of the rest."""

from collections.abc import Iterator
from dataclasses import replace

from passbell.cook.cue import Cue, CueKey, CueKind
from passbell.cook.cues_appliance import appliance_cues
from passbell.cook.display import display_at, last_heat
from passbell.cook.due import Due, in_time
from passbell.cook.expect import next_look
from passbell.cook.latest import of_latest
from passbell.cook.neighbours import held_by
from passbell.cook.put_back import KEEP_GOING, reason_to_go_back
from passbell.cook.state import ADDING, NEAR, CookState, StepState
from passbell.cook.timing import action_at, machine_of, off_time
from passbell.cook.verdicts import is_gated, may_leave
from passbell.cook.wording import until_words
from passbell.plan.model import Step
from passbell.safety.cautions import CLEAN_TONGS, THEN_WASH, WASH_HANDS, WITH_CLEAN
from passbell.safety.chart import falls_short, minimum_text
from passbell.schedule.offers import asks


@of_latest
def cues(state: CookState) -> tuple[Cue, ...]:
    """All cues not yet done, by the instant they are due.

    A cue that fell due keeps the instant it did; one put off comes again at its new instant.
    """
    return tuple(in_time(standing_at(state, due.words(state)) for due in dues(state)))


def raw_cues(state: CookState) -> tuple[Cue, ...]:
    """The same, each at the instant that the schedule gives it."""
    return tuple(due.words(state) for due in in_time(dues(state)))


def dues(state: CookState) -> tuple[Due, ...]:
    """Who is to be asked for what, and when by the schedule, in no order and not in words."""
    known = state.memo.get("dues")
    if not isinstance(known, tuple):
        known = state.memo["dues"] = () if state.served is not None else _dues(state)
    return known


def _dues(state: CookState) -> tuple[Due, ...]:
    return (*_component_cues(state), *_appliance_cues(state), *_meal_cues(state))


def open_cue(state: CookState, cue: str) -> Cue | None:
    """The cue of an id, when it is not done yet."""
    try:
        key = CueKey.read(cue)
    except ValueError:
        return None
    found = next((due for due in dues(state) if due.key == key and key.id == cue), None)
    return None if found is None else standing_at(state, found.words(state))


def standing_at(state: CookState, cue: Cue) -> Cue:
    """A cue at the instant it fell due, or until which it is put off."""
    known = state.cue(cue.key.id)
    if known is None:
        return cue
    at = known.since if known.until is None else max(known.until, cue.at)
    return cue if at == cue.at else replace(cue, at=at)


_ON_THE_WAY = ("during", "check", "probe", "take_out")


def can_be_done(state: CookState, key: CueKey) -> bool:
    """Whether its food is where the cue needs it.

    Nothing comes out before it is in, and nothing is plated before it is out.
    """
    return is_in(state, key) and on_heat_before(state, key) is None


def is_in(state: CookState, key: CueKey) -> bool:
    """Whether a cue needs no food on the heat, or has it there."""
    if key.kind not in _ON_THE_WAY:
        return True
    return state.steps[key.owner][key.item].began is not None


def on_heat_before(state: CookState, key: CueKey) -> str | None:
    """The text of a cook step that has to be over before an act begins; None: there is none.

    Only a take out ends it.
    """
    if key.of_appliance or key.of_meal or not (key.part == "begin" or key.kind == "add"):
        return None
    for index in range(key.item):
        step = state.component(key.owner).steps[index]
        if step.kind == "cook" and state.steps[key.owner][index].ended is None:
            return step.text
    return None


def _meal_cues(state: CookState) -> Iterator[Due]:
    dish_up = state.schedule.dish_up
    key = CueKey("call", 0)
    if state.plan.call and key.id not in state.closed:
        yield Due(key, max(0, dish_up - state.plan.call), _call)
    yield Due(CueKey("dish_up", 0), dish_up, _dish_up)


def _call(state: CookState, key: CueKey, at: int) -> Cue:
    return Cue(key, at, "CALL", "everybody", "the meal is nearly ready", "table")


def _dish_up(state: CookState, key: CueKey, at: int) -> Cue:
    return Cue(key, at, "DISH UP", state.plan.title, "", "table")


def _appliance_cues(state: CookState) -> Iterator[Due]:
    for index in range(len(state.appliances)):
        yield from appliance_cues(state, index)


def _component_cues(state: CookState) -> Iterator[Due]:
    """The cues of every component; those of one that nothing has touched since are kept.

    `seen` is everything they depend on. Heat that stopped lets them depend on the clock too.
    """
    stopped = any(heater.stopped is not None for heater in state.appliances)
    others = state.steps if any(state.tables.raw) else None
    judged = (others, state.readings, state.remarks, state.ice, state.skipped, state.closed)
    schedule, known = state.schedule, state.tables.known
    for component, row in enumerate(state.steps):
        if stopped:
            yield from _cues_of(state, component)
            continue
        seen = (row, schedule.starts[component], schedule.ends[component], judged)
        kept = known.get(("cues", component))
        if not isinstance(kept, tuple) or kept[0] != seen:
            kept = known["cues", component] = seen, tuple(_cues_of(state, component))
        yield from kept[1]


def _cues_of(state: CookState, component: int) -> Iterator[Due]:
    steps, skipped = state.component(component).steps, component in state.skipped
    for index, real in enumerate(state.steps[component]):
        kind = steps[index].kind
        if skipped and (real.began is None or kind == "rest"):
            continue
        if kind == "rest":
            yield from _rest_cues(state, component, index)
        elif kind == "cook":
            yield from _heat_cues(state, component, index)
        elif real.ended is None:
            yield _hands_cue(state, component, index)


def _heat_cues(state: CookState, component: int, index: int) -> Iterator[Due]:
    if state.steps[component][index].ended is None:
        yield from _cook_cues(state, component, index)
    else:
        back = list(_back_cue(state, component, index))
        yield from back or _wash_cue(state, component, index)


def _hands_cue(state: CookState, component: int, index: int) -> Due:
    """A prep or a finish: one cue to begin, then a silent one for its expected end."""
    plan, real = state.step(component, index)
    kind: CueKind = "prep" if plan.kind == "prep" else "finish"
    if real.began is None:
        at = state.schedule.starts[component][index]
        return Due(CueKey(kind, component, index, "begin"), at, _by_hand)
    at = state.schedule.ends[component][index]
    return Due(CueKey(kind, component, index, "end"), at, _by_hand)


HAND_VERBS: dict[str, str] = {"prep": "PREPARE", "finish": "FINISH"}
"""The work of the hands that is begun by one press and done by a second."""

_DONE_VERBS = {"prep": "PREPARED?", "finish": "FINISHED?"}
"""A question, as of a preheat: read from far off, a statement would say that it is done."""


def _by_hand(state: CookState, key: CueKey, at: int) -> Cue:
    component = state.component(key.owner)
    begins = key.part == "begin"
    verb = (HAND_VERBS if begins else _DONE_VERBS)[key.kind]
    text = component.steps[key.item].text
    if key.kind == "prep" and state.tables.raw[key.owner]:
        text = f"{text}; {THEN_WASH if begins else WASH_HANDS}"
    return Cue(key, at, verb, component.name, text, "hands", component.name, silent=not begins)


def _rest_cues(state: CookState, component: int, index: int) -> Iterator[Due]:
    real = state.steps[component][index]
    if index == 0 and real.began is None:
        at = state.schedule.starts[component][index]
        yield Due(CueKey("prep", component, index, "begin"), at, _start_rest)
    key = CueKey("rest_over", component, index)
    following = state.steps[component][index + 1 : index + 2]
    if key.id in state.closed or (following and following[0].began is not None):
        return
    last = state.tables.last_cook[component]
    if last is not None and index > last and reason_to_go_back(state, component):
        return
    at = real.ended if real.ended is not None else state.schedule.ends[component][index]
    yield Due(key, at, _rested)


def _start_rest(state: CookState, key: CueKey, at: int) -> Cue:
    component = state.component(key.owner)
    text = component.steps[key.item].text
    return Cue(key, at, "START", component.name, text, "hands", component.name)


def _rested(state: CookState, key: CueKey, at: int) -> Cue:
    component = state.component(key.owner)
    text, last = component.steps[key.item].text, key.item == len(component.steps) - 1
    return Cue(key, at, "RESTED", component.name, text, "hands", component.name, silent=not last)


def _cook_cues(state: CookState, component: int, index: int) -> Iterator[Due]:
    plan, real = state.step(component, index)
    start = real.began if real.began is not None else state.schedule.starts[component][index]
    if real.began is None:
        yield Due(CueKey("add", component, index), _going_in(real, start), _add)
    machine = machine_of(state, component, index)
    if machine is not None and state.appliances[machine].stopped is not None:
        return
    if plan.during:
        yield from _during_cues(state, component, index, start)
    look = (
        next_look(state, component, index)
        if real.began is not None
        else _planned_look(state, component, index, start)
    )
    if look is not None:
        kind: CueKind = "probe" if is_gated(state, component, index) else "check"
        yield Due(CueKey(kind, component, index, n=len(real.looks)), look, _look)
    if real.began is None or _may_come_out(state, component, index):
        at = state.schedule.ends[component][index]
        yield Due(CueKey("take_out", component, index), at, _take_out)


def _going_in(real: StepState, start: int) -> int:
    """When it goes in: a little earlier than planned where it shares an opening."""
    early = dict(real.moved).get(ADDING)
    return early if early is not None and 0 <= start - early <= NEAR else start


def _add(state: CookState, key: CueKey, at: int) -> Cue:
    how = _heat_first(state, key) + state.component(key.owner).steps[key.item].text
    if state.tables.raw[key.owner]:
        how = f"{how}; {WASH_HANDS}"
    return _at_appliance(state, key, at, ("ADD", how))


def _heat_first(state: CookState, key: CueKey) -> str:
    """What to set an appliance to for this food, where no stage of a program says it."""
    step, machine = (
        state.component(key.owner).steps[key.item],
        machine_of(state, key.owner, key.item),
    )
    if machine is None or state.appliance(machine).stages:
        return ""
    asked = step.temp is not None or step.mode is not None
    return f"set the {state.appliance(machine).name} to {asks(step)}; " if asked else ""


def _take_out(state: CookState, key: CueKey, at: int) -> Cue:
    how = _into(state, key.owner, key.item)
    if state.tables.raw[key.owner] and key.item == state.tables.last_cook[key.owner]:
        how = f"{WITH_CLEAN}; {how}" if how else WITH_CLEAN
    return _at_appliance(state, key, at, ("TAKE OUT", how))


def _wash_cue(state: CookState, component: int, index: int) -> Iterator[Due]:
    """After raw meat has left a tray it shared: tongs and plate, a cue of its own."""
    if not state.tables.raw[component]:
        return
    plan, real = state.step(component, index)
    n = len(plan.during)
    own = state.component(component)
    shared = plan.kind == "cook" and any(
        other is not own and other.shares == own.shares and step.on == plan.on
        for other in state.plan.components
        for step in other.steps
    )
    if shared and n not in real.acted and real.ended is not None:
        yield Due(CueKey("during", component, index, n=n), real.ended, _wash)


def _wash(state: CookState, key: CueKey, at: int) -> Cue:
    name = state.component(key.owner).name
    return Cue(key, at, "WASH", "tongs and plate", CLEAN_TONGS, "hands", name)


def _back_cue(state: CookState, component: int, index: int) -> Iterator[Due]:
    """What came off the heat too early belongs back on it, and the cook is told so."""
    left = state.steps[component][index].ended_noted
    if index != state.tables.last_cook[component] or left is None:
        return
    if reason_to_go_back(state, component):
        yield Due(CueKey.back_in(component, index), left, _go_back)


def _go_back(state: CookState, key: CueKey, at: int) -> Cue:
    words = f"{reason_to_go_back(state, key.owner)}: {KEEP_GOING}"
    return _at_appliance(state, key, at, ("PUT BACK", words + _without_heat(state, key)))


def _without_heat(state: CookState, key: CueKey) -> str:
    """What is to be done before food goes back; empty: its appliance is on."""
    machine = machine_of(state, key.owner, key.item)
    if machine is None or state.appliances[machine].switched_off is None:
        return ""
    at = last_heat(state, machine)
    return f"; switch the {state.appliance(machine).name} on again first" + (at and f", {at}")


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


def _look(state: CookState, key: CueKey, at: int) -> Cue:
    component = state.component(key.owner)
    plan = component.steps[key.item]
    how = _until(state, key) if plan.until else component.doneness or plan.text
    return _at_appliance(state, key, at, (key.kind.upper(), how))


def _until(state: CookState, key: CueKey) -> str:
    """What the probe is to show: the plan's figure, or the chart's where that is higher."""
    component = state.component(key.owner)
    until = component.steps[key.item].until
    assert until is not None
    last = key.item == component.last_cook
    if last and falls_short(until, component.food, state.chart):
        return f"until {minimum_text(component.food, state.chart, state.scale)}"
    return until_words(until, state.scale)


def _during_cues(state: CookState, component: int, index: int, start: int) -> Iterator[Due]:
    plan, real = state.step(component, index)
    off = off_time(state, component, index, state.at) if real.began is not None else 0
    moved = dict(real.moved)
    for n in range(len(plan.during)):
        if n not in real.acted:
            key = CueKey("during", component, index, n=n)
            yield Due(key, moved.get(n, start + action_at(plan, n) + off), _during)


def _during(state: CookState, key: CueKey, at: int) -> Cue:
    plan = state.component(key.owner).steps[key.item]
    words = _verb(plan, key.n), _rest_of(plan.during[key.n].do)
    return _at_appliance(state, key, at, words)


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
