"""Two steps of one dish that ask for stages in another order than the program has them."""

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from passbell.schedule.model import Problem, Stretch, Work
from passbell.schedule.net import Limit
from passbell.schedule.relax import Care, possible
from passbell.schedule.wording import listed, say_work

TRY = Care(400)
"""Effort for each question that only makes a message clearer."""


class Crossed(NamedTuple):
    """The step that comes first, and the later one whose stages are over before those of the first.

    Attributes:
        first, second: in the order of the dish.
    """

    first: Work
    second: Work


def crossed(problem: Problem, work: Work) -> Crossed | None:
    """The pair of steps that keeps a step out of its stages; None: there is no such pair.

    Args:
        problem: a settled problem.
        work: a step that is outside its stages in every schedule.
    """
    same = [w for w in problem.works[work.component] if w.machine == work.machine and w.runs]
    pairs = [Crossed(*sorted((work, other), key=lambda w: w.index)) for other in same]
    return next((pair for pair in pairs if _begins(pair.first) > _ends(pair.second)), None)


def say_crossed(problem: Problem, pair: Crossed) -> str:
    """What the two ask for, in which stage, and that the one is over before the other begins."""
    first, second = pair
    names = _names(problem, first)
    over, then = names[_ends(second)], names[_begins(first)]
    return (
        f"{say_work(problem, second)} {_wants(problem, second)}; {say_work(problem, first)} comes "
        f"before it and {_wants(problem, first)}, and {over} is over before {then} begins."
    )


def uncrossed(problem: Problem, work: Work, others: Sequence[Stretch]) -> str:
    """The changes of which each gives a step its stages; empty: none of them does.

    Args:
        problem: a settled problem without a schedule.
        work: a step that is outside its stages in every schedule.
        others: what else has to give.
    """
    pair = crossed(problem, work)
    if pair is None:
        return ""
    amounts = {Limit(s.kind, s.first, s.second): s.by for s in others if s.kind != "over"}
    found = []
    if possible(_other_way_round(problem, pair), amounts, TRY):
        first, second = (say_work(problem, step) for step in pair)
        found.append(f"let {second} come before {first}")
    if possible(_with_a_stage(problem, pair), amounts, TRY):
        found.append(_further_stage(problem, pair.second))
    return ", or ".join(found)


def _other_way_round(problem: Problem, pair: Crossed) -> Problem:
    """The two change places; what may pass after a step before the last on the heat is nothing."""
    first, second = pair
    chain = list(problem.works[first.component])
    keep = 0 if second.gap_max is None else second.gap_max
    chain[first.index] = replace(second, index=first.index, gap_max=keep)
    keeps = None if second.gap_max is None else first.gap_max
    chain[second.index] = replace(first, index=second.index, gap_max=keeps)
    return _with_chain(problem, chain)


def _with_a_stage(problem: Problem, pair: Crossed) -> Problem:
    """The program has one more stage, as long as it has to be, which the second may be in."""
    machine, second = pair.second.machine, pair.second
    assert machine is not None, "a step with stages is on an appliance"
    it = problem.machines[machine]
    chain = list(problem.works[second.component])
    further = len(it.stages)
    chain[second.index] = replace(second, runs=((further, further),))
    more = replace(it, stages=(*it.stages, None))
    machines = (*problem.machines[:machine], more, *problem.machines[machine + 1 :])
    return replace(_with_chain(problem, chain), machines=machines)


def _with_chain(problem: Problem, chain: list[Work]) -> Problem:
    place = chain[0].component
    works = (*problem.works[:place], tuple(chain), *problem.works[place + 1 :])
    return replace(problem, works=works)


def _further_stage(problem: Problem, work: Work) -> str:
    names = _names(problem, work)
    like = f"with {work.asks}" if work.asks else f"like {listed(_places(names, work))}"
    return f"give {_oven(problem, work)} a further stage {like} after {names[-1]}"


def _wants(problem: Problem, work: Work) -> str:
    """What a step asks for, and the only stages that give it that."""
    name, places = _oven(problem, work), listed(_places(_names(problem, work), work))
    if work.asks:
        return f"asks for {work.asks}, which {name} has for it in {places} only"
    return f"may be in {places} of {name} only"


def _oven(problem: Problem, work: Work) -> str:
    assert work.machine is not None, "a step with stages is on an appliance"
    return problem.machines[work.machine].name


def _names(problem: Problem, work: Work) -> list[str]:
    """The names of the stages of its appliance."""
    assert work.machine is not None, "a step with stages is on an appliance"
    it = problem.machines[work.machine]
    names = it.stage_names or tuple(str(stage + 1) for stage in range(len(it.stages)))
    return [f"the stage {name}" for name in names]


def _places(names: list[str], work: Work) -> list[str]:
    return [name for stage, name in enumerate(names) if any(a <= stage <= b for a, b in work.runs)]


def _begins(work: Work) -> int:
    return min(a for a, _ in work.runs)


def _ends(work: Work) -> int:
    return max(b for _, b in work.runs)
