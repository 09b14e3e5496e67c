"""What the cook types, as commands: the same words in the probe box, a script and `--plain`."""

import re
from collections.abc import Callable

from pydantic import ValidationError

from passbell.cook import commands as cm
from passbell.cook.cards import cards, first_cue, is_due
from passbell.cook.cues import can_be_done, cues
from passbell.cook.neighbours import on_the_heat
from passbell.cook.outlook import moved_end, outlook, usual_scale, usual_temps
from passbell.cook.state import CookState
from passbell.cook.together import joint_openings
from passbell.cook.whose import NotUnderstood, named_component, read_reading
from passbell.cook.wording import spoken
from passbell.heat.scope import is_setting
from passbell.plan.model import ChartKey
from passbell.units import ClockTime, Duration, Temperature, UnitError, clean_text

CHARTS: tuple[ChartKey, ...] = ("us", "canada", "uk", "australia", "strictest")
WORDS = (
    "done, earlier, put off, seen, away, back, heat off, heat on, longer N, shorter N, ready, "
    "not ready, begin NAME, heat 190 C, as forecast, take out NAME, put back NAME, skip NAME, "
    "together, serve +15, note TEXT, mark, chart NAME, ice TEMP, take back, redo, a reading such "
    "as 152 or chicken 66c, or a display such as oven 9:30"
)
"""Every word there is, for a message and for the help."""

ANY_TIME = 24 * 3600
"""How far ahead two openings may lie that are asked for in words, in seconds."""

_SERVE = re.compile(r"\+\s*(\d{1,4})(?:\s*min)?")
_DISPLAY = re.compile(r"(?:(\d{1,2}):)?(\d{1,3}):(\d{2})")
_SETTING = re.compile(
    r"(?P<words>.*?)\s*(?P<value>\d{2,3}(?:[.,]\d{1,2})?)?\s*°?\s*(?P<scale>(?<=[\d\s°])[fc])?",
    re.IGNORECASE,
)
_BY = re.compile(r"(?P<name>.*?)\s*(?P<by>\d+(?:[.,]\d+)?)?\s*(?:min)?", re.IGNORECASE)


def read_words(
    text: str,
    state: CookState,
    *,
    selected: int | None = None,
    serve_in: Callable[[ClockTime], int] | None = None,
) -> cm.Command:
    """The command that a line of words stands for.

    Args:
        text: what was typed.
        state: the cook in progress: it knows the names, the cue in Now, what is on the heat.
        selected: the component the cook has selected, if any.
        serve_in: engine instant of the next such local time, for `serve 19:00`.

    Raises:
        NotUnderstood: when the words are no command.
    """
    line = clean_text(text)
    if not line:
        raise NotUnderstood("nothing was typed", "type a reading, or ? for the words there are")
    try:
        return _read(line, state, selected, serve_in)
    except (ValidationError, OverflowError):
        raise NotUnderstood(f"“{line}” is too much", "no cook goes on for days") from None


def _read(
    line: str,
    state: CookState,
    selected: int | None,
    serve_in: Callable[[ClockTime], int] | None,
) -> cm.Command:
    lower = line.casefold()
    for word, make in _FIXED.items():
        if lower == word:
            return make(state, selected)
    for word, read in _LED.items():
        if lower.startswith(word + " "):
            return read(line[len(word) + 1 :].strip(), state, selected)
    if lower.startswith("serve "):
        return _serve(line[6:].strip(), state, serve_in)
    found = _display(line, state) or read_reading(line, state, selected)
    if found is None:
        raise NotUnderstood(f"“{line}” is no reading and no command", f"words there are: {WORDS}")
    return found


def _first(state: CookState) -> str:
    found = first_cue(state)
    if found is None:
        raise NotUnderstood("nothing is left to do", "add a note, or quit")
    return found.key.id


def _component(text: str, state: CookState, selected: int | None) -> int:
    if text:
        return named_component(state, text)
    if selected is None:
        raise NotUnderstood("which component?", "select its row, or type its name")
    return selected


def _to_begin(state: CookState, component: int | None) -> str:
    """The next prep or finish that can be begun: of a component, else of all that is left."""
    for cue in cues(state):
        mine = component is None or (cue.key.owner == component and not cue.key.of_appliance)
        if mine and cue.key.part == "begin" and can_be_done(state, cue.key):
            return cue.key.id
    whose = "" if component is None else f" of {state.component(component).name}"
    raise NotUnderstood(f"no prep or finish{whose} can be begun now", "do what Now shows")


def _to_take_out(state: CookState, selected: int | None) -> int:
    """What is taken out without a name: the row selected, else what Now says to take out."""
    if selected is None:
        asked = (c for card in cards(state) for c in card.lines if is_due(state, c))
        selected = next((c.key.owner for c in asked if c.key.kind == "take_out"), None)
    return _component("", state, selected)


