"""What contradicts what, and what has to give, in sentences a cook understands."""

from collections.abc import Sequence
from dataclasses import replace

from passbell.schedule.crossed import TRY, crossed, say_crossed, uncrossed
from passbell.schedule.model import Contradiction, Problem, StepName, Stretch, Work
from passbell.schedule.relax import possible
from passbell.schedule.wording import dish_name, listed, say_work, spell

MANY = 14
"""With more components than this the ones that contradict each other are not singled out."""


def sentence(problem: Problem, stretch: Stretch) -> str:
    """A stretch of a live answer as a sentence."""
    if stretch.kind == "stage":
        machine, time = problem.machines[stretch.first], _stage_time(problem, stretch)
        stage = _stage_name(problem, stretch)
        return f"{machine.name}: {stage} goes on {spell(stretch.by)} longer than its {spell(time)}."
    work = problem.works[stretch.first][stretch.second]
    who, on = say_work(problem, work), _machine_name(problem, work)
    if stretch.kind == "keep":
        keep = spell(work.gap_max or 0)
        return f"{who} waits {spell(stretch.by)} longer than the {keep} it may keep."
    if stretch.kind == "window":
        return f"{who} cooks outside its own stages of {on}."
    return f"{who} still needs {on}, whose program has ended."


def contradiction(problem: Problem, found: Sequence[Stretch]) -> Contradiction:
    """The contradiction that some stretches would resolve.

    Args:
        problem: a settled problem without a schedule.
        found: the stretches that would leave it one.
    """
    core = _core(problem)
    names = [name for stretch in found for name in _involved(problem, stretch)]
    names += [_step_name(problem, work) for work in _rivals(problem, core)]
    said = [_clash(problem, stretch, core) for stretch in found[:3]]
    return Contradiction(tuple(dict.fromkeys(names)), " ".join(said), _mend(problem, found))


def _core(problem: Problem) -> list[int]:
    """The components that contradict each other: without any of them there is a schedule."""
    core = [c for c, chain in enumerate(problem.works) if chain]
    if len(core) > MANY:
        return []
    for component in core.copy():
        rest = [c for c in core if c != component]
        works = tuple(chain if c in rest else () for c, chain in enumerate(problem.works))
        if rest and not possible(replace(problem, works=works), {}, TRY):
            core = rest
    return core


def _rivals(problem: Problem, core: list[int]) -> list[Work]:
    """The steps of the core that take hands, or food that shares an appliance with the core."""
    cooking = [w.machine for c in core for w in problem.works[c] if w.machine is not None]
    shared = {machine for machine in cooking if cooking.count(machine) > 1}
    busy = [w for c in core for w in problem.works[c] if w.hands or w.machine in shared]
    return busy if len(core) > 1 else []


def _clash(problem: Problem, stretch: Stretch, core: list[int]) -> str:
    if stretch.kind == "stage":
        food = listed(say_work(problem, work) for work in _food(problem, stretch))
        time = _stage_time(problem, stretch)
        return (
            f"{_stage_name(problem, stretch)} of {problem.machines[stretch.first].name} lasts "
            f"{spell(time)}, but {food} need {spell(time + stretch.by)} of it."
        ).replace("the stage", "The stage", 1)
    chain = problem.works[stretch.first]
    work = chain[stretch.second]
    who, on = say_work(problem, work), _machine_name(problem, work)
    if stretch.kind == "keep":
        others = [dish_name(problem, c) for c in core if c != work.component]
        why = f", with {listed(others)} to be done as well" if others else ""
        return (
            f"After {who} at most {spell(work.gap_max or 0)} may pass, but "
            f"{say_work(problem, chain[stretch.second + 1])} can begin no sooner than "
            f"{spell((work.gap_max or 0) + stretch.by)} after it{why}."
        )
    if stretch.kind == "window":
        pair = crossed(problem, work)
        if pair is not None:
            return say_crossed(problem, pair)
        return f"{who} asks for a stage of {on} that its program has at another moment."
    return f"{who} still needs {on}, whose program has ended."


def _mend(problem: Problem, found: Sequence[Stretch]) -> str:
    changes = listed(dict.fromkeys(_change(problem, stretch, found) for stretch in found))
    more = replace(problem, hands=problem.hands + 1)
    helped = any(s.kind == "keep" for s in found) and possible(more, {}, TRY)
    tail = f", or have {problem.hands + 1} pairs of hands" if helped else ""
    return changes[:1].upper() + changes[1:] + tail + "."


def _change(problem: Problem, stretch: Stretch, found: Sequence[Stretch]) -> str:
    if stretch.kind == "stage":
        time = _stage_time(problem, stretch) + stretch.by
        return f"let {_stage_name(problem, stretch)} last {spell(time)}"
    work = problem.works[stretch.first][stretch.second]
    if stretch.kind == "keep":
        return f"let {say_work(problem, work)} keep {spell((work.gap_max or 0) + stretch.by)}"
    if stretch.kind == "window":
        others = [other for other in found if other != stretch]
        return uncrossed(problem, work, others) or (
            f"let {say_work(problem, work)} be in for other stages"
        )
    return f"switch {_machine_name(problem, work)} on again for {say_work(problem, work)}"


def _involved(problem: Problem, stretch: Stretch) -> list[StepName]:
    if stretch.kind == "stage":
        return [_step_name(problem, work) for work in _food(problem, stretch)]
    chain = problem.works[stretch.first]
    if stretch.kind == "keep":
        found = list(chain[stretch.second : stretch.second + 2])
    else:
        found = [w for w in chain if w.machine == chain[stretch.second].machine]
    return [_step_name(problem, work) for work in found]


def _food(problem: Problem, stretch: Stretch) -> list[Work]:
    """The steps that must be in a stage, or may be."""
    every = [w for chain in problem.works for w in chain if w.machine == stretch.first]
    only = [w for w in every if w.runs and all(a == b == stretch.second for a, b in w.runs)]
    return only or [w for w in every if any(a <= stretch.second <= b for a, b in w.runs)]


def _step_name(problem: Problem, work: Work) -> StepName:
    return StepName(dish_name(problem, work.component), work.index, work.text)


def _machine_name(problem: Problem, work: Work) -> str:
    return "" if work.machine is None else problem.machines[work.machine].name


def _stage_name(problem: Problem, stretch: Stretch) -> str:
    names = problem.machines[stretch.first].stage_names
    return f"the stage {names[stretch.second] if names else stretch.second + 1}"


def _stage_time(problem: Problem, stretch: Stretch) -> int:
    return problem.machines[stretch.first].stages[stretch.second] or 0
