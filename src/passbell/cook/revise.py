"""Changes to a plan that its runs ask for, each with its reason and its figures.

Only runs cooked from the figure that stands in the text now speak about it: what was said of an
older figure has been heard. How much to change by where nothing measured it (a tenth) is our own
judgement, no source. A probe temperature is never lowered and a rest never shortened.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from passbell.cook.account import ComponentAccount
from passbell.cook.compare import tolerance
from passbell.cook.kept import Kept
from passbell.cook.kitchen import Habit
from passbell.cook.lessons import probed_time, teaches
from passbell.cook.program import longer_stage
from passbell.cook.step_runs import LEAST_OFF, StepRuns, steps_of
from passbell.cook.wording import minutes, spoken
from passbell.plan.model import Plan, Step
from passbell.plan.problem import Path
from passbell.units import Duration

HALF = 30
"""Times are proposed to the half minute."""

TENTH = 10
"""A time that was wrong by nobody knows how much is changed by its tenth."""

HABIT = 2
"""So many runs make a habit of something nobody complained of."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One value of the plan file.

    Attributes:
        path: where it stands.
        value: its new value.
        change: what it changes, where the cook has to be told of it; may be empty.
    """

    path: Path
    value: Duration
    change: str = ""


@dataclass(frozen=True, slots=True)
class Proposal:
    """One change to a plan.

    Attributes:
        about: the component or appliance.
        change: what would be changed, in words.
        reason: why, with the figures.
        edits: what is to be written; the first is the change, the others follow from it.
        runs: the runs that speak for it.
    """

    about: str
    change: str
    reason: str
    edits: tuple[Edit, ...]
    runs: tuple[int, ...]

    @property
    def because(self) -> str:
        """The reason, with the runs it rests on."""
        return f"{self.reason} ({_runs(self.runs)})"

    @property
    def comment(self) -> str:
        """The change and its reason, for the file."""
        return f"{self.change}: {self.because}"


def proposals(
    plan: Plan, runs: tuple[Kept, ...], habits: tuple[Habit, ...] = ()
) -> tuple[Proposal, ...]:
    """What the runs of a plan ask for, in file order; nothing is changed by it.

    Args:
        plan: as its file says now, nothing put in.
        runs: of this plan, in any order; rehearsals do not count.
        habits: of the kitchen's appliances, where plans are cooked with them: their share of a
            time is not written into the plan as well.
    """
    real = tuple(kept for kept in runs if teaches(kept))
    paces = {habit.appliance: habit.pace for habit in habits}
    found = [p for look in steps_of(plan, real, paces) if (p := _of_step(look))]
    return (*found, *_of_stages(plan, real))


def _of_step(look: StepRuns) -> Proposal | None:
    if look.cooks:
        return _on_the_heat(look)
    return _hands_on(look) if look.step.kind in ("prep", "finish") else None


def unheard(plan: Plan, runs: tuple[Kept, ...]) -> tuple[str, ...]:
    """Words of the last runs that ask for no change, and why, a sentence a component.

    Food that was in so much longer or shorter than planned that its written time was never tried
    says nothing about that time.

    Args:
        plan: as its file says now, nothing put in.
        runs: of this plan, in any order; rehearsals do not count.
    """
    real = tuple(kept for kept in runs if teaches(kept))
    return tuple(text for look in steps_of(plan, real, {}) if (text := _unheard(look)))


def _unheard(look: StepRuns) -> str:
    for score in ("over", "under") if look.cooks else ():
        runs = look.scored(score)
        if runs and not look.tried(runs):
            said, time = _said(score, runs), minutes(look.step.time)
            return (
                f"{look.component.name}: {said} after {_took(look.times(runs))}, so its {time} "
                f"have not been tried: cook it to the plan first ({_runs(n for n, _ in runs)})"
            )
    return ""


def _on_the_heat(look: StepRuns) -> Proposal | None:
    """What the words of the last runs say about a time on the heat."""
    rules: tuple[Callable[[StepRuns], Proposal | None], ...] = (_over, _under, _right)
    return next((p for p in (rule(look) for rule in rules) if p is not None), None)


def _over(look: StepRuns) -> Proposal | None:
    runs = look.tried(look.scored("over"))
    if not runs:
        return None
    late = look.off_by(runs)
    if late > 0:
        new = look.step.time - late
        reason = f"{_said('over', runs)}, in {spoken(late)} longer than planned"
    else:
        new = look.step.time - _some(look.step.time)
        off = spoken(look.step.time - _rounded(new))
        reason = f"{_said('over', runs)} after {_took(look.times(runs))}, {off} taken off"
    return _time(look, new, reason, runs)


def _under(look: StepRuns) -> Proposal | None:
    runs = look.tried(look.scored("under"))
    if not runs:
        return None
    late = look.off_by(runs)
    if late < 0:
        new = look.step.time - late
        reason = f"{_said('under', runs)}, in {spoken(late)} shorter than planned"
    else:
        longest = max(look.step.time, int(median(look.times(runs)) / look.pace))
        new = longest + _some(longest)
        on = spoken(_rounded(new) - longest)
        reason = f"{_said('under', runs)} after {_took(look.times(runs))}, {on} added"
    return _time(look, new, reason, runs)


def _right(look: StepRuns) -> Proposal | None:
    """Just right, but not in the time that is written."""
    runs = look.scored("just right")
    times = look.times(runs)
    if not runs:
        runs, times = _probed(look)
    if not times:
        return None
    new = median(times) / look.pace
    if abs(new - look.step.time) <= tolerance(look.step.time):
        return None
    probed = runs[0][1].score is None
    said = f"done by the probe {_often(runs)}" if probed else _said("just right", runs)
    pace = ""
    if look.pace != 1:
        share = f"{abs(look.pace - 1) * 100:.0f} % {'slow' if look.pace > 1 else 'fast'}"
        pace = f", not counting that your {look.step.on} runs {share}"
    return _time(look, round(new), f"{said} after {_took(times)}{pace}", runs)


def _probed(look: StepRuns) -> tuple[list[tuple[int, ComponentAccount]], list[int]]:
    """The runs nobody gave a word on, and how long their readings say it took; none but a habit."""
    found = [
        (pair, probed_time(look.step, pair[1], pair[1].steps[look.where[1]]))
        for pair in look.runs
        if pair[1].score is None
    ]
    told = [(pair, time) for pair, time in found if time is not None]
    if len(told) < HABIT:
        return [], []
    return [pair for pair, _ in told], [time for _, time in told]


def _some(time: int) -> int:
    """What is taken off or added where nothing measured it: a tenth, or a minute of a short one."""
    return max(time // TENTH, min(60, time // 4))


def _rounded(seconds: int) -> Duration:
    return Duration(max(HALF, round(seconds / HALF) * HALF))


def _said(word: str, runs: Sequence[tuple[int, ComponentAccount]]) -> str:
    return f"{word} {_often(runs)}" if len(runs) > 1 else word


def _runs(numbers: Iterable[int]) -> str:
    found = list(numbers)
    return f"{'run' if len(found) == 1 else 'runs'} {', '.join(map(str, found))}"


def _often(runs: Sequence[object]) -> str:
    return {1: "once", 2: "twice"}.get(len(runs), f"{len(runs)} times")


def _took(times: list[int]) -> str:
    return minutes(int(median(times)))


def _hands_on(look: StepRuns) -> Proposal | None:
    """A prep or finish that takes another time than is written, as a habit."""
    times = look.times(look.runs)
    if len(times) < HABIT:
        return None
    new, old = int(median(times)), look.step.time
    if abs(new - old) <= max(60, old // 4) or min(times) < old < max(times):
        return None
    reason = f"it took {_took(times)}, {_often(times)}"
    return _time(look, new, reason, look.runs)


def _time(
    look: StepRuns, new: int, reason: str, runs: Sequence[tuple[int, ComponentAccount]]
) -> Proposal | None:
    """The proposal of another time for a step; None: it would be the same, or none at all."""
    step, place = look.step, look.where[1]
    time = _rounded(new)
    if time == step.time:
        return None
    path: Path = ("component", look.where[0], "steps", place)
    edits = (Edit((*path, "time"), time), *_following(step, path, time))
    name = look.component.name
    if step.kind == "cook":
        edits += (program := tuple(_program(look, time)))
        change = f"{name}: {time} on the heat instead of {step.time}{_left(look, time)}"
        change += "".join(f", {edit.change}" for edit in program)
    else:
        change = f"{name}, {step.text}: {time} instead of {step.time}"
    return Proposal(name, change, reason, edits, tuple(run for run, _ in runs))


def _left(look: StepRuns, time: Duration) -> str:
    """What the change means to the cook who adds it last: with so much left of the meal's heat."""
    others = [
        step.time
        for component in look.plan.components
        for step in component.steps
        if step.kind == "cook" and step.on == look.step.on
    ]
    if max(look.step.time, time) >= max(others):
        return ""
    return f" (in with {minutes(time)} left instead of {minutes(look.step.time)})"


