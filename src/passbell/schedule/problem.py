"""From a plan to the problem of its stagger: every default resolved, every ask placed."""

from itertools import combinations

from passbell.plan.model import Appliance, Component, Plan, Step
from passbell.schedule.model import Contradiction, Machine, Problem, Work
from passbell.schedule.offers import allowed_runs, asks, plain
from passbell.schedule.wording import listed, say_step, spell, step_name

Place = tuple[int, int]


def problem_of(plan: Plan, serve: int | None = None, now: int = 0) -> Problem:
    """The problem of a plan that nobody has begun to cook.

    Args:
        plan: the plan as written.
        serve: the wanted dish-up instant in seconds; None: as soon as possible.
        now: nothing starts before this instant, in seconds.

    Raises:
        Contradiction: when one step, or two steps on one appliance, ask for what cannot be.
    """
    for place in _places(plan):
        _check_place(plan, place)
    _check_heats(plan)
    return Problem(
        works=tuple(_works(plan, c) for c in range(len(plan.components))),
        holds=tuple(int(dish.hold) for dish in plan.components),
        machines=tuple(_machine(appliance) for appliance in plan.appliances),
        hands=plan.hands,
        serve=serve,
        now=now,
        names=tuple(dish.name for dish in plan.components),
    )


def _places(plan: Plan) -> list[Place]:
    return [(c, i) for c, dish in enumerate(plan.components) for i in range(len(dish.steps))]


def _machine(appliance: Appliance) -> Machine:
    stages = tuple(None if s.time is None else int(s.time) for s in appliance.stages)
    return Machine(
        name=appliance.name,
        preheat=int(appliance.preheat),
        holds=appliance.holds,
        stages=stages,
        stage_names=tuple(stage.name for stage in appliance.stages),
    )


def _works(plan: Plan, component: int) -> tuple[Work, ...]:
    dish = plan.components[component]
    return tuple(_work(plan, component, index) for index in range(len(dish.steps)))


def _work(plan: Plan, component: int, index: int) -> Work:
    dish, step = plan.components[component], plan.components[component].steps[index]
    cooks = step.kind == "cook"
    return Work(
        component=component,
        index=index,
        kind=step.kind,
        time=int(step.time),
        hands=int(step.hands_time),
        machine=plan.appliance_index(step.on or "") if cooks else None,
        runs=allowed_runs(plan, component, index) if cooks else (),
        gap_min=_gap_min(plan, dish, index),
        gap_max=_gap_max(dish, index),
        text=step.text,
        asks=asks(step) if step.mode or step.temp else "",
    )


def _gap_min(plan: Plan, dish: Component, index: int) -> int:
    """The slack after the last prep before a cook, else nothing."""
    if dish.steps[index].kind != "prep":
        return 0
    after = [step.kind for step in dish.steps[index + 1 :] if step.kind in ("prep", "cook")]
    return int(plan.slack) if after[:1] == ["cook"] else 0


def _gap_max(dish: Component, index: int) -> int | None:
    """The longest gap after a step: `keep`, its default, or None where any gap is allowed."""
    step, last, first = dish.steps[index], dish.last_cook, dish.first_cook
    if index == len(dish.steps) - 1 or (last is not None and index >= last):
        return None
    if step.keep is not None:
        return int(step.keep)
    if first is None or step.kind in ("prep", "finish"):
        return None
    return None if step.kind == "rest" and index < first else 0


def _check_place(plan: Plan, place: Place) -> None:
    dish, index = plan.components[place[0]], place[1]
    step, who = dish.steps[index], step_name(plan, *place)
    names = [appliance.name for appliance in plan.appliances]
    if step.kind == "cook" and step.on not in names:
        raise Contradiction(
            (who,),
            f"{say_step(dish, index)} cooks on {step.on or 'nothing'}, which the plan does not "
            "have.",
            f"Name an appliance of the plan: {listed(names)}.",
        )
    least, most = _gap_min(plan, dish, index), _gap_max(dish, index)
    if most is not None and most < least:
        raise Contradiction(
            (who, step_name(plan, place[0], index + 1)),
            f"{say_step(dish, index)} keeps only {spell(most)}, but the plan wants {spell(least)} "
            "of slack after it.",
            f"Let it keep {spell(least)}, or cut the slack to {spell(most)}.",
        )


def _check_heats(plan: Plan) -> None:
    """Refuse two heats at once on an appliance that has no stages to give them in turn."""
    for one, other in combinations([p for p in _places(plan) if _step(plan, p).on], 2):
        first, second = _step(plan, one), _step(plan, other)
        if one[0] == other[0] or first.on != second.on or _agree(first, second):
            continue
        machine = plan.appliances[plan.appliance_index(first.on or "")]
        if machine.stages or machine.holds == 1 or _by_one_pair(plan, first, second):
            continue
        here, there = plan.components[one[0]], plan.components[other[0]]
        raise Contradiction(
            (step_name(plan, *one), step_name(plan, *other)),
            f"{say_step(here, one[1])} asks {machine.name} for {asks(first)} and "
            f"{say_step(there, other[1])} for {asks(second)}, at once.",
            f"Let {there.name} take {asks(first)} with a time that suits it, or give "
            f"{machine.name} a stage for each.",
        )


def _by_one_pair(plan: Plan, *steps: Step) -> bool:
    """Whether the only pair of hands is at each of them throughout, so that none is with another's.

    Steps of no time at all may fall into another's.
    """
    return plan.hands == 1 and all(step.hands_time >= step.time > 0 for step in steps)


def _step(plan: Plan, place: Place) -> Step:
    return plan.components[place[0]].steps[place[1]]


def _agree(one: Step, other: Step) -> bool:
    modes = {plain(step.mode) for step in (one, other) if step.mode is not None}
    if one.temp is None or other.temp is None:
        return len(modes) < 2
    return len(modes) < 2 and one.temp.same_heat(other.temp)
