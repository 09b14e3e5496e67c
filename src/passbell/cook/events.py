"""Events: what happened, each a small frozen fact. A fact is never refused.

`at` is the instant an event was recorded, in engine seconds. Acts carry `happened` too: food is in,
out or switched when the cook did it, which may be a little before she pressed the key.
"""

from typing import Annotated, Literal

from pydantic import Field, TypeAdapter

from passbell.cook.kitchen import Habit
from passbell.plan.model import ChartKey
from passbell.schedule.model import Schedule
from passbell.units import Frozen, Temperature


class Started(Frozen):
    """The cook began: its wanted dish-up instant (None: as soon as possible) and its schedule.

    `kitchen` is what the appliances of this kitchen made of the plan's times.
    """

    type: Literal["started"] = "started"
    at: int = 0
    serve: int | None = None
    chart: ChartKey = "us"
    scale: Literal["F", "C"] = "F"
    schedule: Schedule
    kitchen: tuple[Habit, ...] = ()


class Commanded(Frozen):
    """A command was accepted; the events after it, up to the next one, are what came of it."""

    type: Literal["commanded"] = "commanded"
    at: int
    number: int
    words: str


class Replanned(Frozen):
    """The rest was planned anew; None: looked again, nothing changed."""

    type: Literal["replanned"] = "replanned"
    at: int
    schedule: Schedule | None = None


class FellDue(Frozen):
    """A cue fell due, or came again after it was put off."""

    type: Literal["fell_due"] = "fell_due"
    at: int
    cue: str


class Withdrawn(Frozen):
    """A cue is no longer due: something moved it, or made it needless."""

    type: Literal["withdrawn"] = "withdrawn"
    at: int
    cue: str


class WasSeen(Frozen):
    """A cue was noticed: its sound stopped."""

    type: Literal["was_seen"] = "was_seen"
    at: int
    cue: str


class WasPutOff(Frozen):
    """A cue was put off until an instant."""

    type: Literal["was_put_off"] = "was_put_off"
    at: int
    cue: str
    until: int


class Acted(Frozen):
    """A cue was carried out. `due`: when it was due by the schedule of that moment."""

    type: Literal["acted"] = "acted"
    at: int
    cue: str
    happened: int
    due: int


class Backdated(Frozen):
    """The last act really happened earlier."""

    type: Literal["backdated"] = "backdated"
    at: int
    cue: str
    happened: int


class WentBack(Frozen):
    """Food that had been taken out is on the heat again: its cook step goes on."""

    type: Literal["went_back"] = "went_back"
    at: int
    component: int
    step: int


class RestEnded(Frozen):
    """A rest ended by the clock."""

    type: Literal["rest_ended"] = "rest_ended"
    at: int
    component: int
    step: int


class WentAway(Frozen):
    """Hands-on work stopped."""

    type: Literal["went_away"] = "went_away"
    at: int


class CameBack(Frozen):
    """Hands-on work goes on."""

    type: Literal["came_back"] = "came_back"
    at: int


class HeatStopped(Frozen):
    """The heat of these appliances stopped."""

    type: Literal["heat_stopped"] = "heat_stopped"
    at: int
    appliances: tuple[int, ...]


class HeatResumed(Frozen):
    """The heat of these appliances goes on."""

    type: Literal["heat_resumed"] = "heat_resumed"
    at: int
    appliances: tuple[int, ...]


class StageExtended(Frozen):
    """A stage lasts longer (or shorter)."""

    type: Literal["stage_extended"] = "stage_extended"
    at: int
    appliance: int
    stage: int
    by: int


class StepExtended(Frozen):
    """A step takes longer (or shorter)."""

    type: Literal["step_extended"] = "step_extended"
    at: int
    component: int
    step: int
    by: int


class PreheatDelayed(Frozen):
    """An appliance needs longer to be ready: not before `until`."""

    type: Literal["preheat_delayed"] = "preheat_delayed"
    at: int
    appliance: int
    until: int


class Dialled(Frozen):
    """An appliance's own display reads `seconds` at `at`."""

    type: Literal["dialled"] = "dialled"
    at: int
    appliance: int
    seconds: int


class KnobTurned(Frozen):
    """An appliance was set otherwise than the plan says; None: that part stayed as it was."""

    type: Literal["knob_turned"] = "knob_turned"
    at: int
    appliance: int
    temp: Temperature | None = None
    mode: str | None = None


class WasRead(Frozen):
    """A thermometer reading was taken; `off_heat`: the component was off the heat."""

    type: Literal["was_read"] = "was_read"
    at: int
    component: int
    place: str | None
    shown: float
    scale: Literal["F", "C"]
    off_heat: bool


class LookAgain(Frozen):
    """When to look or probe next: a step's next look."""

    type: Literal["look_again"] = "look_again"
    at: int
    component: int
    step: int
    look_at: int


class ActionMoved(Frozen):
    """An action on the way is done at another instant: `until`."""

    type: Literal["action_moved"] = "action_moved"
    at: int
    component: int
    step: int
    n: int
    until: int


class WasSkipped(Frozen):
    """A component was left out of the meal."""

    type: Literal["was_skipped"] = "was_skipped"
    at: int
    component: int


class ServeSet(Frozen):
    """The wanted dish-up instant changed."""

    type: Literal["serve_set"] = "serve_set"
    at: int
    serve: int | None


class Noted(Frozen):
    """A remark; `of` tells a flag of the program from a note of the cook."""

    type: Literal["noted"] = "noted"
    at: int
    text: str
    component: int | None = None
    of: Literal["cook", "program"] = "cook"


class Marked(Frozen):
    """A sync mark."""

    type: Literal["marked"] = "marked"
    at: int


class ChartSet(Frozen):
    """Another chart judges from now on."""

    type: Literal["chart_set"] = "chart_set"
    at: int
    chart: ChartKey


class IceSet(Frozen):
    """What the thermometer shows in ice water."""

    type: Literal["ice_set"] = "ice_set"
    at: int
    shown: Temperature


class TakenBack(Frozen):
    """A command was cancelled; what follows is the time since, lived again without it."""

    type: Literal["taken_back"] = "taken_back"
    at: int
    number: int


class Redone(Frozen):
    """A cancelled command holds again; what follows is the time since, lived again with it."""

    type: Literal["redone"] = "redone"
    at: int
    number: int


Event = (
    Started | Commanded | Replanned | FellDue | Withdrawn | WasSeen | WasPutOff | Acted | Backdated
    | WentBack | RestEnded | WentAway | CameBack | HeatStopped | HeatResumed | StageExtended
    | StepExtended | PreheatDelayed | Dialled | WasRead | LookAgain | ActionMoved | WasSkipped
    | ServeSet | Noted | Marked | ChartSet | IceSet | KnobTurned | TakenBack | Redone
)  # fmt: skip
"""Anything that can have happened."""

EVENTS: TypeAdapter[Event] = TypeAdapter(Annotated[Event, Field(discriminator="type")])
"""Reads and writes events as JSON."""
