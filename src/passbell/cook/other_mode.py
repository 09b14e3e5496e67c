"""The same food in another mode: what the model and each published rule make of it, by name.

The rules conflict and the cook chooses. The plan's file is never changed: what comes out are the
few values that differ today.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from passbell.cook.engine import begin
from passbell.cook.sizes import GRAIN, Today, TodayError, Value, component_named
from passbell.cook.state import CookState
from passbell.heat import NoForecast, piece_of
from passbell.heat.modes import Rule, converted, mode_ratio, rules
from passbell.heat.scope import is_setting, mode_of
from passbell.plan.model import Component, Plan, Step
from passbell.plan.problem import Path
from passbell.safety.foods import is_raw_meat
from passbell.safety.waiting import oven_note
from passbell.units import Duration, Temperature, UnitError, clean_text

SOFT_C = 95.0
"""The core temperature by which food without a probe is compared, °C (a chunk of potato)."""

MODEL = "model"
_WISH = re.compile(
    r"(?P<mode>[^\d]*?)\s*(?P<temp>\d[\d.,]*\s*°?\s*[fc])?\s*(?:\bby\s+(?P<by>\w+))?\s*",
    re.IGNORECASE,
)
_MEND = 'write it like "chicken=bake 375 F by model"'


@dataclass(frozen=True, slots=True)
class Wish:
    """Another setting for the oven a component is in.

    Attributes:
        component: whose oven.
        mode: the mode in words.
        temp: the set temperature; None: as it is written.
        by: "model" or the key of a published rule; empty: not chosen yet.
    """

    component: int
    mode: str
    temp: Temperature | None
    by: str = ""


@dataclass(frozen=True, slots=True)
class Setting:
    """Where and how a component ends its time on the heat, by the plan.

    Attributes:
        appliance, stage: which; `stage` None: the appliance has none.
        mode, temp: as written.
        step: index of the step.
    """

    appliance: int
    stage: int | None
    mode: str
    temp: Temperature
    step: int


@dataclass(frozen=True, slots=True)
class Option:
    """What the model, or one rule, makes of a wish.

    Attributes:
        key, name: how it is chosen, and what it is called.
        factor: on the time.
        temps: the settings it is meant for, lowest and highest.
        time_s: the time of the component's step, s.
        check_s: when to look first, s; None where it does not say.
        rule: the published rule; None: the model.
        other_unit: whether the rule prints its difference in the other unit only.
    """

    key: str
    name: str
    factor: float
    temps: tuple[Temperature, Temperature]
    time_s: int
    check_s: int | None = None
    rule: Rule | None = None
    other_unit: bool = False

    @property
    def words(self) -> str:
        """It in one line, its name last."""
        low, high = self.temps
        heat = str(low) if low == high else f"{low} to {high}"
        heat += " (from its figure in the other unit, rounded to 5)" if self.other_unit else ""
        look = f", first look after {round(self.check_s / 60)} min" if self.check_s else ""
        minutes = round(self.time_s / 60)
        return f"by {self.key}: {heat}, {minutes} min (× {self.factor:.2f}){look} — {self.name}"


def read_wish(plan: Plan, text: str) -> Wish:
    """The wish of "chicken=bake 375 F by model".

    Raises:
        TodayError: when it cannot be read.
    """
    name, equals, setting = clean_text(text).partition("=")
    match = _WISH.fullmatch(setting.strip()) if equals else None
    if match is None or not is_setting(match["mode"]):
        raise TodayError(f"“{clean_text(text)}” is no setting of an oven", _MEND)
    try:
        temp = Temperature.parse(match["temp"]) if match["temp"] else None
    except UnitError as error:
        raise TodayError(error.what, error.mend) from None
    by = (match["by"] or "").casefold()
    return Wish(component_named(plan, name), match["mode"].strip(), temp, by)


def setting_of(plan: Plan, component: int) -> Setting:
    """Where a component ends its time on the heat.

    Raises:
        TodayError: when that is no oven of a known temperature.
    """
    dish = plan.components[component]
    if dish.last_cook is None:
        raise TodayError(f"{dish.name} is never on the heat", "choose another component")
    step = dish.steps[dish.last_cook]
    place = plan.appliance_index(step.on or "")
    stages = plan.appliances[place].stages
    names = [stage.name for stage in stages]
    index = max(names.index(n) for n in step.stage) if step.stage else len(stages) - 1
    stage = stages[index] if stages else None
    temp = (stage.temp if stage else None) or step.temp
    if temp is None:
        raise TodayError(f"{dish.name}: no oven temperature is written", "write temp in the plan")
    mode = (stage.mode if stage else None) or step.mode or "bake"
    return Setting(place, index if stages else None, mode, temp, dish.last_cook)


def options(plan: Plan, wish: Wish) -> tuple[Option, ...]:
    """The model first, then every published rule that speaks of such a change.

    Raises:
        TodayError: when neither the model nor a rule has anything to say.
    """
    here = setting_of(plan, wish.component)
    found = tuple(_options(plan, wish, here))
    if not found:
        what = f"nothing is known of {here.mode} changed to {wish.mode}"
        raise TodayError(what, "the rules go between an ordinary oven and a fan")
    return found


def _options(plan: Plan, wish: Wish, here: Setting) -> Iterator[Option]:
    dish = plan.components[wish.component]
    time = int(dish.steps[here.step].time)
    temp = wish.temp or here.temp
    factor = _ratio(dish, here, wish)
    if factor is not None:
        yield Option(MODEL, "the forecast's model; poor at minutes, fair at ratios", factor,
                     (temp, temp), round(time * factor))  # fmt: skip
    before, after = mode_of(here.mode), mode_of(wish.mode)
    if "bake" in (before, after) and before != after:
        fan = "convection", "air_fry"
        for rule in rules():
            if before == "bake" and after in fan:
                yield _forward(rule, here.temp, time)
            elif after == "bake" and before in fan:
                yield _backward(rule, here.temp, time)


def _ratio(dish: Component, here: Setting, wish: Wish) -> float | None:
    """The ratio of the model's times; None: no size, or heat it knows nothing of."""
    before, after = mode_of(here.mode), mode_of(wish.mode)
    if dish.size is None or isinstance(before, NoForecast) or isinstance(after, NoForecast):
        return None
    until = next((s.until for s in reversed(dish.steps) if s.until is not None), None)
    target = until.celsius if until is not None else SOFT_C
    new = (wish.temp or here.temp).celsius
    piece = piece_of(dish, dish.size.mm)
    return mode_ratio(piece, (before, here.temp.celsius), (after, new), target)