def _program(look: StepRuns, time: Duration) -> Iterator[Edit]:
    """The stage that has to be longer, where the program does not last for the food."""
    found = longer_stage(look.plan, look.where, time)
    if found is not None:
        place, number, new = found
        machine = look.plan.appliances[place]
        stage = machine.stages[number]
        change = f"so {machine.name}, {stage.name}: {new} instead of {stage.time}"
        yield Edit(("appliance", place, "stage", number, "time"), new, change)


def _following(step: Step, path: Path, time: Duration) -> Iterator[Edit]:
    """What must not be longer than the time: the hands, the first look, what is done on the way."""
    if step.hands is not None and step.hands > time:
        yield Edit((*path, "hands"), time)
    if step.check is not None and step.check > time:
        yield Edit((*path, "check"), Duration(time * 4 // 5 // HALF * HALF))
    for n, action in enumerate(step.during):
        if action.at != "halfway" and action.at > time:
            at = Duration(int(action.at) * time // step.time // HALF * HALF)
            yield Edit((*path, "during", n, "at"), at)


def _of_stages(plan: Plan, runs: tuple[Kept, ...]) -> Iterator[Proposal]:
    """A stage that was made longer, or shorter, again and again."""
    for index, appliance in enumerate(plan.appliances):
        for place, stage in enumerate(appliance.stages):
            if stage.time is None:
                continue
            given = dict(_given(runs, appliance.name, place, stage.time))
            by = int(median(given.values())) if given else 0
            if (
                len(given) < HABIT
                or abs(by) < LEAST_OFF
                or len({g > 0 for g in given.values()}) > 1
            ):
                continue
            new = Duration(max(HALF, round((stage.time + by) / HALF) * HALF))
            word = "longer" if by > 0 else "shorter"
            yield Proposal(
                about=appliance.name,
                change=f"{appliance.name}, {stage.name}: {new} instead of {stage.time}",
                reason=f"made {spoken(by)} {word}, {_often(list(given))}",
                edits=(Edit(("appliance", index, "stage", place, "time"), new),),
                runs=tuple(given),
            )


def _given(
    runs: tuple[Kept, ...], name: str, place: int, time: Duration
) -> Iterator[tuple[int, int]]:
    """The runs that were cooked from this stage as it is written now, and what was given it."""
    for kept in runs:
        for plan, real in zip(kept.plan.appliances, kept.account.appliances, strict=True):
            stages = plan.stages[place : place + 1]
            if plan.name == name and stages and stages[0].time == time:
                yield kept.source.run, real.stage_extra[place]
