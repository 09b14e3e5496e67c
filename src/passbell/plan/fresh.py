"""A new plan as text, with comments that say what each line means, from a few answers."""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field

import tomlkit

from passbell.plan.model import LONGEST_LINE, LONGEST_NOTES, StepKind
from passbell.plan.unfilled import PLACE_ONLY
from passbell.units import (
    ClockTime,
    Duration,
    Temperature,
    UnitError,
    clean_paragraphs,
    clean_text,
    quoted,
)

NO_TIME = Duration(0)


@dataclass(frozen=True, slots=True)
class FreshStep:
    """One step of a new dish.

    Attributes:
        kind: prep, cook, rest or finish.
        text: the instruction.
        time: how long it takes.
        on: the appliance of a cook step.
        until: the probe temperature that ends it.
        guessed: whether nobody said the time.
    """

    kind: StepKind
    text: str
    time: Duration
    on: str | None = None
    until: Temperature | None = None
    guessed: bool = False


@dataclass(frozen=True, slots=True)
class FreshDish:
    """One dish: its name, its food on the temperature chart, what goes in, its steps."""

    name: str
    steps: tuple[FreshStep, ...]
    food: str | None = None
    ingredients: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FreshAppliance:
    """One appliance: its name, how long it heats up, and at what it cooks."""

    name: str
    preheat: Duration = NO_TIME
    temp: Temperature | None = None
    mode: str | None = None


@dataclass(frozen=True, slots=True)
class FreshPlan:
    """What is known of a plan that is to be written.

    Attributes:
        title, serves, serve_at: as in a plan.
        dishes: at least one, no two of one name.
        appliances: what is said of them; one that a dish names and this does not is added.
        ingredients: lines of the whole meal.
        notes, adapted_from: free text; may be empty.
        open: what the cook still has to fill in, a sentence each.
    """

    title: str
    serves: int
    dishes: tuple[FreshDish, ...]
    serve_at: ClockTime | None = None
    appliances: tuple[FreshAppliance, ...] = ()
    ingredients: tuple[str, ...] = ()
    notes: str = ""
    adapted_from: str = ""
    open: tuple[str, ...] = field(default=())


def file_name(title: str) -> str:
    """A file name for a plan: its words in small letters, joined by hyphens."""
    plain = unicodedata.normalize("NFKD", title.casefold())
    words = re.findall(r"[a-z0-9]+", plain.encode("ascii", "ignore").decode())
    name = "-".join(words)[:60].strip("-")
    return f"{name or 'plan'}.toml"


def fresh_text(plan: FreshPlan) -> str:
    """The text of the plan: TOML 1.0, which reads back as a plan."""
    lines = [*_head(plan)]
    for appliance in _appliances(plan):
        lines += ["", *_appliance(appliance)]
    for dish in plan.dishes:
        lines += ["", *_dish(dish)]
    return "\n".join(lines) + "\n"


def _text(value: str, longest: int = LONGEST_LINE) -> str:
    return str(tomlkit.string(clean_text(value, longest)).as_string())


def _comment(text: str) -> str:
    return f"# {clean_text(text, 300)}"


def _head(plan: FreshPlan) -> Iterator[str]:
    yield '# Times carry their unit ("12 min"), temperatures too ("400 °F"). See what is wrong with'
    yield "# the plan: passbell check FILE. When everything starts: passbell timeplan FILE."
    if plan.open:
        yield "#"
        yield "# Still to fill in:"
        yield from (_comment(f"- {sentence}") for sentence in plan.open)
    yield ""
    yield f"title  = {_text(plan.title)}"
    yield f"serves = {plan.serves}"
    if plan.serve_at is not None:
        yield f'serve_at = "{plan.serve_at}"'
    else:
        yield '# serve_at = "18:45"          # without it: as soon as possible'
    yield '# slack = "2 min"              # so long before its next step every prep ends'
    yield '# chart = "us"                 # whose minimum temperatures: us, canada, uk, australia'
    for key, value in (("notes", plan.notes), ("adapted_from", plan.adapted_from)):
        if clean_text(value):
            line = clean_paragraphs(value, LONGEST_NOTES).replace("\n", " ")
            yield f"{key} = {_text(line, LONGEST_NOTES)}"
    yield from _listed(plan.ingredients)


def _listed(ingredients: tuple[str, ...]) -> Iterator[str]:
    if ingredients:
        yield "ingredients = ["
        yield from (f"  {_text(line)}," for line in ingredients if clean_text(line))
        yield "]"


def _appliances(plan: FreshPlan) -> list[FreshAppliance]:
    """Those that food is on, in the order they are first needed."""
    said = {appliance.name: appliance for appliance in plan.appliances}
    used = dict.fromkeys(step.on for dish in plan.dishes for step in dish.steps if step.on)
    return [said.get(name, FreshAppliance(name)) for name in used]


