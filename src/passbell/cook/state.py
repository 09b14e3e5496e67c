"""The state of a cook: a fold of its events, frozen. Nothing here reads a clock."""

from dataclasses import dataclass, field
from typing import Literal

from passbell.cook.tables import Tables, tables_of
from passbell.heat import Turn
from passbell.plan.model import Appliance, ChartKey, Component, Plan, Step
from passbell.schedule.model import Problem, Schedule
from passbell.units import Temperature

ADDING = -1
"""Stands for the going in itself among the acts of a step that were moved."""

NEAR = 120
"""No act is moved further than this for the sake of one opening, in seconds."""


NO_DUES = frozenset({"at", "cues", "log", "commands", "past", "future", "last_act"})
"""While no time passes, the `dues` in the memo depend on none of these fields."""

NO_VERDICT = NO_DUES | {"schedule", "replanned", "serve", "away", "appliances", "closed"}
"""The verdicts in the memo, whose keys are pairs, depend on none of these fields."""


@dataclass(frozen=True, slots=True)
class StepState:
    """One step as it really goes.

    Attributes:
        began, began_noted: when it began, and when that was recorded; None: not yet.
        ended, ended_noted: the same for its end.
        extra: seconds added by the cook to its time.
        off: seconds the heat was off while it was in, as far as that is over.
        idle: seconds hands-on work stood still during it, as far as that is over.
        release: it is not to begin before this (put off).
        acted: which of its actions on the way are done.
        acted_at: when each of them was done: (action, instant).
        looks: instants at which the cook looked or probed.
        apart: from when to when its food was out and went back in.
        look_at: when to look next, where something said so; None: by the plan.
        moved: what is done at another instant: (which action on the way, or ADDING, when).
    """

    began: int | None = None
    began_noted: int | None = None
    ended: int | None = None
    ended_noted: int | None = None
    extra: int = 0
    off: int = 0
    idle: int = 0
    release: int = 0
    acted: frozenset[int] = frozenset()
    acted_at: tuple[tuple[int, int], ...] = ()
    looks: tuple[int, ...] = ()
    apart: tuple[tuple[int, int], ...] = ()
    look_at: int | None = None
    moved: tuple[tuple[int, int], ...] = ()

    @property
    def running(self) -> bool:
        """Whether it has begun and not ended."""
        return self.began is not None and self.ended is None


@dataclass(frozen=True, slots=True)
class ApplianceState:
    """One appliance as it really goes.

    Attributes:
        on: when it was switched on; None: not yet.
        ready: when the cook said it was hot; None: not yet.
        ready_from: not to be asked for before this ("not ready: two minutes more").
        stages: when each stage really began, as far as they have.
        stage_extra: seconds added by the cook, per stage.
        stage_off: seconds the heat was off, per stage, as far as that is over.
        stopped: since when its heat is off; None: it is not.
        dial: what its own display read at an instant (instant, seconds); None: nothing to read.
        dial_off: seconds the heat was off since that instant, as far as that is over.
        switched_off: when it was switched off for good; None: not yet.
        turns: what the cook turned besides the plan, oldest first.
        still: from when to when its heat was off, as far as that is over.
    """

    on: int | None = None
    ready: int | None = None
    ready_from: int = 0
    stages: tuple[int, ...] = ()
    stage_extra: tuple[int, ...] = ()
    stage_off: tuple[int, ...] = ()
    stopped: int | None = None
    dial: tuple[int, int] | None = None
    dial_off: int = 0
    switched_off: int | None = None
    turns: tuple[Turn, ...] = ()
    still: tuple[tuple[int, int], ...] = ()

    @property
    def stage(self) -> int | None:
        """The stage it is in, or None before the first and after the last."""
        return len(self.stages) - 1 if self.stages and self.switched_off is None else None


@dataclass(frozen=True, slots=True)
class CueState:
    """A cue that has fallen due and is not done.

    Attributes:
        since: when it first fell due.
        seen: whether its sound was stopped.
        until: put off until this instant; None: it is not.
    """

    since: int
    seen: bool = False
    until: int | None = None

    @property
    def standing(self) -> Literal["new", "seen", "put off"]:
        """Its state in one word."""
        return "put off" if self.until is not None else "seen" if self.seen else "new"


@dataclass(frozen=True, slots=True)
class TakenReading:
    """A reading as it was taken; `off_heat`: the component was off the heat."""

    component: int
    place: str | None
    shown: float
    scale: Literal["F", "C"]
    at: int
    off_heat: bool
    command: int = 0


@dataclass(frozen=True, slots=True)
class Remark:
    """A note of the cook, or a flag of the program."""

    at: int
    text: str
    component: int | None = None
    of: Literal["cook", "program"] = "cook"


@dataclass(frozen=True, slots=True)
class LogLine:
    """A command in the record; a cancelled one stays, struck out."""

    number: int
    at: int
    words: str
    cancelled: bool = False


@dataclass(frozen=True, slots=True)
class Act:
    """The last thing done, for *earlier*."""

    cue: str
    happened: int
    noted: int
    due: int


