"""A plan as it is cooked today: other sizes, another mode; its file stays as it is written."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from passbell.cook.other_mode import changed_mode, read_wish
from passbell.cook.own_times import OwnTimes
from passbell.cook.sizes import Today, TodayError, component_named, resized
from passbell.plan.model import Plan
from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan
from passbell.plan.write import set_values
from passbell.planfiles import LoadedPlan
from passbell.units import Length, UnitError, clean_text

MEND = "write the component and its size, such as chicken=38mm"


def read_size(plan: Plan, text: str) -> tuple[int, Length]:
    """The component and the size of "chicken=38mm".

    Raises:
        TodayError: when it names no component, or no size.
    """
    name, _, size = text.partition("=")
    if not name.strip() or not size.strip():
        raise TodayError(f"“{clean_text(text)}” is no size of a component", MEND)
    try:
        return component_named(plan, name), Length.parse(size)
    except UnitError as error:
        raise TodayError(error.what, error.mend) from None


def of_sizes(
    loaded: LoadedPlan, sizes: Mapping[int, Length], own: OwnTimes | None = None
) -> tuple[LoadedPlan, tuple[str, ...]]:
    """The plan with pieces of other sizes, and what is to be said of it.

    Args:
        loaded: the plan as read from its file.
        sizes: the sizes today, by component.
        own: what the cook's own runs say of other sizes.

    Raises:
        TodayError: when one of them cannot be.
    """
    notes: tuple[str, ...] = ()
    for component, size in sizes.items():
        loaded, told = changed(loaded, resized(loaded.plan, component, size, own))
        notes = (*notes, *told)
    return loaded, notes


def of_modes(loaded: LoadedPlan, wishes: Sequence[str]) -> tuple[LoadedPlan, tuple[str, ...]]:
    """The plan in other modes, "chicken=bake 375 F by model" each, and what is to be said of it.

    Raises:
        TodayError: when one of them cannot be, or it is not said by what to reckon.
    """
    notes: tuple[str, ...] = ()
    for text in wishes:
        loaded, told = changed(loaded, changed_mode(loaded.plan, read_wish(loaded.plan, text)))
        notes = (*notes, *told)
    return loaded, notes


def changed(loaded: LoadedPlan, today: Today) -> tuple[LoadedPlan, Sequence[str]]:
    """The plan with the values of today in its text.

    Raises:
        TodayError: when they do not make a plan.
    """
    try:
        text = set_values(loaded.text, today.changes)
        plan = read_plan(text, loaded.file)
    except (PlanError, KeyError) as error:
        raise TodayError("with that the plan cannot be read", str(error)) from None
    return replace(loaded, plan=plan, text=text), today.notes
