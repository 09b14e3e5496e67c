"""As planned and as cooked, side by side: the record of a cook, to the second."""

from dataclasses import dataclass
from typing import Literal

from passbell.cook.cards import ONE_OPENING
from passbell.cook.scores import SCORES, Score
from passbell.cook.state import ApplianceState, CookState, TakenReading
from passbell.cook.verdicts import has_minimum, verdict
from passbell.cook.waits import stood_too_long
from passbell.plan.model import Appliance, StepKind
from passbell.units import Temperature

Kind = Literal["change", "yield", "leftovers"]
LABELS: dict[Kind, str] = {
    "change": "next time: ",
    "yield": "yield: ",
    "leftovers": "leftovers: ",
}
"""How a line about the meal begins in the record; a later one of its kind stands for it."""

TURNED_OUT = "turned out: "
"""How the line about a component begins that says under, just right or over."""


@dataclass(frozen=True, slots=True)
class StepAccount:
    """One step as planned and as it went; instants in engine seconds.

    Attributes:
        kind, text: what it was.
        planned_start, planned_end: by the schedule at the start.
        start, end: as it went; None: it did not begin, or did not end.
        off: seconds its heat was off.
        on: the appliance; None: on none.
        extra: seconds the cook added to it or took off it.
    """

    kind: StepKind
    text: str
    planned_start: int
    planned_end: int
    start: int | None
    end: int | None
    off: int
    on: str | None = None
    extra: int = 0

    @property
    def planned_time(self) -> int:
        """How long it was to take, in seconds."""
        return self.planned_end - self.planned_start

    @property
    def time(self) -> int | None:
        """How long it took, in seconds."""
        return None if self.start is None or self.end is None else self.end - self.start


@dataclass(frozen=True, slots=True)
class ComponentAccount:
    """One component as planned and as it went.

    Attributes:
        name: as in the plan.
        skipped: whether it was left out.
        steps: in order.
        readings: those that hold, in the order they were taken.
        struck: those taken back.
        verdict: the verdict word in the end; empty where no chart has a figure for it.
        sentence: what the readings say.
        notes: notes of the cook and flags of the program about it; how it turned out is not
            among them.
        score: how the cook said it turned out; None: not said.
        doneness: the plan's words for when it is done; may be empty.
        opened: instants at which its appliance was opened while it was in, its own in and out
            included.
    """

    name: str
    skipped: bool
    steps: tuple[StepAccount, ...]
    readings: tuple[TakenReading, ...]
    struck: tuple[TakenReading, ...]
    verdict: str
    sentence: str
    notes: tuple[str, ...]
    score: Score | None = None
    doneness: str = ""
    opened: tuple[int, ...] = ()

    @property
    def cooked(self) -> tuple[StepAccount, ...]:
        """Its steps on the heat."""
        return tuple(step for step in self.steps if step.kind == "cook")

    @property
    def planned_in(self) -> int | None:
        """When it was to go on the heat; None: it has no heat."""
        return self.cooked[0].planned_start if self.cooked else None

    @property
    def planned_out(self) -> int | None:
        """When it was to leave the heat for good; None: it has no heat."""
        return self.cooked[-1].planned_end if self.cooked else None

    @property
    def went_in(self) -> int | None:
        """When it went on the heat; None: never."""
        return self.cooked[0].start if self.cooked else None

    @property
    def came_out(self) -> int | None:
        """When it left the heat for good; None: never."""
        return self.cooked[-1].end if self.cooked else None

    @property
    def heat_time(self) -> int | None:
        """Seconds from going in to leaving the heat for good; None: it did not do both."""
        if self.went_in is None or self.came_out is None:
            return None
        return self.came_out - self.went_in

    @property
    def planned_heat_time(self) -> int | None:
        """The same as planned at the start; None: it has no heat."""
        if self.planned_in is None or self.planned_out is None:
            return None
        return self.planned_out - self.planned_in


@dataclass(frozen=True, slots=True)
class Opening:
    """One opening of an appliance: acts there within a minute of its first.

    Attributes:
        appliance: its name.
        at: when it was opened.
        acts: what was done, in order: "carrots in", "chicken thighs: turn".
    """

    appliance: str
    at: int
    acts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ApplianceAccount:
    """An appliance as planned and as it went; instants in engine seconds, None: never.

    Attributes:
        name: as in the plan.
        preheat: how long it was to heat up, in seconds.
        planned_on, planned_ready: by the schedule at the start.
        on, ready, off: when it was switched on, was said to be hot, and was switched off.
        stage_extra: seconds the cook added to each stage or took off it.
    """

    name: str
    preheat: int
    planned_on: int | None
    planned_ready: int | None
    on: int | None
    ready: int | None
    off: int | None
    stage_extra: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Account:
    """A whole cook as planned and as it went.

    Attributes:
        title: the meal.
        planned, served: dish-up by the schedule at the start, and as it was; None: not yet.
        components: in file order.
        stages: per appliance with a program: (appliance, stage, planned start, start or None).
        notes: notes about the meal, those below left out.
        marks: instants of the sync marks.
        log: every command: (instant, words, whether it was taken back).
        serves: for how many.
        wanted: when the meal was wanted, by the last word on it; None: as soon as possible.
        chart: whose minimum temperatures judged.
        ice: what the thermometer showed in ice water; None: not checked.
        appliances: in plan order.
        openings: of every appliance, in the order of time.
        change, made, leftovers: one change for next time, the yield, what was left; may be empty.
    """

    title: str
    planned: int
    served: int | None
    components: tuple[ComponentAccount, ...]
    stages: tuple[tuple[str, str, int | None, int | None], ...]
    notes: tuple[str, ...]
    marks: tuple[int, ...]
    log: tuple[tuple[int, str, bool], ...]
    serves: int = 1
    wanted: int | None = None
    chart: str = ""
    ice: Temperature | None = None
    appliances: tuple[ApplianceAccount, ...] = ()
    openings: tuple[Opening, ...] = ()
    change: str = ""
    made: str = ""
    leftovers: str = ""