@dataclass(frozen=True)
class CookState:
    """Everything known of a cook.

    It has no slots, unlike its parts: `but` copies it once an event, and that is far quicker so.

    Attributes:
        plan: the plan it follows, safety rests included.
        problem: its stagger as it was before anything happened.
        tables: what is looked up again and again about the plan.
        at: instant of the last event.
        serve: wanted dish-up instant; None: as soon as possible.
        chart, scale, ice: whose minimums, the thermometer's unit, what it shows in ice water.
        charts_before: the charts that judged before this one: (until when, which).
        steps: per component, its steps.
        skipped: indices of components left out.
        appliances: in plan order.
        schedule: the answer for the rest as of the last replan.
        first: the schedule at the start ("as planned").
        replanned: when the rest was last planned.
        cues: cues that fell due and are not done, by id.
        closed: ids of cues that are done and leave no trace elsewhere.
        readings, struck: readings that hold, and those taken back.
        remarks, marks: notes and flags; sync marks.
        away: since when hands-on work stands still; None: it does not.
        last_act: the last thing done.
        commands: number of the last command.
        log: every accepted command.
        served: when the meal was dished up; None: not yet.
        past: the newest command that can be taken back and the state before it, whose own past
            holds the one before that: a day's take backs share all they have in common.
        future: the newest command taken back and the state that a redo returns to, likewise.
        memo: what has been worked out from this very state and from nothing else; kept where a
            change touches none of it.
    """

    plan: Plan
    problem: Problem = field(repr=False, compare=False)
    tables: Tables = field(repr=False, compare=False)
    at: int
    serve: int | None
    chart: ChartKey
    scale: Literal["F", "C"]
    steps: tuple[tuple[StepState, ...], ...]
    appliances: tuple[ApplianceState, ...]
    schedule: Schedule
    first: Schedule
    replanned: int = 0
    ice: Temperature | None = None
    charts_before: tuple[tuple[int, ChartKey], ...] = ()
    skipped: frozenset[int] = frozenset()
    cues: tuple[tuple[str, CueState], ...] = ()
    closed: frozenset[str] = frozenset()
    readings: tuple[TakenReading, ...] = ()
    struck: tuple[TakenReading, ...] = ()
    remarks: tuple[Remark, ...] = ()
    marks: tuple[int, ...] = ()
    away: int | None = None
    last_act: Act | None = None
    commands: int = 0
    log: tuple[LogLine, ...] = ()
    served: int | None = None
    past: tuple[int, "CookState"] | None = field(default=None, repr=False, compare=False)
    future: tuple[int, "CookState"] | None = field(default=None, repr=False, compare=False)
    memo: dict[object, object] = field(default_factory=dict, init=False, repr=False, compare=False)

    def but(self, **changes: object) -> "CookState":
        """The state with some of its fields changed."""
        new = object.__new__(CookState)
        fields = new.__dict__
        fields.update(self.__dict__)
        fields.update(changes)
        fields["memo"] = self._kept(changes)
        return new

    def bare(self) -> "CookState":
        """The same state without what has been worked out from it."""
        new = object.__new__(CookState)
        new.__dict__.update(self.__dict__)
        new.__dict__["memo"] = {}
        return new

    def _kept(self, changes: dict[str, object]) -> dict[object, object]:
        """What has been worked out that these changes leave as it is."""
        if not self.memo or not changes.keys() <= NO_VERDICT:
            return {}
        still = changes.keys() <= NO_DUES and changes.get("at", self.at) == self.at
        return {k: known for k, known in self.memo.items() if isinstance(k, tuple) or
                (still and k == "dues")}  # fmt: skip

    def component(self, index: int) -> Component:
        """The component at an index."""
        return self.plan.components[index]

    def appliance(self, index: int) -> Appliance:
        """The appliance at an index."""
        return self.plan.appliances[index]

    def step(self, component: int, index: int) -> tuple[Step, StepState]:
        """A step as planned and as it really goes."""
        return self.plan.components[component].steps[index], self.steps[component][index]

    def current(self, component: int) -> int | None:
        """Index of the first step that has not ended; None: all have."""
        for index, step in enumerate(self.steps[component]):
            if step.ended is None:
                return index
        return None

    def cue(self, cue: str) -> CueState | None:
        """What is known of a cue that fell due and is not done."""
        return dict(self.cues).get(cue)

    def with_step(self, component: int, index: int, new: StepState) -> "CookState":
        """The state with one step replaced."""
        row = self.steps[component]
        row = (*row[:index], new, *row[index + 1 :])
        steps = (*self.steps[:component], row, *self.steps[component + 1 :])
        return self.but(steps=steps)

    def with_appliance(self, index: int, new: ApplianceState) -> "CookState":
        """The state with one appliance replaced."""
        row = (*self.appliances[:index], new, *self.appliances[index + 1 :])
        return self.but(appliances=row)

    def with_cue(self, cue: str, new: CueState | None) -> "CookState":
        """The state with one cue replaced, or gone with None."""
        return self.but(cues=self.cues_with(cue, new))

    def cues_with(self, cue: str, new: CueState | None) -> tuple[tuple[str, CueState], ...]:
        """The cues with one replaced, or gone with None."""
        table = dict(self.cues)
        if new is None:
            table.pop(cue, None)
        else:
            table[cue] = new
        return tuple(table.items())


def first_state(plan: Plan, problem: Problem, serve: int | None, schedule: Schedule) -> CookState:
    """The state at the start: nothing has happened, everything is planned."""
    return CookState(
        plan=plan,
        problem=problem,
        tables=tables_of(plan, plan.chart),
        at=0,
        serve=serve,
        chart=plan.chart,
        scale="F",
        steps=tuple(tuple(StepState() for _ in c.steps) for c in plan.components),
        appliances=tuple(
            ApplianceState(stage_extra=(0,) * len(a.stages), stage_off=(0,) * len(a.stages))
            for a in plan.appliances
        ),
        schedule=schedule,
        first=schedule,
    )