def _changed(text: str, state: CookState, selected: int | None, sign: int) -> cm.Command:
    match = _BY.fullmatch(text)
    assert match is not None
    by = sign * round(float((match["by"] or "1").replace(",", ".")) * 60)
    name = match["name"].strip()
    for index, appliance in enumerate(state.plan.appliances):
        if name and appliance.name.casefold() == name.casefold():
            return cm.ExtendStage(appliance=index, by=by)
    if name or selected is not None:
        return cm.ExtendStep(component=_component(name, state, selected), by=by)
    return change_of_now(state, by)


def change_of_now(state: CookState, by: int) -> cm.Command:
    """Longer or shorter for what Now shows: the component of its cue, or its appliance's stage."""
    for cue in (line for card in cards(state) for line in card.lines):
        if cue.key.kind in ("mode", "set", "add", "off", "ready", "preheat"):
            machine = (
                cue.key.owner if cue.key.of_appliance else state.plan.appliance_index(cue.place)
            )
            if state.appliances[machine].stage is not None:
                return cm.ExtendStage(appliance=machine, by=by)
            if cue.key.kind == "add":
                return cm.ExtendStep(component=cue.key.owner, step=cue.key.item, by=by)
        elif not cue.key.of_meal:
            return cm.ExtendStep(component=cue.key.owner, by=by)
    raise NotUnderstood("nothing runs that could take longer", "select a row first")


def _serve(text: str, state: CookState, serve_in: Callable[[ClockTime], int] | None) -> cm.Command:
    plus = _SERVE.fullmatch(text)
    if plus:
        base = state.serve if state.serve is not None else state.schedule.dish_up
        return cm.ServeAt(at=base + int(plus[1]) * 60)
    if text.casefold() in ("asap", "now"):
        return cm.ServeAt(at=None)
    try:
        clock = ClockTime.parse(text)
    except UnitError as error:
        raise NotUnderstood(error.what, 'write "+15", "19:00" or "asap"') from None
    if serve_in is None:
        raise NotUnderstood("there is no clock here", 'write "+15" or "asap"')
    return cm.ServeAt(at=serve_in(clock))


def _display(line: str, state: CookState) -> cm.Command | None:
    """`oven 9:30`: what an appliance's own clock reads."""
    name, _, value = line.rpartition(" ")
    match = _DISPLAY.fullmatch(value)
    if match is None:
        return None
    seconds = int(match[1] or 0) * 3600 + int(match[2]) * 60 + int(match[3])
    timed = [i for i, a in enumerate(state.appliances) if a.on is not None]
    for index, appliance in enumerate(state.plan.appliances):
        if appliance.name.casefold().startswith(name.casefold()) and (name or timed == [index]):
            return cm.Dial(appliance=index, seconds=seconds)
    every = ", ".join(a.name for a in state.plan.appliances) or "none"
    if not name:
        raise NotUnderstood("whose display?", f"type its name before the time: {every}")
    raise NotUnderstood(f"“{name}” is no appliance", f"there are {every}")


def _chart(text: str, state: CookState, selected: int | None) -> cm.Command:
    for chart in CHARTS:
        if text.casefold() == chart:
            return cm.SetChart(chart=chart)
    raise NotUnderstood(f"“{text}” is no chart", f"there are {', '.join(CHARTS)}")


def _ice(text: str, state: CookState, selected: int | None) -> cm.Command:
    try:
        return cm.SetIce(shown=Temperature.parse(text))
    except UnitError as error:
        raise NotUnderstood(error.what, error.mend) from None


def _not_ready(state: CookState, selected: int | None) -> cm.Command:
    for index, real in enumerate(state.appliances):
        if real.on is not None and real.ready is None:
            return cm.NotReady(appliance=index)
    raise NotUnderstood("nothing is heating up", "it can be said once something is switched on")


def _ready(state: CookState, selected: int | None) -> cm.Command:
    for cue in cues(state):
        if cue.key.kind == "ready" and state.appliances[cue.key.owner].on is not None:
            return cm.Done(cue=cue.key.id)
    raise NotUnderstood("nothing is heating up", "it can be said once something is switched on")


def _put_off(text: str, state: CookState, selected: int | None) -> cm.Command:
    try:
        by = Duration.parse(text)
    except UnitError as error:
        raise NotUnderstood(error.what, error.mend) from None
    if not 1 <= by <= 3600:
        raise NotUnderstood(f"{spoken(by)} is too long to put off", "put it off an hour at most")
    return cm.PutOff(cue=_first(state), by=by)


def _together(state: CookState) -> cm.Command:
    found = joint_openings(state, state.at, ANY_TIME)
    if not found:
        raise NotUnderstood("no two openings are near each other", "go on as shown")
    return found[0].command


