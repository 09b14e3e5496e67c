"""Which stages of an appliance a cook step may be in."""

from itertools import groupby

from passbell.plan.model import Appliance, Component, Plan, Stage, Step
from passbell.schedule.model import Contradiction, StepName
from passbell.schedule.wording import listed, say_step, spell, step_name
from passbell.units import Temperature

Runs = tuple[tuple[int, int], ...]


def allowed_runs(plan: Plan, component: int, index: int) -> Runs:
    """The runs of stages that a cook step may be in, each (first, last), in program order.

    Empty for an appliance without stages.

    Raises:
        Contradiction: when no stage offers the temperature and the mode the step asks for, when
            its stage is not in the program, or when every stage it may be in is too short.
    """
    dish, step = plan.components[component], plan.components[component].steps[index]
    machine = plan.appliances[plan.appliance_index(step.on or "")]
    if not machine.stages:
        return ()
    who = step_name(plan, component, index)
    first, last = _window(machine, step, who)
    fitting = [k for k in range(first, last + 1) if offers(machine.stages[k], step)]
    if not fitting:
        raise _not_offered(machine, dish, index, (first, last))
    runs = _runs(fitting)
    long_enough = tuple(run for run in runs if _lasts(machine, run, step.time))
    if not long_enough:
        raise _too_short(machine, dish, index, runs)
    return long_enough


def offers(stage: Stage, step: Step) -> bool:
    """Whether a stage has the temperature and the mode that a step asks for."""
    if step.mode is not None and plain(stage.mode) != plain(step.mode):
        return False
    if step.temp is None:
        return True
    return stage.temp is not None and stage.temp.same_heat(step.temp)


def plain(mode: str | None) -> str:
    """A mode without its capitals and extra blanks, for comparison."""
    return " ".join((mode or "").casefold().split())


def asks(step: Step) -> str:
    """What a step asks of its appliance, in words: "convection roast at 200 °C"."""
    return _heat_words(step.mode, step.temp) or "any heat"


def _runs(stages: list[int]) -> Runs:
    groups = groupby(enumerate(stages), key=lambda pair: pair[1] - pair[0])
    found = [[stage for _, stage in group] for _, group in groups]
    return tuple((run[0], run[-1]) for run in found)


def _window(machine: Appliance, step: Step, who: StepName) -> tuple[int, int]:
    if not step.stage:
        return 0, len(machine.stages) - 1
    names = [stage.name for stage in machine.stages]
    missing = [name for name in step.stage if name not in names]
    if missing:
        raise Contradiction(
            (who,),
            f"{who.component} (“{who.text}”) names the stage {missing[0]}, which {machine.name} "
            "does not have.",
            f"Name one of its stages: {listed(names)}.",
        )
    first, last = names.index(step.stage[0]), names.index(step.stage[-1])
    if first > last or len(step.stage) > 2:
        raise Contradiction(
            (who,),
            f"{who.component} (“{who.text}”) names its stages in another order than the program "
            f"of {machine.name} has them.",
            f"Write the first and the last stage in this order: {listed(names)}.",
        )
    return first, last


def _lasts(machine: Appliance, run: tuple[int, int], time: int) -> bool:
    times = [stage.time for stage in machine.stages[run[0] : run[1] + 1]]
    return any(t is None for t in times) or sum(t or 0 for t in times) >= time


def _not_offered(
    machine: Appliance, dish: Component, index: int, window: tuple[int, int]
) -> Contradiction:
    stages = machine.stages[window[0] : window[1] + 1]
    had = listed(f"{stage.name} ({_heat(stage)})" for stage in stages)
    step = dish.steps[index]
    return Contradiction(
        (StepName(dish.name, index, step.text),),
        f"{say_step(dish, index)} asks for {asks(step)}, but {machine.name} offers it only {had}.",
        f"Give {machine.name} a stage with {asks(step)}, or let {dish.name} take "
        f"{_heat(stages[0])} with a time that suits it.",
    )


def _heat(stage: Stage) -> str:
    return _heat_words(stage.mode, stage.temp) or "no heat written"


def _heat_words(mode: str | None, temp: Temperature | None) -> str:
    return f"{mode} at {temp}" if mode and temp else mode or (str(temp) if temp else "")


def _too_short(machine: Appliance, dish: Component, index: int, runs: Runs) -> Contradiction:
    def length(run: tuple[int, int]) -> int:
        return sum(stage.time or 0 for stage in machine.stages[run[0] : run[1] + 1])

    best, step = max(runs, key=length), dish.steps[index]
    names = listed(stage.name for stage in machine.stages[best[0] : best[1] + 1])
    return Contradiction(
        (StepName(dish.name, index, step.text),),
        f"{say_step(dish, index)} takes {spell(step.time)}, but {machine.name} gives it only "
        f"{spell(length(best))} ({names}).",
        f"Lengthen {names} by {spell(step.time - length(best))}, or let {dish.name} be in for "
        "more stages.",
    )