def _forward(rule: Rule, temp: Temperature, time: int) -> Option:
    found = converted(rule, temp, time)
    factor = found.time_s / time if time else rule.factor
    return Option(rule.key, rule.name, factor, found.temps, found.time_s, found.check_s, rule,
                  found.other_unit)  # fmt: skip


def _backward(rule: Rule, temp: Temperature, time: int) -> Option:
    """A rule read from the fan to the ordinary oven: hotter by its difference, longer by it."""
    lower = converted(rule, temp, time)
    up = tuple(Temperature(2 * temp.value - t.value, temp.scale) for t in reversed(lower.temps))
    factor = time / lower.time_s if lower.time_s else 1.0
    return Option(rule.key, f"{rule.name}, read backwards", factor, (up[0], up[1]),
                  round(time * factor), None, rule, lower.other_unit)  # fmt: skip


def changed_mode(plan: Plan, wish: Wish) -> Today:
    """The plan's values for another setting: of the oven, and the times of all food in it.

    The model's ratio is each sized component's own; a rule has one factor for all.

    Raises:
        TodayError: when no rule is chosen, it says nothing of this, or asks for another setting.
    """
    here, known = setting_of(plan, wish.component), options(plan, wish)
    chosen = next((o for o in known if o.key == wish.by), None)
    if chosen is None:
        what = f"“{wish.by}” says nothing of that" if wish.by else "choose by what to reckon"
        raise TodayError(what, "add it, such as by model", tuple(o.words for o in known))
    temp = wish.temp or chosen.temps[1]
    low, high = chosen.temps
    if not low.celsius - 0.5 <= temp.celsius <= high.celsius + 0.5:
        what = f"by {chosen.key} it is {low} to {high}, not {temp}"
        raise TodayError(what, "give such a temperature, none, or choose by model")
    return _applied(plan, (wish, here, temp), chosen)


