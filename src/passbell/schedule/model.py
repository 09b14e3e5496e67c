"""The stagger as a problem and as an answer: plain frozen data, whole seconds from now or 0."""

from dataclasses import dataclass
from typing import Literal

from passbell.plan.model import StepKind


@dataclass(frozen=True, slots=True)
class Work:
    """One step as the solver sees it.

    Attributes:
        component, index: which step of which component, both from 0.
        kind: prep, cook, rest or finish.
        time: how long it takes, in seconds.
        hands: how long the cook is busy with it, from its start, in seconds.
        machine: index of the appliance of a cook step.
        runs: allowed runs of stages, each (first, last) inclusive; empty: the appliance has no
            stages, or it may be in any of them is written as one run over all.
        gap_min: shortest gap before the next step (slack), in seconds.
        gap_max: longest gap before the next step (keep), in seconds; None: any.
        release: it starts no earlier than this.
        began: the instant it really began; None: not yet.
        ended: the instant it really ended; None: not yet. A step that began and has not ended
            ends at began + time, or now where that has passed.
        text: its instruction, for messages.
        asks: the heat it asks of its appliance, for messages; empty: any.
    """

    component: int
    index: int
    kind: StepKind
    time: int
    hands: int
    machine: int | None = None
    runs: tuple[tuple[int, int], ...] = ()
    gap_min: int = 0
    gap_max: int | None = None
    release: int = 0
    began: int | None = None
    ended: int | None = None
    text: str = ""
    asks: str = ""


@dataclass(frozen=True, slots=True)
class Machine:
    """One appliance as the solver sees it.

    Attributes:
        name: as in the plan.
        preheat: from switching on to ready, in seconds.
        holds: how many components cook at once; None: any number.
        stages: time of each stage in seconds, None where it is as long as its food needs.
        on: the instant it was really switched on; None: not yet.
        bounds: the instants at which its stages really began (B0, B1, …), as far as they have.
        release: it is ready (its first stage, or its first food, begins) no earlier than this.
        over: whether its program has really ended (nothing more may cook on it).
        stage_names: the names of its stages, for messages.
    """

    name: str
    preheat: int = 0
    holds: int | None = None
    stages: tuple[int | None, ...] = ()
    on: int | None = None
    bounds: tuple[int, ...] = ()
    release: int = 0
    over: bool = False
    stage_names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Problem:
    """A meal to be scheduled, from the beginning or for what is left of it.

    Attributes:
        works: per component, its steps in order.
        holds: per component, how long it may wait after it is ready, in seconds.
        machines: the appliances, in plan order.
        hands: how many pairs of hands.
        serve: the wanted dish-up instant; None: as soon as possible.
        now: nothing that has not begun starts before this instant.
        names: the names of the components, for messages.
    """

    works: tuple[tuple[Work, ...], ...]
    holds: tuple[int, ...]
    machines: tuple[Machine, ...] = ()
    hands: int = 1
    serve: int | None = None
    now: int = 0
    names: tuple[str, ...] = ()


StretchKind = Literal["keep", "stage", "window", "over"]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A limit that what has happened makes impossible, and by how much an answer passes it.

    Attributes:
        kind: keep (the gap after a step is longer than its keep), stage (a stage lasts longer
            than its time), window (a step cooks in another stage than its own), over (a step
            cooks on an appliance whose program has ended).
        first: the component; of a stage, the machine.
        second: the index of the step; of a stage, its index.
        by: by how many seconds, for keep and stage; 0 for the others.
    """

    kind: StretchKind
    first: int
    second: int
    by: int = 0


@dataclass(frozen=True, slots=True)
class Schedule:
    """When everything starts and ends.

    Attributes:
        starts, ends: per component, per step, instants in seconds.
        on: per machine, the instant of switching on; None when nothing cooks on it.
        bounds: per machine, the stage boundaries B0 … BK; (first food in, last food out) of a
            machine without stages; empty when nothing cooks on it.
        dish_up: the dish-up instant T.
        over_hold: sum over components of the wait beyond their hold, in seconds.
        wait: sum of all waits, in seconds.
        start: the earliest start of anything, preheats included.
        late: by how much a wanted serving time is missed, in seconds.
        proven: whether no better answer exists.
        bound: how far from best the first figure that is not proven may be, in seconds.
        earlier: the dish-up instant of the earliest alternative where keeping within the holds
            costs more than five minutes; None elsewhere.
        spare: how long everything that has not begun may be put off, in this order of work,
            before dish-up moves, in seconds.
        relaxed: sentences that name the constraints which the past has made impossible and
            which this answer therefore stretches; empty in a fresh plan.
        stretched: the same, as data, in the same order.
    """

    starts: tuple[tuple[int, ...], ...]
    ends: tuple[tuple[int, ...], ...]
    on: tuple[int | None, ...]
    bounds: tuple[tuple[int, ...], ...]
    dish_up: int
    over_hold: int
    wait: int
    start: int
    late: int = 0
    proven: bool = True
    bound: int = 0
    earlier: int | None = None
    spare: int = 0
    relaxed: tuple[str, ...] = ()
    stretched: tuple[Stretch, ...] = ()


@dataclass(frozen=True, slots=True)
class StepName:
    """A step named for a message."""

    component: str
    index: int
    text: str


class Contradiction(ValueError):
    """A plan that no schedule can satisfy.

    Args:
        steps: the steps that contradict each other.
        text: what contradicts what, in a sentence a cook understands.
        mend: the smallest change that resolves it.
    """

    kind = "contradiction"

    def __init__(self, steps: tuple[StepName, ...], text: str, mend: str) -> None:
        super().__init__(f"{text} {mend}")
        self.steps = steps
        self.text = text
        self.mend = mend
