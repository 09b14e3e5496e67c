"""From a recipe to the beginning of a plan: what it gives is kept, what it lacks is said."""

import re
from collections.abc import Iterator

from passbell.export.recipe_in import RecipePart, RecipeStart, RecipeStep
from passbell.plan.fresh import FreshDish, FreshPlan, FreshStep
from passbell.plan.model import StepKind
from passbell.units import Duration, clean_text

UNSAID = Duration(300)
"""What stands where a recipe gives no time."""

MOST_DISHES, MOST_STEPS = 60, 40
"""No more than these are taken from one recipe; what is left out is said."""

_ON_A_BURNER = re.compile(
    r"\b(?:fry|saut|boil|simmer|steam|braise|poach|sear|stew|brown|blanch)", re.IGNORECASE
)


def plan_of_recipe(recipe: RecipeStart) -> FreshPlan:
    """The beginning of a plan: its parts become dishes, their instructions steps.

    Nothing is invented: where a time is missing a place for it is written, and the sentences of
    `missing` stand at the head of the plan.
    """
    left_out = [
        f"Only the first {most} {what} were taken."
        for most, what, count in (
            (MOST_DISHES, "parts", len(recipe.parts)),
            (MOST_STEPS, "steps of a part", max((len(p.steps) for p in recipe.parts), default=0)),
        )
        if count > most
    ]
    return FreshPlan(
        title=clean_text(recipe.title) or "untitled",
        serves=recipe.serves or 1,
        dishes=tuple(_dishes(recipe.parts[:MOST_DISHES])),
        ingredients=recipe.ingredients,
        notes=_notes(recipe),
        adapted_from=recipe.credit,
        open=(*recipe.missing, *left_out),
    )


def _notes(recipe: RecipeStart) -> str:
    """What the recipe says of itself, and the equipment it names."""
    tools = f"Equipment: {', '.join(recipe.tools)}." if recipe.tools else ""
    return "\n".join(part for part in (recipe.notes, tools) if part)


def _dishes(parts: tuple[RecipePart, ...]) -> Iterator[FreshDish]:
    names: set[str] = set()
    for part in parts:
        base = clean_text(part.name, 100) or "dish"
        name = next(n for n in _numbered(base) if n not in names)
        names.add(name)
        yield FreshDish(name, tuple(_steps(part.steps[:MOST_STEPS])), notes=part.notes)


def _numbered(base: str) -> Iterator[str]:
    yield base
    number = 2
    while True:
        yield f"{base} {number}"
        number += 1


def _steps(steps: tuple[RecipeStep, ...]) -> Iterator[FreshStep]:
    """The steps, each with a word that may stand where it stands; at the end a finish."""
    cooks = [place for place, step in enumerate(steps) if step.kind == "cook"]
    on, last = "oven", None
    for place, step in enumerate(steps):
        kind = _kind(step.kind, place, cooks)
        if step.kind == "cook":
            on = "burner" if _ON_A_BURNER.search(step.text) else "oven"
        text = clean_text(step.text) or "to be written"
        time = step.time or UNSAID
        yield FreshStep(kind, text, time, on if kind == "cook" else None, guessed=step.time is None)
        last = kind
    if last != "finish":
        yield FreshStep("finish", "to the table", Duration(60), guessed=not steps)


def _kind(kind: StepKind, place: int, cooks: list[int]) -> StepKind:
    """A prep after the heat is a finish; one between two times on the heat is done on it."""
    if not cooks or place < cooks[0]:
        return "prep" if kind == "finish" and cooks else kind
    if place > cooks[-1]:
        return "finish" if kind == "prep" else kind
    return "cook" if kind in ("prep", "finish") else kind
