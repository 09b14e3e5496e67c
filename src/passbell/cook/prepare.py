"""Make a plan ready to be cooked: the rest that the chart asks for is a step of its own."""

from passbell.plan.model import Component, Plan, Step
from passbell.safety.chart import chart_rows
from passbell.units import Duration


def prepared(plan: Plan) -> Plan:
    """The plan with the chart's safety rest in every component whose food asks for one.

    A rest after the last cook step lasts at least the safety rest; where there is none, one is
    put in. What the file says is otherwise untouched.
    """
    components = tuple(_rested(plan, c) for c in plan.components)
    return plan.model_copy(update={"components": components})


def _rested(plan: Plan, component: Component) -> Component:
    minutes = max((r.rest_min for r in chart_rows(component.food, plan.chart)), default=0)
    last = component.last_cook
    if not minutes or last is None:
        return component
    safety = Duration.minutes(minutes)
    steps = list(component.steps)
    following = last + 1
    if following < len(steps) and steps[following].kind == "rest":
        longer = Duration(max(steps[following].time, safety))
        steps[following] = steps[following].model_copy(update={"time": longer})
    else:
        rest = Step(kind="rest", text="rest before cutting: the chart asks for it", time=safety)
        steps.insert(following, rest)
    return component.model_copy(update={"steps": tuple(steps)})
