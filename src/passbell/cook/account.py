"""As planned and as cooked, side by side: the record of a cook, to the second."""

from dataclasses import dataclass

from passbell.cook.state import CookState, TakenReading
from passbell.cook.verdicts import has_minimum, verdict
from passbell.plan.model import StepKind


@dataclass(frozen=True, slots=True)
class StepAccount:
    """One step as planned and as it went; instants in engine seconds.

    Attributes:
        kind, text: what it was.
        planned_start, planned_end: by the schedule at the start.
        start, end: as it went; None: it did not begin, or did not end.
        off: seconds its heat was off.
    """

    kind: StepKind
    text: str
    planned_start: int
    planned_end: int
    start: int | None
    end: int | None
    off: int

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
        notes: notes of the cook and flags of the program about it.
    """

    name: str
    skipped: bool
    steps: tuple[StepAccount, ...]
    readings: tuple[TakenReading, ...]
    struck: tuple[TakenReading, ...]
    verdict: str
    sentence: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Account:
    """A whole cook as planned and as it went.

    Attributes:
        title: the meal.
        planned, served: dish-up by the schedule at the start, and as it was; None: not yet.
        components: in file order.
        stages: per appliance with a program: (appliance, stage, planned start, start or None).
        notes: notes about the meal.
        marks: instants of the sync marks.
        log: every command: (instant, words, whether it was taken back).
    """

    title: str
    planned: int
    served: int | None
    components: tuple[ComponentAccount, ...]
    stages: tuple[tuple[str, str, int | None, int | None], ...]
    notes: tuple[str, ...]
    marks: tuple[int, ...]
    log: tuple[tuple[int, str, bool], ...]


def account(state: CookState) -> Account:
    """The account of a cook so far."""
    return Account(
        title=state.plan.title,
        planned=state.first.dish_up,
        served=state.served,
        components=tuple(_component(state, i) for i in range(len(state.steps))),
        stages=tuple(_stages(state)),
        notes=tuple(r.text for r in state.remarks if r.component is None),
        marks=state.marks,
        log=tuple((line.at, line.words, line.cancelled) for line in state.log),
    )


def _component(state: CookState, index: int) -> ComponentAccount:
    plan = state.component(index)
    judged = verdict(state, index) if has_minimum(state, index) else None
    return ComponentAccount(
        name=plan.name,
        skipped=index in state.skipped,
        steps=tuple(_step(state, index, place) for place in range(len(plan.steps))),
        readings=tuple(r for r in state.readings if r.component == index),
        struck=tuple(r for r in state.struck if r.component == index),
        verdict=judged.verdict if judged is not None else "",
        sentence=judged.sentence if judged is not None else "",
        notes=tuple(r.text for r in state.remarks if r.component == index),
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
