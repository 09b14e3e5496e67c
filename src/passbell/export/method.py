"""The method of a meal in the order of work: every act as a sentence, the stagger in words."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from passbell.cook.account import StepAccount
from passbell.cook.timing import action_at
from passbell.export.both import in_text, printed_minimum, temperature
from passbell.export.meal import Meal
from passbell.plan.model import Step
from passbell.safety.chart import chart_rows, falls_short, height

LineKind = Literal["heat", "mode", "prep", "add", "during", "take_out", "rest", "finish", "dish_up"]
_ORDER: tuple[LineKind, ...] = (
    "heat", "during", "take_out", "mode", "add", "rest", "prep", "finish", "dish_up",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """One act of the method.

    Attributes:
        at: when, in engine seconds.
        kind: what kind of act.
        text: the sentence, plain text, in both units.
        short: the act in a few words, for a chapter ("Green beans in").
        component: place of its component; None: of none.
        appliance: the appliance it is about or happens at; None: none.
        step: place of its step; None: of none.
        time: how long it takes, in seconds; None: an instant.
        notes: what to watch, sentences.
    """

    at: int
    kind: LineKind
    text: str
    short: str
    component: int | None = None
    appliance: str | None = None
    step: int | None = None
    time: int | None = None
    notes: tuple[str, ...] = ()


def method(meal: Meal) -> tuple[Line, ...]:
    """Every act, by the instant it happens."""
    found = [*_heating(meal), *_components(meal)]
    text = "Dish up."
    found.append(Line(meal.dish_up, "dish_up", text, "Dish up"))
    return tuple(sorted(found, key=lambda line: (line.at, _ORDER.index(line.kind))))


def the(name: str) -> str:
    """An appliance's name with its article: "the oven"; "my grill" has its own word."""
    own = name.casefold().startswith(("the ", "my ", "our ", "a ", "an "))
    return name if own else f"the {name}"


def long_words(seconds: int) -> str:
    """A length of time written out: "8 minutes", "1 hour 5 minutes", "90 seconds".

    Nobody cooks by the single second: below two minutes it is told to the nearest five.
    """
    seconds = round(seconds / 5) * 5 if 5 <= seconds < 120 else seconds
    if seconds < 120 and seconds % 60:
        return f"{seconds} seconds"
    hours, rest = divmod(round(seconds / 60), 60)
    parts = [(hours, "hour"), (rest, "minute")]
    words = [f"{n} {unit}{'' if n == 1 else 's'}" for n, unit in parts if n]
    return " ".join(words) or "no time"


def range_words(low: int, high: int) -> str:
    """A range of time: "10 to 12 minutes", or one figure where both ends are the same minute."""
    if high < 120 or high >= 3600 or round(low / 60) == round(high / 60):
        first = long_words(low)
        return long_words(high) if first == long_words(high) else f"{first} to {long_words(high)}"
    return f"{round(low / 60)} to {long_words(high)}"


def time_range(step: Step, took: int | None) -> tuple[int, int]:
    """The range a time on the heat is printed as, in seconds.

    As planned and as cooked are its ends; where they are the same minute, or there is no run, it
    begins with the first look: `check`, else four fifths of the time (first looks at 75 to 83 % of
    a single figure are common practice, no source).
    """
    ends = sorted((int(step.time), took if took is not None else int(step.time)))
    if round(ends[0] / 60) != round(ends[1] / 60):
        return ends[0], ends[1]
    look = step.first_look
    first = int(look) if look is not None else ends[1] * 4 // 5 // 60 * 60
    return min(first, ends[1]) if first >= 60 else ends[1], ends[1]


def _heating(meal: Meal) -> Iterator[Line]:
    for place, appliance in enumerate(meal.plan.appliances):
        found = meal.account.appliances[place]
        on = found.on if found.on is not None else found.planned_on
        if on is None:
            continue
        if appliance.preheat or appliance.stages:
            ahead = long_words(appliance.preheat)
            wait = f" and let it get hot, {ahead}" if appliance.preheat else ""
            words = _stage_words(meal, place, 0)
            text = f"{_to_go(meal, on)}switch on {the(appliance.name)}{words}{wait}."
            short = f"Switch on {appliance.name}"
            yield Line(on, "heat", _sentence(text), short, None, appliance.name)
        yield from _modes(meal, place)


def _modes(meal: Meal, place: int) -> Iterator[Line]:
    appliance = meal.plan.appliances[place]
    stages = [s for s in meal.account.stages if s[0] == appliance.name]
    for index, (_, _, planned, real) in enumerate(stages):
        at = real if real is not None else planned
        if index == 0 or at is None:
            continue
        words = _stage_words(meal, place, index)
        text = f"{_remain(meal, appliance.name, at)}switch {the(appliance.name)}{words}."
        name = appliance.stages[index].mode or appliance.stages[index].name
        yield Line(at, "mode", _sentence(text), f"{appliance.name} to {name}", None, appliance.name)


def _stage_words(meal: Meal, place: int, index: int) -> str:
    stages = meal.plan.appliances[place].stages
    if not stages:
        return ""
    stage = stages[index]
    heat = f" {temperature(stage.temp)}" if stage.temp else ""
    return f" to {stage.mode or stage.name}{heat}"


