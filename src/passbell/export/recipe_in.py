"""A recipe in schema.org JSON-LD as the beginning of a plan, and what it leaves open.

The vocabulary gives no heat, no hands and no order of work, and most recipes give one time for
all; so what is read is names, amounts, instructions and the times that are given, and `missing`
says in sentences what only the cook can add.
"""

import re
from dataclasses import dataclass
from typing import Any

from passbell.export.recipe_json import (
    DEEPEST,
    MOST,
    Graph,
    Node,
    RecipeError,
    first_text,
    found_recipe,
    texts,
    types,
)
from passbell.plan.model import StepKind
from passbell.units import Amount, Duration, UnitError, quoted

__all__ = ["RecipeError", "RecipePart", "RecipeStart", "RecipeStep", "read_recipe"]

_KINDS: tuple[tuple[StepKind, str], ...] = (
    ("finish", r"serve|plate|garnish|dish up|finish|(?:take|remove)\b.*\b(?:off|out|from)\b"),
    ("rest", r"rest\b(?!\s+of)|stand\b|cool\b|chill|refrigerate|marinate|prove|proof"),
    (
        "cook",
        r"bake|roast|fry|saut[ée]|boil|simmer|grill|broil|steam|braise|poach|sear|stew|cook|"
        r"brown|toast|blanch|air.fry|oven",
    ),
)
_NUMBER = r"[0-9]+(?:[.,][0-9]+)?"
_IN_TEXT = re.compile(
    rf"({_NUMBER})(?:\s?(?:-|–|to|or)\s?({_NUMBER}))?[\s-]?"
    r"(hours?|hrs?|h|minutes?|mins?|seconds?|secs?)\b",
    re.IGNORECASE,
)
_NO_LENGTH_AFTER = re.compile(r"\s*(?:remain|left\b|before|earlier|later|to go\b|ahead|old\b)")
_NO_LENGTH_BEFORE = re.compile(r"\b(?:after|every|within|when)\s$", re.IGNORECASE)
_PEOPLE = re.compile(r"serv|people|person|portion|^\W*[0-9]+\W*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class RecipeStep:
    """One instruction.

    Attributes:
        text: as the recipe words it.
        time: how long it takes, where it is given or said in the text (of a range the longer
            end); None: not given.
        kind: which kind of step it sounds like, a guess by its words; for the cook to confirm.
    """

    text: str
    time: Duration | None
    kind: StepKind


@dataclass(frozen=True, slots=True)
class RecipePart:
    """One part of the recipe, to become a component.

    Attributes:
        name: the section's name; the recipe's where it has no sections.
        steps: its instructions, in order.
        notes: its tips.
    """

    name: str
    steps: tuple[RecipeStep, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RecipeStart:
    """A recipe as far as it can start a plan.

    Attributes:
        title: its name.
        serves: people it is for; None: not given.
        makes: its yield in words ("24 biscuits"); may be empty.
        ingredients: its ingredient lines, in order; they belong to the whole recipe.
        parts: its sections, at least one.
        tools: equipment it names.
        prep, cook, total: its overall times; None: not given.
        credit: where it comes from, by its own words (a publisher or an address); may be empty.
        notes: its description, and tips that stand in no part of their own; may be empty.
        missing: what the cook has to fill in, a sentence each, in the order of the plan file.
    """

    title: str
    serves: int | None
    makes: str
    ingredients: tuple[str, ...]
    parts: tuple[RecipePart, ...]
    tools: tuple[str, ...]
    prep: Duration | None
    cook: Duration | None
    total: Duration | None
    credit: str
    notes: str
    missing: tuple[str, ...]


def read_recipe(data: bytes) -> RecipeStart:
    """The recipe in the bytes of a JSON-LD file.

    Old spellings (`ingredients`, `steps`) are read too. Nothing is invented: what the file does
    not give is None or empty, and named in `missing`.

    Raises:
        RecipeError: with `what` and `mend`, when the file holds no recipe that can be read.
    """
    node, graph = found_recipe(data)
    faults: list[str] = []
    title = first_text(node.get("name") or node.get("headline"))
    makes = _makes(node)
    parts = _Reader(graph, faults).parts(node, title or "recipe")
    tips = [line for part in parts if not part.steps for line in part.notes]
    parts = tuple(part for part in parts if part.steps or not part.notes) or parts[:1]
    times = [_time(node.get(key), key, faults) for key in ("prepTime", "cookTime", "totalTime")]
    ingredients = _ingredients(node, graph)
    start = RecipeStart(
        title=title,
        serves=_serves(makes),
        makes=makes[0] if makes else "",
        ingredients=ingredients,
        parts=parts,
        tools=tuple(texts(graph.items(node.get("tool")))),
        prep=times[0],
        cook=times[1],
        total=times[2],
        credit=first_text(node.get("publisher")) or first_text(node.get("url")),
        notes="\n".join([*texts(node.get("description")), *tips]),
        missing=(),
    )
    return RecipeStart(**{**_fields(start), "missing": (*faults, *_missing(start))})


def _fields(start: RecipeStart) -> dict[str, Any]:
    return {name: getattr(start, name) for name in RecipeStart.__slots__}


def _makes(node: Node) -> list[str]:
    value = node.get("recipeYield", node.get("yield"))
    found = []
    for one in value if isinstance(value, list) else [value]:
        if isinstance(one, dict) and "value" in one:
            found.append(
                f"{first_text(one.get('value'))} {first_text(one.get('unitText'))}".strip()
            )
        else:
            found += texts(one)
    return sorted(found, key=lambda text: text.isdecimal())


def _serves(makes: list[str]) -> int | None:
    for text in makes:
        number = re.search(r"[0-9]+", text)
        if number and _PEOPLE.search(text) and 1 <= int(number[0][:6]) <= 1000:
            return int(number[0])
    return None


def _ingredients(node: Node, graph: Graph) -> tuple[str, ...]:
    listed = graph.items(node.get("recipeIngredient", node.get("ingredients", node.get("supply"))))
    return tuple(line for one in listed for line in _ingredient(one))


def _ingredient(value: object) -> list[str]:
    if not isinstance(value, dict):
        return texts(value)
    amount = value.get("requiredQuantity") or value.get("amount")
    if isinstance(amount, dict):
        amount = f"{first_text(amount.get('value'))} {first_text(amount.get('unitText'))}"
    line = f"{first_text(amount)} {first_text(value)}".strip()
    return [line] if line else []


class _Reader:
    """Opens the instructions of a recipe; `faults` gathers what is wrong on the way."""

    def __init__(self, graph: Graph, faults: list[str]) -> None:
        self._graph = graph
        self._faults = faults
        self._left = MOST

    def parts(self, node: Node, title: str) -> tuple[RecipePart, ...]:
        value = node.get("recipeInstructions", node.get("step", node.get("steps")))
        parts: list[RecipePart] = []
        loose: list[object] = []
        for one in self._graph.items(value):
            if isinstance(one, dict) and "HowToSection" in types(one):
                name = first_text(one.get("name")) or f"part {len(parts) + 1}"
                inside = self._inner(one)
                parts.append(self._part(name, inside or [dict(one, **{"@type": "HowToStep"})]))
            else:
                loose.append(one)
        if loose or not parts:
            parts.insert(0, self._part(title, loose))
        return tuple(parts)

    def _part(self, name: str, values: list[object]) -> RecipePart:
        steps: list[RecipeStep] = []
        notes: list[str] = []
        for value in values:
            self._gather(value, (steps, notes), ())
        return RecipePart(name, tuple(steps), tuple(notes))

    def _gather(
        self, value: object, into: tuple[list[RecipeStep], list[str]], above: tuple[object, ...]
    ) -> None:
        """The steps and tips of one instruction; a node that holds itself is opened once."""
        self._left -= 1
        if self._left < 0 or len(above) > DEEPEST or any(value is one for one in above):
            return
        if isinstance(value, dict) and "HowToTip" in types(value):
            into[1].extend(texts(value))
            return
        inner = self._inner(value)
        for one in inner:
            self._gather(one, into, (*above, value))
        if not inner:
            into[0].extend(self._steps(value))

    def _inner(self, value: object) -> list[object]:
        if not isinstance(value, dict):
            return []
        for key in ("itemListElement", "steps", "step", "item"):
            found = [v for v in self._graph.items(value.get(key)) if v is not value]
            if found:
                return found
        return []

    def _steps(self, value: object) -> list[RecipeStep]:
        """The instruction that a value holds; a text of several lines is several."""
        lines = texts(value)
        given = None
        if isinstance(value, dict) and lines:
            keys = ("performTime", "totalTime", "cookTime", "prepTime")
            key = next((k for k in keys if value.get(k)), "performTime")
            given = _time(value.get(key), key, self._faults)
        last = len(lines) - 1
        return [
            RecipeStep(line, given if given and n == last else said(line), _kind(line))
            for n, line in enumerate(lines)
        ]


def said(text: str) -> Duration | None:
    """The time said in an instruction ("bake for 20 to 25 minutes" is 25); None: none is.

    Several times are added only where they are parts of one ("1 hour 10 minutes"). One that says
    when ("after 20 minutes", "when 6 minutes remain") is no length.
    """
    total, end = 0.0, -1
    for match in _IN_TEXT.finditer(text):
        if end < 0 and _says_when(text, match):
            continue
        if end >= 0 and text[end : match.start()].strip(" ,") not in ("", "and"):
            break
        size = {"h": 3600, "m": 60, "s": 1}[match[3][0].lower()]
        total += float((match[2] or match[1]).replace(",", ".")[:9]) * size
        end = match.end()
    seconds = round(total)
    return Duration(seconds) if 0 < seconds <= 72 * 3600 else None


def _says_when(text: str, match: re.Match[str]) -> bool:
    more = _IN_TEXT.match(text, match.end() + 1)
    end = more.end() if more else match.end()
    before = _NO_LENGTH_BEFORE.search(text[: match.start()])
    return before is not None or _NO_LENGTH_AFTER.match(text, end) is not None


def _kind(text: str) -> StepKind:
    first = [(m.start(), kind) for kind, words in _KINDS if (m := _word(words, text))]
    return min(first)[1] if first else "prep"


def _word(words: str, text: str) -> re.Match[str] | None:
    return re.search(rf"\b(?:{words})", text, re.IGNORECASE)


def _time(value: object, key: str, faults: list[str]) -> Duration | None:
    """A duration that the recipe gives; one that says nothing ("PT") is told of."""
    text = first_text(value)
    if not text:
        return None
    try:
        found = Duration.parse(text)
    except UnitError:
        faults.append(f"`{key}` says {quoted(text)}, which is no time: write how long it takes.")
        return None
    return found or None


def _missing(start: RecipeStart) -> list[str]:
    """What only the cook can add, in the order of a plan file."""
    found = []
    if not start.title:
        found.append("The recipe has no name: give the plan a `title`.")
    if start.serves is None:
        makes = f" (the recipe says {quoted(start.makes)})" if start.makes else ""
        found.append(f"For how many people it is: `serves`{makes}.")
    if not start.ingredients:
        found.append("The recipe lists no ingredients.")
    bare = [line for line in start.ingredients if Amount.parse(line).low is None]
    if bare:
        found.append(f"No amount that can be scaled: {'; '.join(quoted(b) for b in bare[:8])}.")
    for part in start.parts:
        found += _part_missing(part)
    if any(step.kind == "cook" for part in start.parts for step in part.steps):
        found.append("Which appliance each cook step is `on`, with its preheat, mode and heat.")
    found.append(
        "Which `food` each component is, for its minimum temperature, and how many `pieces`."
    )
    return found


def _part_missing(part: RecipePart) -> list[str]:
    if not part.steps:
        return [f"{quoted(part.name)} has no instructions: write its steps."]
    return [
        f"How long {quoted(step.text)} takes (step {n} of {quoted(part.name)})."
        for n, step in enumerate(part.steps, 1)
        if step.time is None
    ]
