"""Sentences about steps and times, shared by every message of this room."""

from collections.abc import Iterable

from passbell.plan.model import Component, Plan
from passbell.schedule.model import Problem, StepName, Work
from passbell.units import Duration


def spell(seconds: int) -> str:
    """A length of time in words, such as "1 h 20 min"."""
    return str(Duration(max(0, seconds)))


def listed(words: Iterable[str]) -> str:
    """Words joined as in speech: "a", "a and b", "a, b and c"."""
    *head, tail = list(words) or ["nothing"]
    return f"{', '.join(head)} and {tail}" if head else tail


def step_name(plan: Plan, component: int, index: int) -> StepName:
    """A step of a plan, named."""
    dish = plan.components[component]
    return StepName(dish.name, index, dish.steps[index].text)


def say_step(dish: Component, index: int) -> str:
    """A step in a sentence: its component and its instruction."""
    return f"{dish.name} (“{dish.steps[index].text}”)"


def dish_name(problem: Problem, component: int) -> str:
    """The name of a component of a problem."""
    return problem.names[component] if problem.names else f"component {component + 1}"


def say_work(problem: Problem, work: Work) -> str:
    """A step of a problem in a sentence: its component and its instruction."""
    return f"{dish_name(problem, work.component)} (“{work.text or work.kind}”)"
