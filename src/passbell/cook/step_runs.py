"""What the runs of a plan say of one of its steps: how long it took, how it turned out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from passbell.cook.account import ComponentAccount
from passbell.cook.compare import tolerance
from passbell.cook.kept import Kept
from passbell.plan.model import Component, Plan, Step

FAR = 2
"""In longer or shorter by more than the written time over this: that time was never tried (our own
judgement, no source)."""

LEAST_OFF = 60
"""In longer or shorter by no more than this, in seconds, is in for its time."""


@dataclass(frozen=True, slots=True)
class StepRuns:
    """A step in the runs that were cooked from the time it has now.

    Attributes:
        plan: as its file says now.
        where: the component's place, and the step's place in it.
        runs: the runs that speak about it, by their numbers.
        pace: of its appliance, by which its times are longer than written.
    """

    plan: Plan
    where: tuple[int, int]
    runs: tuple[tuple[int, ComponentAccount], ...]
    pace: float

    @property
    def component(self) -> Component:
        """Whose step it is."""
        return self.plan.components[self.where[0]]

    @property
    def step(self) -> Step:
        """The step, as written."""
        return self.component.steps[self.where[1]]

    @property
    def cooks(self) -> bool:
        """Whether it is the component's last time on the heat, which its score is of."""
        return self.step.kind == "cook" and self.where[1] == self.component.last_cook

    def times(self, runs: Sequence[tuple[int, ComponentAccount]]) -> list[int]:
        """How long it took, in seconds, in runs where it did; time without heat is not counted."""
        found = (account.steps[self.where[1]] for _, account in runs)
        return [step.time - step.off for step in found if step.time is not None]

    def planned(self, runs: Sequence[tuple[int, ComponentAccount]]) -> list[int]:
        """How long it was to take by the schedules of these runs, in seconds."""
        return [account.steps[self.where[1]].planned_time for _, account in runs]

    def scored(self, score: str) -> list[tuple[int, ComponentAccount]]:
        """The runs with this score, if the last run that has any score has it."""
        timed = [pair for pair in self.runs if pair[1].steps[self.where[1]].time is not None]
        said = [(run, account) for run, account in timed if account.score is not None]
        if not said or said[-1][1].score != score:
            return []
        return [(run, account) for run, account in said if account.score == score]

    def off_by(self, runs: Sequence[tuple[int, ComponentAccount]]) -> int:
        """How much longer than planned it was in, in the middle of these runs; 0: within bounds."""
        pairs = zip(self.times(runs), self.planned(runs), strict=True)
        off = int(median(took - planned for took, planned in pairs))
        return off if abs(off) > min(tolerance(self.step.time), LEAST_OFF) else 0

    def tried(
        self, runs: Sequence[tuple[int, ComponentAccount]]
    ) -> list[tuple[int, ComponentAccount]]:
        """Those of these runs in which it was in for something like its written time."""
        return [pair for pair in runs if abs(self.off_by([pair])) <= self.step.time / FAR]


def steps_of(plan: Plan, runs: tuple[Kept, ...], paces: dict[str, float]) -> Iterator[StepRuns]:
    """Every step of a plan, in file order, with the runs that speak about it."""
    for index, component in enumerate(plan.components):
        for place, step in enumerate(component.steps):
            speaking = _speaking(runs, component, place)
            yield StepRuns(plan, (index, place), speaking, paces.get(step.on or "", 1.0))


def _speaking(
    runs: tuple[Kept, ...], component: Component, place: int
) -> tuple[tuple[int, ComponentAccount], ...]:
    """The runs that were cooked from this very step, as it is written now.

    Pieces of another size say nothing of a time on the heat that was written for this one.
    """
    found = []
    name, step = component.name, component.steps[place]
    for kept in runs:
        account = kept.component(name)
        if account is None or account.skipped or place >= len(account.steps):
            continue
        cooked = next(c for c in kept.plan.components if c.name == name)
        written = cooked.steps[place]
        if step.kind == "cook" and _mm(cooked) != _mm(component):
            continue
        if (written.kind, written.time, written.on) == (step.kind, step.time, step.on):
            found.append((kept.source.run, account))
    return tuple(found)


def _mm(component: Component) -> float | None:
    """The size of its pieces, to the tenth of a millimetre."""
    return None if component.size is None else round(component.size.mm, 1)
