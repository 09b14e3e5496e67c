"""Commands: what the cook says, each a small frozen message. A command may be refused."""

from typing import Annotated, Literal

from pydantic import Field, TypeAdapter

from passbell.plan.model import ChartKey
from passbell.units import Frozen, Temperature


class Done(Frozen):
    """The cue has been carried out, now."""

    do: Literal["done"] = "done"
    cue: str


class Earlier(Frozen):
    """The last Done really happened a minute earlier."""

    do: Literal["earlier"] = "earlier"


class PutOff(Frozen):
    """The cue again in `by` seconds."""

    do: Literal["put_off"] = "put_off"
    cue: str
    by: Annotated[int, Field(ge=1, le=3600)] = 60


class Seen(Frozen):
    """The cue has been noticed: its sound stops."""

    do: Literal["seen"] = "seen"
    cue: str


class Away(Frozen):
    """The cook leaves the kitchen: hands-on work stops."""

    do: Literal["away"] = "away"


class Back(Frozen):
    """The cook is back."""

    do: Literal["back"] = "back"


class HeatOff(Frozen):
    """The heat stopped: one appliance, or all of them with None."""

    do: Literal["heat_off"] = "heat_off"
    appliance: int | None = None


class HeatOn(Frozen):
    """The heat goes on: one appliance, or all that were stopped with None."""

    do: Literal["heat_on"] = "heat_on"
    appliance: int | None = None


class ExtendStage(Frozen):
    """The running stage of an appliance lasts `by` seconds more (fewer when negative)."""

    do: Literal["extend_stage"] = "extend_stage"
    appliance: int
    by: Annotated[int, Field(ge=-36000, le=36000)]


class ExtendStep(Frozen):
    """A component's step takes `by` seconds more (fewer when negative).

    `step` None means the running or the next one.
    """

    do: Literal["extend_step"] = "extend_step"
    component: int
    by: Annotated[int, Field(ge=-36000, le=36000)]
    step: Annotated[int, Field(ge=0)] | None = None


class NotReady(Frozen):
    """An appliance is not hot yet: ask again in `by` seconds."""

    do: Literal["not_ready"] = "not_ready"
    appliance: int
    by: Annotated[int, Field(ge=1, le=7200)] = 120


class Dial(Frozen):
    """An appliance's own display reads `seconds` now: typed in, it wins."""

    do: Literal["dial"] = "dial"
    appliance: int
    seconds: Annotated[int, Field(ge=0, le=72 * 3600)]


class SetHeat(Frozen):
    """An appliance was set otherwise than the plan says, until its next stage.

    None: that part stayed as it was.
    """

    do: Literal["set_heat"] = "set_heat"
    appliance: Annotated[int, Field(ge=0)]
    temp: Temperature | None = None
    mode: Annotated[str, Field(max_length=60)] | None = None


class TakeOut(Frozen):
    """A component came off the heat now, asked for or not."""

    do: Literal["take_out"] = "take_out"
    component: int


class PutBack(Frozen):
    """A component that had been taken out went back on the heat now."""

    do: Literal["put_back"] = "put_back"
    component: int


class Skip(Frozen):
    """A component is left out of this meal."""

    do: Literal["skip"] = "skip"
    component: int


class Probe(Frozen):
    """A thermometer reading of a component; `place` None fills the first unfilled one."""

    do: Literal["probe"] = "probe"
    component: int
    place: Annotated[str, Field(max_length=60)] | None = None
    shown: Annotated[float, Field(allow_inf_nan=False)]
    scale: Literal["F", "C"]


class ServeAt(Frozen):
    """Serve at this engine instant, or as soon as possible with None."""

    do: Literal["serve_at"] = "serve_at"
    at: Annotated[int, Field(ge=0, le=144 * 3600)] | None


class Note(Frozen):
    """A remark, about a component or the meal."""

    do: Literal["note"] = "note"
    text: Annotated[str, Field(min_length=1, max_length=400)]
    component: int | None = None


class Mark(Frozen):
    """A sync mark for a camera that has just been started."""

    do: Literal["mark"] = "mark"


class SetChart(Frozen):
    """Judge by another chart; readings already taken are judged again."""

    do: Literal["chart"] = "chart"
    chart: ChartKey


class SetIce(Frozen):
    """What the thermometer shows in ice water."""

    do: Literal["ice"] = "ice"
    shown: Temperature


class Several(Frozen):
    """Changes that are taken together, as one command: a change and a way out of it."""

    do: Literal["several"] = "several"
    commands: Annotated[
        tuple[ExtendStage | ExtendStep | PutOff | ServeAt, ...], Field(min_length=1)
    ]


class Together(Frozen):
    """These acts of one appliance are done at one instant, in one opening."""

    do: Literal["together"] = "together"
    cues: Annotated[tuple[str, ...], Field(min_length=1, max_length=40)]
    at: Annotated[int, Field(ge=0)]


class TakeBack(Frozen):
    """Cancel the latest command that is not cancelled."""

    do: Literal["take_back"] = "take_back"


class Redo(Frozen):
    """Take back the last take back."""

    do: Literal["redo"] = "redo"


Command = (
    Done | Earlier | PutOff | Seen | Away | Back | HeatOff | HeatOn | ExtendStage | ExtendStep
    | NotReady | Dial | TakeOut | PutBack | Skip | Probe | ServeAt | Note | Mark | SetChart | SetIce
    | SetHeat | Several | Together | TakeBack | Redo
)  # fmt: skip
"""Anything a cook can say."""

COMMANDS: TypeAdapter[Command] = TypeAdapter(Annotated[Command, Field(discriminator="do")])
"""Reads and writes commands as JSON."""
