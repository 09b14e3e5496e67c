"""A cook as it is kept: its account, with the plan and the text it was cooked from."""

from dataclasses import dataclass

from passbell.cook.account import Account, ComponentAccount
from passbell.cook.kitchen import Habit
from passbell.plan.model import Plan


@dataclass(frozen=True, slots=True)
class Source:
    """Where a run comes from.

    Attributes:
        run: its number in the record.
        plan_file: the file of its plan, as it was named then; it may be gone.
        plan_text: the whole text it was cooked from.
        version: the program that wrote it.
        started_utc: wall clock at engine second 0, seconds since 1970-01-01 UTC.
        offset: seconds of local time ahead of UTC at the start.
        speed: seconds of the cook in one real second.
        rehearsal: whether nothing real was cooked.
        state: open, finished or abandoned.
    """

    run: int
    plan_file: str
    plan_text: str
    version: str
    started_utc: float
    offset: int
    speed: float
    rehearsal: bool
    state: str

    def utc(self, at: int) -> float:
        """The wall clock at an engine instant, seconds since 1970-01-01 UTC."""
        return self.started_utc + at / self.speed


@dataclass(frozen=True, slots=True)
class Kept:
    """One run, as planned and as cooked, to the second.

    Attributes:
        source: where it comes from.
        plan: the plan as its text says, the chart's rests put in.
        kitchen: what the appliances of the kitchen made of its times when it was cooked.
        account: what was planned and what happened.
        lost: how many entries of it were lost to damage.
    """

    source: Source
    plan: Plan
    account: Account
    kitchen: tuple[Habit, ...] = ()
    lost: int = 0

    def component(self, name: str) -> ComponentAccount | None:
        """The account of a component; None: this run had none of that name."""
        return next((c for c in self.account.components if c.name == name), None)
