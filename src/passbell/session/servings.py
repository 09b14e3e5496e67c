"""A plan for another number of people: its amounts scaled, its layer checked, the ways out."""

import re
from dataclasses import dataclass, replace

from passbell.cook.engine import begin
from passbell.cook.kitchen import Habit
from passbell.cook.layers import WayOut, too_much, ways_out
from passbell.plan.dump import plan_text
from passbell.plan.model import ChartKey
from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan
from passbell.plan.scaling import MOST, scaled
from passbell.planfiles import LoadedPlan
from passbell.units import MendableError, quoted

_ASKED = re.compile(r"(?:for\s+)?([0-9]{1,4})(?:\s*,?\s*way\s*([0-9]{1,2}))?", re.IGNORECASE)
_MEND = 'write "4" or "4 way 1"'


class ServingsError(MendableError):
    """A number of people, or a way out, that cannot be."""


@dataclass(frozen=True, slots=True)
class Servings:
    """A plan for so many people.

    Attributes:
        loaded: the plan and the text it is now; its file is the same.
        notes: what the cook must know of the amounts.
        full: what does not fit one layer; empty: everything does, or nothing says how large it is.
        ways: plans in which it does.
    """

    loaded: LoadedPlan
    notes: tuple[str, ...] = ()
    full: tuple[str, ...] = ()
    ways: tuple[WayOut, ...] = ()

    @property
    def told(self) -> tuple[str, ...]:
        """What is too much, and the ways out by number, a sentence each."""
        if not self.full:
            return ()
        ways = [f"way {n}: {way.text}" for n, way in enumerate(self.ways, 1)]
        none = "no way out was found: fewer people, a larger tray, or cook it twice"
        return (*self.full, *(ways or [none]))


def asked(text: str) -> tuple[int, int | None]:
    """How many people, and which way out, a typed answer asks for ("4", "4 way 1").

    Raises:
        ServingsError: when it says neither.
    """
    match = _ASKED.fullmatch(text.strip())
    if match is None:
        raise ServingsError(f"{quoted(text)} is no number of people", _MEND)
    return int(match[1]), int(match[2]) if match[2] else None


def for_people(
    loaded: LoadedPlan,
    serves: int | None,
    way: int | None = None,
    *,
    serve: int | None = None,
    chart: ChartKey | None = None,
    kitchen: tuple[Habit, ...] = (),
) -> Servings:
    """The plan for so many people, on the way chosen.

    Args:
        loaded: the plan as read from its file.
        serves: how many; None: as many as it says.
        way: number of the way out to take, counted from 1; None: none.
        serve: wanted dish-up in seconds from now; None: as soon as possible.
        chart: whose minimums apply; None: as the plan says.
        kitchen: what the appliances of this kitchen make of the plan's times.

    Raises:
        ServingsError: when there cannot be so many, or there is no such way.
        Contradiction: when no schedule can satisfy the plan.
    """
    count = loaded.plan.serves if serves is None else serves
    if not 1 <= count <= MOST:
        raise ServingsError(f"it cannot be for {count} people", f"1 to {MOST} can be")
    try:
        found = scaled(loaded.plan, loaded.text, count, loaded.file)
    except PlanError as error:
        raise ServingsError(str(error.problems[0]), "scale that line by hand") from None
    plan = found.plan
    judged = plan if chart is None else plan.model_copy(update={"chart": chart})
    state = begin(judged, serve, kitchen=kitchen).state
    full = too_much(state)
    made = Servings(replace(loaded, plan=plan, text=found.text), found.notes, full)
    if not full and way is None:
        return made
    made = replace(made, ways=ways_out(plan, state, serve, kitchen))
    return made if way is None else _taken(made, way, loaded)


def _taken(made: Servings, way: int, loaded: LoadedPlan) -> Servings:
    """The plan of a way, written out as a text of its own."""
    if not 1 <= way <= len(made.ways):
        there = f"there are {len(made.ways)}" if made.ways else "there is none"
        raise ServingsError(f"there is no way out {way}", there)
    chosen = made.ways[way - 1]
    words = f"for {chosen.plan.serves}: {chosen.text}"
    text = plan_text(chosen.plan, [f"Made from {loaded.file}", words])
    plan = read_plan(text, loaded.file)
    return Servings(replace(loaded, plan=plan, text=text), (*made.notes, chosen.text))
