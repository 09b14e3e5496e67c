"""The odds of a meal: many cooks of it, and how many are on time."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from passbell.cook.state import CookState
from passbell.odds.hand import LONGEST, Hand, Lead
from passbell.odds.luck import OURS, Luck, Spread

WITHIN = 300
"""A meal up to so many seconds after the wanted time is on time."""


@dataclass(frozen=True, slots=True)
class Draws:
    """Which cooks are made up, and how much in them varies.

    Attributes:
        seed: the same seed gives the same cooks.
        runs: how many.
        spread: the distributions.
    """

    seed: int = 1
    runs: int = 200
    spread: Spread = OURS


@dataclass(frozen=True, slots=True)
class Odds:
    """How the cooks ended.

    Attributes:
        wanted: when the meal is wanted, in engine seconds.
        served: when each was dished up, in the order of the runs.
    """

    wanted: int
    served: tuple[int, ...]

    @property
    def chance(self) -> float:
        """The share of cooks dished up no later than `WITHIN` after the wanted time."""
        return sum(at <= self.wanted + WITHIN for at in self.served) / max(1, len(self.served))

    @property
    def error(self) -> float:
        """Standard error of the chance: what other seeds would make of it."""
        return sqrt(self.chance * (1 - self.chance) / max(1, len(self.served)))

    @property
    def late_90(self) -> int:
        """Nine cooks of ten are no later than this after the wanted time, in seconds."""
        ordered = sorted(self.served)
        return max(0, ordered[-(-len(ordered) * 9 // 10) - 1] - self.wanted) if ordered else 0


def wanted_of(state: CookState) -> int:
    """When a meal is wanted: the serving time, or where none is given what the plan promises."""
    return state.first.dish_up if state.serve is None else state.serve


def served_in(
    state: CookState, draws: Draws, runs: Iterable[int], leads: tuple[Lead, ...] = ()
) -> tuple[int, ...]:
    """When some of the cooks are dished up; each run is by itself, so they can be shared out.

    Args:
        state: the cook as it stands.
        draws: seed and spread.
        runs: which runs, from 0.
        leads: what the cook does early.
    """
    state = _unmeasured(state).but(past=None, future=None, log=())
    found = (Hand(state, Luck(draws.seed, run, draws.spread), leads).cook() for run in runs)
    return tuple(LONGEST if at is None else at for at in found)


def _unmeasured(state: CookState) -> CookState:
    """The cook with food of unknown size, for which the engine forecasts nothing.

    What a made-up thermometer shows is only ever that food is not done, or done: a forecast would
    take it for the temperature of the food, and say when to look by that. So made-up cooks look
    again as often as cooks of food without a size do.
    """
    dishes = tuple(dish.model_copy(update={"size": None}) for dish in state.plan.components)
    return state.but(plan=state.plan.model_copy(update={"components": dishes}))


def odds_of(state: CookState, draws: Draws, leads: tuple[Lead, ...] = ()) -> Odds:
    """The odds of a cook as it stands."""
    return Odds(wanted_of(state), served_in(state, draws, range(draws.runs), leads))