def _appliance(appliance: FreshAppliance) -> Iterator[str]:
    yield "[[appliance]]"
    yield f"name    = {_text(appliance.name)}"
    yield f'preheat = "{appliance.preheat}"            # from switching on until it is hot'
    yield "# holds = 1                    # how many dishes at once; a burner: 1"
    if appliance.temp is not None or appliance.mode:
        yield ""
        yield "  [[appliance.stage]]          # a second one changes heat or mode on the way"
        yield f"  name = {_text(appliance.mode or 'cook')}"
        if appliance.mode:
            yield f"  mode = {_text(appliance.mode)}"
        if appliance.temp is not None:
            yield f'  temp = "{appliance.temp}"'


def _dish(dish: FreshDish) -> Iterator[str]:
    yield "[[component]]"
    yield f"name = {_text(dish.name)}"
    if dish.food is not None:
        yield f"food = {_text(dish.food)}"
    else:
        yield '# food = "poultry_pieces"      # meat, fish, egg: its row of the chart'
    yield from (_comment(f"tip: {note}") for note in dish.notes)
    yield from _listed(dish.ingredients)
    yield "steps = ["
    for step in dish.steps:
        if step.guessed:
            yield f"  {PLACE_ONLY}"
        yield f"  {_step(step)},"
    yield "]"


def _step(step: FreshStep) -> str:
    pairs = [f"{step.kind} = {_text(step.text)}"]
    if step.on is not None:
        pairs.append(f"on = {_text(step.on)}")
    pairs.append(f'time = "{step.time}"')
    if step.until is not None:
        pairs.append(f'until = "{step.until}"')
    return f"{{ {', '.join(pairs)} }}"


_WORDS: dict[str, StepKind] = {"prep": "prep", "rest": "rest", "finish": "finish"}
_PART = re.compile(
    r"(?P<word>.+?)\s+(?P<time>[0-9].*?)(?:\s+until\s+(?P<until>.+))?",
    re.IGNORECASE,
)
_DISH = re.compile(r"(?P<name>[^:(]+?)\s*(?:\(\s*(?P<food>[^)]*?)\s*\))?\s*:\s*(?P<steps>.+)")
_DISH_MEND = (
    'write it like "green beans: prep 5 min, oven 12 min" or "chicken thighs (poultry_pieces): '
    'prep 4 min, oven 35 min until 75 °C, rest 5 min"'
)


def read_dish(line: str) -> FreshDish:
    """A dish from one line: its name, then what is done to it and how long.

    A word that is not prep, rest or finish is an appliance. A dish that has no finish gets one, so
    that it comes to the table.

    Raises:
        UnitError: with the mend, when the line says something else.
    """
    match = _DISH.fullmatch(clean_text(line))
    if match is None:
        raise UnitError(f"{quoted(line)} is no dish", _DISH_MEND)
    steps = [_read_step(part.strip(), match["name"]) for part in match["steps"].split(",")]
    if steps[-1].kind != "finish":
        steps.append(FreshStep("finish", "to the table", Duration(60)))
    return FreshDish(match["name"].strip(), tuple(steps), match["food"] or None)


def _read_step(part: str, dish: str) -> FreshStep:
    match = _PART.fullmatch(part)
    if match is None:
        raise UnitError(f"{quoted(part)} is no step of {quoted(dish)}", _DISH_MEND)
    time = Duration.parse(match["time"])
    until = Temperature.parse(match["until"]) if match["until"] else None
    word = match["word"].strip()
    kind = _WORDS.get(word.casefold())
    if kind is not None:
        if until is not None:
            raise UnitError(
                f"{quoted(part)}: only food on the heat is done by the probe", _DISH_MEND
            )
        return FreshStep(kind, kind, time)
    return FreshStep(
        "cook", f"into the {word}" if word == "oven" else f"on the {word}", time, word, until
    )


def read_appliance(line: str) -> FreshAppliance:
    """An appliance from one line: "oven: preheat 10 min, 200 °C, fan".

    Raises:
        UnitError: with the mend, when the line says something else.
    """
    name, _, rest = clean_text(line).partition(":")
    found = FreshAppliance(name.strip())
    if not found.name:
        raise UnitError(
            f"{quoted(line)} names no appliance", 'write it like "oven: preheat 10 min"'
        )
    preheat, temp, mode = found.preheat, found.temp, found.mode
    for part in (part.strip() for part in rest.split(",") if part.strip()):
        if part.casefold().startswith("preheat "):
            preheat = Duration.parse(part[8:])
        elif part[:1].isdigit():
            temp = Temperature.parse(part)
        else:
            mode = part
    return FreshAppliance(found.name, preheat, temp, mode)