def _applied(plan: Plan, asked: tuple[Wish, Setting, Temperature], chosen: Option) -> Today:
    wish, here, temp = asked
    oven = plan.appliances[here.appliance]
    changes = dict(_knob(plan, here, wish.mode, temp))
    stage = oven.stages[here.stage] if here.stage is not None else None
    name = f"{oven.name}, {stage.name}" if stage is not None else oven.name
    notes = [f"{name}: {wish.mode} {temp} instead of {here.mode} {here.temp}, by {chosen.name}"]
    needed = 0
    for index, place, share in _inside(begin(plan).state, here):
        dish, step = plan.components[index], plan.components[index].steps[place]
        ratio = 1 + share * (_factor(dish, (wish, here), chosen, step) - 1)
        changes |= dict(_times(("component", index, "steps", place), step, ratio))
        changes["component", index, "reckoned"] = f"from {here.mode} {here.temp} by {chosen.key}"
        new, old = (round(seconds / 60) for seconds in (int(step.time) * ratio, int(step.time)))
        notes += [f"{dish.name}: {new} min instead of {old}"] if new != old else []
        needed = max(needed, _grained(int(step.time) * ratio) - _elsewhere(plan, here, step))
        if is_raw_meat(dish.food) and oven_note(temp) and oven_note(temp) not in notes:
            notes.append(oven_note(temp))
    if stage is not None and stage.time is not None and here.stage is not None:
        path: Path = ("appliance", here.appliance, "stage", here.stage, "time")
        changes[path] = Duration(max(_grained(int(stage.time) * chosen.factor), needed))
    return Today(changes, tuple(notes))


def _factor(dish: Component, asked: tuple[Wish, Setting], chosen: Option, step: Step) -> float:
    if chosen.rule is None:
        return _ratio(dish, asked[1], asked[0]) or chosen.factor
    back = mode_of(asked[0].mode) == "bake"
    made = _backward if back else _forward
    return made(chosen.rule, asked[1].temp, int(step.time)).factor


def _knob(plan: Plan, here: Setting, mode: str, temp: Temperature) -> Iterator[tuple[Path, Value]]:
    """The setting itself: of the stage, or of every step of an appliance without stages."""
    if here.stage is not None:
        path: Path = ("appliance", here.appliance, "stage", here.stage)
        yield (*path, "mode"), mode
        yield (*path, "temp"), str(temp)
        return
    oven = plan.appliances[here.appliance].name
    for index, dish in enumerate(plan.components):
        for place, step in enumerate(dish.steps):
            if step.on == oven and step.temp is not None:
                yield ("component", index, "steps", place, "mode"), mode
                yield ("component", index, "steps", place, "temp"), str(temp)


def _inside(state: CookState, here: Setting) -> Iterator[tuple[int, int, float]]:
    """Every (component, step) in the setting, and the share of its time there, by the stagger."""
    bounds = state.first.bounds[here.appliance]
    oven = state.plan.appliances[here.appliance].name
    span = (0, 1 << 40) if here.stage is None else (bounds[here.stage], bounds[here.stage + 1])
    for index, dish in enumerate(state.plan.components):
        for place, step in enumerate(dish.steps):
            start, end = state.first.starts[index][place], state.first.ends[index][place]
            inside = min(end, span[1]) - max(start, span[0])
            if step.on == oven and inside > 0:
                yield index, place, inside / (end - start)


def _elsewhere(plan: Plan, here: Setting, step: Step) -> int:
    """How long a step may be in the other stages of its appliance, in seconds."""
    stages = plan.appliances[here.appliance].stages
    names = [stage.name for stage in stages]
    ends = [names.index(name) for name in step.stage] or [0, len(stages) - 1]
    others = [i for i in range(min(ends), max(ends) + 1) if i != here.stage]
    if any(stages[i].time is None for i in others):
        return int(step.time) * 100
    return sum(int(stages[i].time or 0) for i in others)


def _times(path: Path, step: Step, ratio: float) -> Iterator[tuple[Path, Value]]:
    """A step's time, first look and actions, all by one ratio."""
    yield (*path, "time"), _grained(int(step.time) * ratio)
    if step.check is not None:
        look = int(int(step.check) * ratio / GRAIN) * GRAIN
        yield (*path, "check"), Duration(max(GRAIN, look))
    for n, during in enumerate(step.during):
        if during.at != "halfway":
            yield (*path, "during", n, "at"), _grained(int(during.at) * ratio)


def _grained(seconds: float) -> Duration:
    return Duration(max(GRAIN, round(seconds / GRAIN) * GRAIN))
