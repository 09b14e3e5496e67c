"""A plan for another number of people: the factor method on its amounts, its times untouched."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from passbell.plan.model import Component, Plan
from passbell.plan.problem import Path
from passbell.plan.read import read_plan
from passbell.plan.write import Value, set_values
from passbell.units import quoted, scaled_line

MOST = 1000
"""The most people a plan may be for."""

PLANT = ("plant",)


@dataclass(frozen=True, slots=True)
class Scaled:
    """A plan for another number of people.

    Attributes:
        plan: what its text says now.
        text: the plan's text with its amounts changed; comments, order and spacing stay.
        notes: what the cook must know, sentences; empty where nothing was changed.
    """

    plan: Plan
    text: str
    notes: tuple[str, ...] = ()


def scaled(plan: Plan, text: str, serves: int, file: str = "the plan") -> Scaled:
    """The plan for so many people.

    Amounts, tray areas and pieces to probe grow by the factor (new servings over old); times do
    not: they hold while everything lies in one layer, in pieces of the size the plan gives.

    Args:
        plan: the plan as read.
        text: its text.
        serves: people, 1 to `MOST`.
        file: what to call it in messages.

    Raises:
        ValueError: when there cannot be so many people.
        PlanError: when the changed text is no plan (a line grew too long).
    """
    if not 1 <= serves <= MOST:
        raise ValueError(f"a plan serves 1 to {MOST} people, not {serves}")
    if serves == plan.serves:
        return Scaled(plan, text)
    factor = Fraction(serves, plan.serves)
    changes: dict[Path, Value] = {("serves",): serves, **_lines(plan, factor)}
    for index, component in enumerate(plan.components):
        if component.area is not None:
            changes[("component", index, "area")] = component.area.times(factor)
        if (pieces := _pieces(component, factor)) != component.pieces:
            changes[("component", index, "pieces")] = pieces
    changed = set_values(text, changes)
    return Scaled(read_plan(changed, file), changed, tuple(_notes(plan, serves)))


def _lines(plan: Plan, factor: Fraction) -> dict[Path, Value]:
    rows: list[tuple[Path, str]] = [(("ingredients", n), t) for n, t in enumerate(plan.ingredients)]
    for index, component in enumerate(plan.components):
        path: Path = ("component", index, "ingredients")
        rows += [((*path, n), line) for n, line in enumerate(component.ingredients)]
    found = {path: scaled_line(line, factor) for path, line in rows}
    return {path: line for path, line in found.items() if line is not None}


def _pieces(component: Component, factor: Fraction) -> int:
    """Pieces to probe or to lay: never fewer than there can be, so that none is missed."""
    if component.piece is None and not _is_probed(component):
        return component.pieces
    return min(200, max(1, ceil(component.pieces * factor)))


def _is_probed(component: Component) -> bool:
    return bool(component.food) and component.food != PLANT


def _notes(plan: Plan, serves: int) -> Iterator[str]:
    factor = Fraction(serves, plan.serves)
    yield (
        f"Amounts are for {serves} instead of {plan.serves}. The times are the plan's: they hold "
        "while it lies in one layer, in pieces of the size the plan gives; preparing more takes "
        "longer."
    )
    lines = [*plan.ingredients, *(line for c in plan.components for line in c.ingredients)]
    bare = [quoted(line) for line in lines if scaled_line(line, factor) is None]
    if bare:
        yield f"No amount to scale in {', '.join(bare[:6])}."
    for component in plan.components:
        pieces = _pieces(component, factor)
        if pieces != component.pieces:
            what = "piece" if pieces == 1 else "pieces"
            what += " to probe" if _is_probed(component) else ""
            yield f"{component.name}: {pieces} {what} instead of {component.pieces}."
            if component.pieces == 1 and _is_probed(component):
                yield (
                    f"{component.name}: if it is one bigger piece, it takes longer than the plan "
                    "says; its thermometer decides."
                )