def _components(meal: Meal) -> Iterator[Line]:
    for index, found in meal.components:
        plan = meal.plan.components[index]
        for place, (step, real) in enumerate(zip(plan.steps, found.steps, strict=True)):
            if step.kind == "cook":
                yield from _cook(meal, index, place)
            elif step.kind == "rest":
                yield _rest(meal, index, place)
            else:
                yield _hands(meal, (index, place), step, real)


def _hands(meal: Meal, where: tuple[int, int], step: Step, real: StepAccount) -> Line:
    name = meal.plan.components[where[0]].name
    verb = "Prepare" if step.kind == "prep" else "Finish"
    took = real.time if real.time is not None else int(step.time)
    time = f" ({long_words(took)})" if took else ""
    text = f"{verb} {name}: {in_text(step.text)}{time}."
    kind: LineKind = "prep" if step.kind == "prep" else "finish"
    at = meal.start(real)
    return Line(at, kind, text, f"{verb} {name}", where[0], None, where[1], took or None)


def _rest(meal: Meal, index: int, place: int) -> Line:
    """A rest is printed as the plan and the chart have it: a run never shortens it."""
    plan, real = meal.plan.components[index], meal.account.components[index].steps[place]
    step = plan.steps[place]
    least = "at least " if place > (plan.last_cook if plan.last_cook is not None else place) else ""
    text = f"Rest {plan.name}: {in_text(step.text)}, {least}{long_words(step.time)}."
    at = meal.start(real)
    return Line(at, "rest", text, f"{plan.name} rests", index, None, place, int(step.time))


def _cook(meal: Meal, index: int, place: int) -> Iterator[Line]:
    plan, found = meal.plan.components[index], meal.account.components[index]
    step, real = plan.steps[place], found.steps[place]
    on = step.on or ""
    at, end = meal.start(real), meal.end(real)
    low, high = time_range(step, real.time)
    first = at == _first_in(meal, on)
    lead = _to_go(meal, at) if first else _remain(meal, on, at)
    asked = _asked(meal, index, place)
    how = f"{in_text(step.text)}, {range_words(low, high)}{asked}"
    text = f"{lead}add {plan.name} to {the(on)}: {how}."
    short, time = f"{plan.name} in", real.time if real.time is not None else int(step.time)
    yield Line(
        at, "add", _sentence(text), short, index, on, place, time, _looks(meal, index, place)
    )
    for n, action in enumerate(step.during):
        when = at + action_at(step, n)
        text = f"{_remain(meal, on, when)}{plan.name}: {in_text(action.do)}."
        yield Line(when, "during", _sentence(text), f"{plan.name}: {action.do}", index, on, place)
    text = f"Take {plan.name} off the heat ({on})."
    yield Line(end, "take_out", text, f"{plan.name} out", index, on, place)


def _asked(meal: Meal, index: int, place: int) -> str:
    """What tells that it is done: the probe first, then the words.

    Where the plan asks for less than the chart does, the chart's figure is printed.
    """
    plan, chart = meal.plan.components[index], meal.plan.chart
    step, last = plan.steps[place], place == plan.last_cook
    words = in_text(plan.doneness) if plan.doneness and last else ""
    if step.until:
        heat = temperature(step.until)
        if last and falls_short(step.until, plan.food, chart):
            heat = printed_minimum(max(chart_rows(plan.food, chart), key=height))
        return f", until the probe reads {heat}{'; ' + words if words else ''}"
    return f", until {words}" if words else ""


def _looks(meal: Meal, index: int, place: int) -> tuple[str, ...]:
    """When to look first; of food with a published minimum, that only readings let it leave."""
    plan = meal.plan.components[index]
    step, notes = plan.steps[place], []
    rows = [r for r in chart_rows(plan.food, meal.plan.chart) if not r.no_figure]
    rows = rows if place == plan.last_cook else []
    if step.first_look is not None:
        word = "Probe" if step.until or rows else "Look"
        notes.append(f"{word} first after {long_words(step.first_look)}.")
    if rows:
        least = printed_minimum(max(rows, key=height))
        notes.append(
            f"It leaves the heat only when every place probed has reached the chart's minimum, "
            f"{least}; the time never says so."
        )
    return tuple(notes)


def _first_in(meal: Meal, on: str) -> int:
    return min(at for at, _ in _times_on(meal, on))


def _times_on(meal: Meal, on: str) -> list[tuple[int, int]]:
    return [
        (meal.start(step), meal.end(step))
        for _, found in meal.components
        for step in found.steps
        if step.on == on
    ]


def _to_go(meal: Meal, at: int) -> str:
    left = meal.dish_up - at
    return f"when {_remains(left)} until dishing up, " if left >= 60 else ""


def _remains(left: int) -> str:
    words = long_words(left)
    return f"{words} remain{'s' if words in ('1 minute', '1 hour') else ''}"


def _remain(meal: Meal, on: str, at: int) -> str:
    """How long its appliance still cooks: the stagger in words."""
    left = max((end for _, end in _times_on(meal, on)), default=at) - at
    alone = len(_times_on(meal, on)) == 1
    if left < 60:
        return ""
    if alone:
        return _to_go(meal, at)
    return f"when {_remains(left)} of {the(on)}'s time, "


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]