_FIXED: dict[str, Callable[[CookState, int | None], cm.Command]] = {
    "done": lambda state, _: cm.Done(cue=_first(state)),
    "earlier": lambda state, _: cm.Earlier(),
    "put off": lambda state, _: cm.PutOff(cue=_first(state)),
    "seen": lambda state, _: cm.Seen(cue=_first(state)),
    "away": lambda state, _: cm.Away(),
    "back": lambda state, _: cm.Back(),
    "heat off": lambda state, _: cm.HeatOff(),
    "heat on": lambda state, _: cm.HeatOn(),
    "longer": lambda state, selected: _changed("", state, selected, 1),
    "shorter": lambda state, selected: _changed("", state, selected, -1),
    "ready": _ready,
    "as forecast": lambda state, selected: _as_forecast("", state, selected),
    "not ready": _not_ready,
    "begin": lambda state, selected: cm.Done(cue=_to_begin(state, selected)),
    "take out": lambda state, selected: cm.TakeOut(component=_to_take_out(state, selected)),
    "put back": lambda state, selected: cm.PutBack(component=_component("", state, selected)),
    "skip": lambda state, selected: cm.Skip(component=_component("", state, selected)),
    "together": lambda state, _: _together(state),
    "mark": lambda state, _: cm.Mark(),
    "take back": lambda state, _: cm.TakeBack(),
    "redo": lambda state, _: cm.Redo(),
}


def _heat(text: str, state: CookState, on: bool) -> cm.Command:
    for index, appliance in enumerate(state.plan.appliances):
        if appliance.name.casefold() == text.casefold():
            return cm.HeatOn(appliance=index) if on else cm.HeatOff(appliance=index)
    every = ", ".join(a.name for a in state.plan.appliances) or "none"
    raise NotUnderstood(f"“{text}” is no appliance", f"there are {every}")


def _set_heat(text: str, state: CookState, selected: int | None) -> cm.Command:
    """`heat 190 C`, `heat oven 375`, `heat oven air fry 190 C`: a knob turned besides the plan."""
    match = _SETTING.fullmatch(text)
    assert match is not None
    appliance, mode = _named_appliance(match["words"].strip(), state, selected)
    if mode and not is_setting(mode):
        raise NotUnderstood(f"“{mode}” is no oven setting", "type it like heat oven air fry 190 C")
    temp = None
    if match["value"]:
        scale = (match["scale"] or usual_scale(state, appliance)).upper()
        value = float(match["value"].replace(",", "."))
        temp = Temperature(value, "C" if scale == "C" else "F")
    return cm.SetHeat(appliance=appliance, temp=temp, mode=mode or None)


def _named_appliance(words: str, state: CookState, selected: int | None) -> tuple[int, str]:
    """The appliance whose name the words begin with, else the one meant; and the rest of them."""
    for index, appliance in enumerate(state.plan.appliances):
        name = appliance.name.casefold()
        if words.casefold() == name or words.casefold().startswith(f"{name} "):
            return index, words[len(name) :].strip()
    step = on_the_heat(state, selected) if selected is not None else None
    if selected is not None and step is not None:
        on = state.component(selected).steps[step].on
        return state.plan.appliance_index(on or ""), words
    running = [i for i, a in enumerate(state.appliances) if a.on is not None]
    hot = [i for i in running if usual_temps(state, i)]
    if len(hot) == 1:
        return hot[0], words
    every = ", ".join(a.name for a in state.plan.appliances) or "none"
    raise NotUnderstood("which appliance was turned?", f"type its name: {every}")


def _as_forecast(text: str, state: CookState, selected: int | None) -> cm.Command:
    """The stagger's end of a component moved to where the forecast has it."""
    chosen = named_component(state, text) if text else selected
    for index in range(len(state.steps)) if chosen is None else (chosen,):
        by = moved_end(state, index, outlook(state, index))
        if by is not None:
            return cm.ExtendStep(component=index, by=by)
    raise NotUnderstood("the forecast moves nothing", "it does so after a reading, by a minute up")


_LED: dict[str, Callable[[str, CookState, int | None], cm.Command]] = {
    "longer": lambda text, state, selected: _changed(text, state, selected, 1),
    "shorter": lambda text, state, selected: _changed(text, state, selected, -1),
    "put off": _put_off,
    "heat off": lambda text, state, _: _heat(text, state, on=False),
    "heat on": lambda text, state, _: _heat(text, state, on=True),
    "heat": _set_heat,
    "as forecast": _as_forecast,
    "begin": lambda text, state, _: cm.Done(cue=_to_begin(state, _component(text, state, None))),
    "take out": lambda text, state, selected: cm.TakeOut(component=_component(text, state, None)),
    "put back": lambda text, state, selected: cm.PutBack(component=_component(text, state, None)),
    "skip": lambda text, state, selected: cm.Skip(component=_component(text, state, None)),
    "note": lambda text, state, selected: cm.Note(text=text, component=selected),
    "chart": _chart,
    "ice": _ice,
}
