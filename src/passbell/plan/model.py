"""The plan as a cook wrote it: one meal, its appliances and its components. Frozen."""

from typing import Annotated, Any, Literal, Self

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    PlainSerializer,
    PlainValidator,
    TypeAdapter,
    model_validator,
)
from pydantic_core import PydanticCustomError

from passbell.units import (
    Area,
    ClockTime,
    Duration,
    Frozen,
    Length,
    Temperature,
    clean_paragraphs,
    clean_text,
)

StepKind = Literal["prep", "cook", "rest", "finish"]
STEP_KINDS: tuple[StepKind, ...] = ("prep", "cook", "rest", "finish")
ChartKey = Literal["us", "canada", "uk", "australia", "strictest"]
Shape = Literal["slab", "cylinder", "sphere"]


LONGEST_LINE, LONGEST_NOTES = 400, 4000
"""The longest line of text and the longest free text of a plan, in characters."""


def _wrong(what: str, mend: str) -> PydanticCustomError:
    return PydanticCustomError("unit", "{what}; {mend}", {"what": what, "mend": mend})


def _bounded(cleaned: str, longest: int) -> str:
    if not cleaned:
        raise _wrong("it is empty", "write a word, or leave it out")
    if len(cleaned) > longest:
        raise _wrong(f"it is longer than {longest} characters", "say it in fewer words")
    return cleaned


def _words(text: str) -> str:
    return _bounded(clean_text(text, LONGEST_LINE + 1), LONGEST_LINE)


def _notes(text: str) -> str:
    return _bounded(clean_paragraphs(text, LONGEST_NOTES + 1), LONGEST_NOTES)


def _listed(value: object) -> object:
    return (value,) if isinstance(value, str) else value


_DURATION: TypeAdapter[Duration] = TypeAdapter(Duration)


def _moment(value: object) -> Duration | Literal["halfway"]:
    """One error instead of the two that a union of pydantic gives."""
    return "halfway" if value == "halfway" else _DURATION.validate_python(value)


Words = Annotated[str, AfterValidator(_words)]
"""A line of text, cleaned, never empty."""

Notes = Annotated[str, AfterValidator(_notes)]
"""Free text, cleaned, never empty; its paragraphs stay apart by line ends."""

Names = Annotated[tuple[Words, ...], BeforeValidator(_listed)]
"""One name or a list of names."""

Moment = Annotated[
    Duration | Literal["halfway"], PlainValidator(_moment), PlainSerializer(str, return_type=str)
]
"""A time from going in, or "halfway"."""


class During(Frozen):
    """Something to do on the way through a cook step.

    Attributes:
        at: time from going in, heat-off time left out, or "halfway".
        do: the instruction.
    """

    at: Moment
    do: Words