def account(state: CookState, openings: tuple[Opening, ...] = ()) -> Account:
    """The account of a cook so far.

    Args:
        state: where it stands.
        openings: of its appliances (`passbell.cook.openings`).
    """
    about = tuple(r.text for r in state.remarks if r.component is None)
    return Account(
        title=state.plan.title,
        planned=state.first.dish_up,
        served=state.served,
        components=tuple(_component(state, i, openings) for i in range(len(state.steps))),
        stages=tuple(_stages(state)),
        notes=tuple(text for text in about if not text.startswith(tuple(LABELS.values()))),
        marks=state.marks,
        log=tuple((line.at, line.words, line.cancelled) for line in state.log),
        serves=state.plan.serves,
        wanted=state.serve,
        chart=state.chart,
        ice=state.ice,
        appliances=tuple(_appliance(state, i) for i in range(len(state.appliances))),
        openings=openings,
        change=_latest(about, "change"),
        made=_latest(about, "yield"),
        leftovers=_latest(about, "leftovers"),
    )


def _latest(notes: tuple[str, ...], kind: Kind) -> str:
    texts = [text for text in notes if text.startswith(LABELS[kind])]
    return texts[-1].removeprefix(LABELS[kind]) if texts else ""


def _component(state: CookState, index: int, openings: tuple[Opening, ...]) -> ComponentAccount:
    plan = state.component(index)
    judged = verdict(state, index) if has_minimum(state, index) else None
    about = tuple(r.text for r in state.remarks if r.component == index)
    stood = stood_too_long(state, index)
    return ComponentAccount(
        name=plan.name,
        skipped=index in state.skipped,
        steps=tuple(_step(state, index, place) for place in range(len(plan.steps))),
        readings=tuple(r for r in state.readings if r.component == index),
        struck=tuple(r for r in state.struck if r.component == index),
        verdict=judged.verdict if judged is not None else "",
        sentence=judged.sentence if judged is not None else "",
        notes=(
            *(text for text in about if not text.startswith(TURNED_OUT)),
            *((stood,) if stood else ()),
        ),
        score=score_of(about),
        doneness=plan.doneness or "",
        opened=tuple(o.at for o in openings if _was_in(state, index, o)),
    )


def score_of(notes: tuple[str, ...]) -> Score | None:
    """How a component turned out by the notes about it; None: not said, or taken back."""
    said = [text.removeprefix(TURNED_OUT) for text in notes if text.startswith(TURNED_OUT)]
    return next((score for score in SCORES if said and score == said[-1]), None)


def _was_in(state: CookState, index: int, opening: Opening) -> bool:
    return any(
        step.on == opening.appliance
        and real.began is not None
        and real.began <= opening.at + ONE_OPENING
        and opening.at <= (real.ended if real.ended is not None else state.at)
        for step, real in zip(state.component(index).steps, state.steps[index], strict=True)
    )


def _step(state: CookState, component: int, index: int) -> StepAccount:
    plan, real = state.step(component, index)
    return StepAccount(
        kind=plan.kind,
        text=plan.text,
        planned_start=state.first.starts[component][index],
        planned_end=state.first.ends[component][index],
        start=real.began,
        end=real.ended,
        off=real.off,
        on=plan.on,
        extra=real.extra,
    )


def _appliance(state: CookState, index: int) -> ApplianceAccount:
    plan: Appliance = state.appliance(index)
    real: ApplianceState = state.appliances[index]
    bounds, on = state.first.bounds[index], state.first.on[index]
    return ApplianceAccount(
        name=plan.name,
        preheat=plan.preheat,
        planned_on=on,
        planned_ready=bounds[0] if bounds else None if on is None else on + plan.preheat,
        on=real.on,
        ready=real.ready,
        off=real.switched_off,
        stage_extra=real.stage_extra,
    )


def _stages(state: CookState) -> list[tuple[str, str, int | None, int | None]]:
    found = []
    for index, appliance in enumerate(state.plan.appliances):
        planned, real = state.first.bounds[index], state.appliances[index].stages
        for place, stage in enumerate(appliance.stages):
            found.append(
                (
                    appliance.name,
                    stage.name,
                    planned[place] if place < len(planned) else None,
                    real[place] if place < len(real) else None,
                )
            )
    return found
