"""What is published: a meal as planned or as cooked, with one answer to when each thing happens."""

from dataclasses import dataclass, replace

from passbell.cook.account import Account, ComponentAccount, StepAccount, account
from passbell.cook.kept import Kept
from passbell.cook.state import CookState
from passbell.export.both import length
from passbell.plan.model import Plan


@dataclass(frozen=True, slots=True)
class Meal:
    """A meal to be published.

    Attributes:
        plan: the plan, its amounts as they are to be printed.
        account: as planned, and as cooked where there is a run.
        started_utc: wall clock at engine second 0, seconds since 1970-01-01 UTC.
        speed: seconds of the cook in one real second.
        offset: seconds of local time ahead of UTC.
        run: the number of the run whose figures these are; None: those of the plan.
        rehearsal: whether that run was a rehearsal.
        over: whether that run came to its end.
    """

    plan: Plan
    account: Account
    started_utc: float
    speed: float = 1.0
    offset: int = 0
    run: int | None = None
    rehearsal: bool = False
    over: bool = False

    def utc(self, at: int) -> float:
        """The wall clock at an engine instant, seconds since 1970-01-01 UTC."""
        return self.started_utc + at / self.speed

    def start(self, step: StepAccount) -> int:
        """When a step begins: as cooked, else as planned."""
        return step.start if step.start is not None else step.planned_start

    def end(self, step: StepAccount) -> int:
        """When a step ends: as cooked, else as planned."""
        return step.end if step.end is not None else step.planned_end

    @property
    def dish_up(self) -> int:
        """When it is on the table: as cooked, else as planned."""
        return self.account.served if self.account.served is not None else self.account.planned

    @property
    def components(self) -> tuple[tuple[int, ComponentAccount], ...]:
        """The components that were not left out, with their places in the plan."""
        return tuple((i, c) for i, c in enumerate(self.account.components) if not c.skipped)

    @property
    def sizes(self) -> str:
        """The sizes the times are for, as cooked where there is a run; empty: none is known."""
        named = [
            f"{c.name}: {length(c.size)} thick{'' if c.shape == 'slab' else f', {c.shape}'}"
            for c in (self.plan.components[i] for i, _ in self.components)
            if c.size is not None
        ]
        if not named:
            return ""
        cooked = self.run is not None and not self.rehearsal
        lead = "Cooked with pieces of" if cooked else "The times are for"
        return f"{lead} these sizes. {'; '.join(named)}."

    @property
    def figures(self) -> str:
        """Where the figures come from, in a sentence."""
        if self.run is None:
            return "The figures are those of the plan; no run stands behind them."
        kind = "a rehearsal, nothing was cooked" if self.rehearsal else "as cooked"
        unfinished = "" if self.over else ", not finished: what had not happened is as planned"
        return f"The figures are those of run {self.run} ({kind}{unfinished})."


def meal_of_plan(state: CookState, started_utc: float, offset: int = 0) -> Meal:
    """A meal with the figures of its plan.

    Args:
        state: a cook of it before its first act.
        started_utc: wall clock at engine second 0.
        offset: seconds of local time ahead of UTC.
    """
    return Meal(state.plan, account(state), started_utc, offset=offset)


def meal_of_run(kept: Kept) -> Meal:
    """A meal with the figures of a run."""
    source = kept.source
    return Meal(
        plan=kept.plan.model_copy(update={"chart": kept.account.chart or kept.plan.chart}),
        account=kept.account,
        started_utc=source.started_utc,
        speed=source.speed,
        offset=source.offset,
        run=source.run,
        rehearsal=source.rehearsal,
        over=kept.account.served is not None,
    )


def with_amounts(meal: Meal, plan: Plan) -> Meal:
    """The same meal with the servings and ingredient lines of a scaled plan.

    Args:
        meal: the meal.
        plan: the same plan scaled, its components in the same order.
    """
    pairs = zip(meal.plan.components, plan.components, strict=True)
    components = tuple(
        own.model_copy(update={"ingredients": other.ingredients, "pieces": other.pieces})
        for own, other in pairs
    )
    update = {"serves": plan.serves, "ingredients": plan.ingredients, "components": components}
    return replace(meal, plan=meal.plan.model_copy(update=update))