class Step(Frozen):
    """One step of a component.

    Attributes:
        kind: prep (before the heat), cook, rest (off the heat) or finish (after the heat).
        text: the instruction, the value of the kind's word in the file.
        time: how long it takes; the expected time when `until` ends it.
        on: the appliance of a cook step.
        temp: the oven temperature this food asks for.
        mode: the mode this food asks for.
        stage: first and last stage of the appliance it may be in; empty: any of them.
        hands: how long the cook is busy from its start; None: the default of its kind.
        keep: the longest gap before the next step; None: the default of its kind.
        during: actions on the way.
        until: the probe temperature that ends it.
        check: when to look or probe first, from its start; None: the default.
    """

    kind: StepKind
    text: Words
    time: Duration
    on: Words | None = None
    temp: Temperature | None = None
    mode: Words | None = None
    stage: Names = ()
    hands: Duration | None = None
    keep: Duration | None = None
    during: tuple[During, ...] = ()
    until: Temperature | None = None
    check: Duration | None = None

    @model_validator(mode="before")
    @classmethod
    def _first_word(cls, data: Any) -> Any:
        """Turn `{ prep = "peel", … }` into kind and text."""
        if not isinstance(data, dict) or "kind" in data:
            return data
        found = [kind for kind in STEP_KINDS if kind in data]
        if len(found) != 1:
            has = f", this one has {' and '.join(found)}" if found else ""
            what = f"a step has exactly one of prep, cook, rest and finish{has}"
            raise _wrong(what, 'begin it like { prep = "peel", time = "6 min" }')
        rest = {key: value for key, value in data.items() if key != found[0]}
        return rest | {"kind": found[0], "text": data[found[0]]}

    @property
    def hands_time(self) -> Duration:
        """How long the cook is busy: as written, else all of a prep or finish, none else."""
        if self.hands is not None:
            return self.hands
        return self.time if self.kind in ("prep", "finish") else Duration(0)

    @property
    def first_look(self) -> Duration | None:
        """When to look first, from its start: as written, else 4/5 of `time` with `until`."""
        if self.check is not None or self.until is None:
            return self.check
        return Duration(int(self.time * 4 // 5 // 30 * 30))


class Stage(Frozen):
    """One stage of an appliance's program.

    Attributes:
        name: unique within its appliance.
        mode: any words, such as "convection roast".
        temp: the set temperature.
        time: how long it lasts exactly; None: as long as its food needs.
        spare: extra time dialled in so that the appliance does not switch itself off.
    """

    name: Words
    mode: Words | None = None
    temp: Temperature | None = None
    time: Duration | None = None
    spare: Duration = Duration(0)


class Appliance(Frozen):
    """An oven, a burner, a grill.

    Attributes:
        name: unique.
        preheat: from switching on to ready.
        holds: how many components cook on it at once; None: any number.
        tray: the area of its tray.
        door: whether its own clock runs or stops while its door is open.
        stages: its program, in order; empty: simply on while food is on it.
    """

    name: Words
    preheat: Duration = Duration(0)
    holds: Annotated[int, Field(ge=1, le=200, strict=True)] | None = None
    tray: Area | None = None
    door: Literal["runs", "stops"] = "runs"
    stages: tuple[Stage, ...] = Field(default=(), alias="stage")


class Component(Frozen):
    """One dish or part of one: its steps in order.

    Attributes:
        name: unique.
        ingredients: lines in recipe style.
        food: keys of the temperature chart; empty: no food named.
        area: tray space of all of it.
        piece: tray space of one of its `pieces`, with the air left around it.
        shares: name of the tray it lies on.
        size: thickness or diameter the times were tested with.
        shape: slab, cylinder or sphere.
        pieces: how many pieces have to be probed.
        place: where on the tray.
        hold: how long it may wait, hot, after it is ready.
        doneness: in words.
        reckoned: from what its times were reckoned (another size or setting) instead of tested;
            None: they were tested as they stand.
        steps: in order, at least one.
    """

    name: Words
    ingredients: tuple[Words, ...] = ()
    food: Names = ()
    area: Area | None = None
    piece: Area | None = None
    shares: Words | None = None
    size: Length | None = None
    shape: Shape = "slab"
    pieces: Annotated[int, Field(ge=1, le=200, strict=True)] = 1
    place: Words | None = None
    hold: Duration = Duration(600)
    doneness: Words | None = None
    reckoned: Words | None = None
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]

    @property
    def last_cook(self) -> int | None:
        """Index of its last cook step, or None in a component without heat."""
        found = [i for i, step in enumerate(self.steps) if step.kind == "cook"]
        return found[-1] if found else None

    @property
    def first_cook(self) -> int | None:
        """Index of its first cook step, or None in a component without heat."""
        found = [i for i, step in enumerate(self.steps) if step.kind == "cook"]
        return found[0] if found else None


class Plan(Frozen):
    """One meal.

    Attributes:
        title: its name.
        serves: people, 1 or more.
        serve_at: when it is on the table; None: as soon as possible.
        hands: how many people do hands-on work.
        slack: every prep of food that is then cooked ends at least this long before its next step.
        chart: whose minimum temperatures apply.
        ingredients: lines shared by several components.
        call: when to call people, before serving.
        notes, adapted_from: free text, of several lines; credit of a source.
        appliances, components: in file order.
    """

    title: Words
    serves: Annotated[int, Field(ge=1, le=1000, strict=True)]
    serve_at: ClockTime | None = None
    hands: Annotated[int, Field(ge=1, le=20, strict=True)] = 1
    slack: Duration = Duration(0)
    chart: ChartKey = "us"
    ingredients: tuple[Words, ...] = ()
    call: Duration = Duration(600)
    notes: Notes | None = None
    adapted_from: Notes | None = None
    appliances: tuple[Appliance, ...] = Field(default=(), alias="appliance")
    components: Annotated[tuple[Component, ...], Field(min_length=1, alias="component")]

    def appliance_index(self, name: str) -> int:
        """Place of an appliance in file order.

        Raises:
            KeyError: when the plan has none of that name.
        """
        for index, appliance in enumerate(self.appliances):
            if appliance.name == name:
                return index
        raise KeyError(name)

    @classmethod
    def of(cls, data: dict[str, Any]) -> Self:
        """A plan from plain data shaped like the file.

        Raises:
            pydantic.ValidationError: when a value does not fit.
        """
        return cls.model_validate(data)
