"""Branch and bound, which can be halted and taken up again."""

from dataclasses import dataclass
from heapq import heappop, heappush

from passbell.schedule.branch import Brancher
from passbell.schedule.memory import Memory
from passbell.schedule.reach import Reach
from passbell.schedule.state import State, Vector
from passbell.schedule.windows import Windows

PLACE = 3
"""A place of the budget pays for so many that are found and measured by their deep bounds."""
NARROWING = 3
"""To narrow the windows of a place costs as much as so many of these."""


@dataclass(frozen=True, slots=True)
class Best:
    """The best order so far: its figures, the goals in their order, and its longest paths."""

    figures: Vector
    reach: Reach


Entry = tuple[Vector, int, State]
"""A place kept for later: its figures, when it was found, and itself."""


class Proof:
    """A search through all orders that could better the goals, compared in their order.

    Args:
        brancher: opens places.
        root: the place where nothing is decided.
        goals: how many of the goals matter.
    """

    def __init__(self, brancher: Brancher, root: State, goals: int) -> None:
        self.brancher = brancher
        self.goals = goals
        self.root = root
        self.windows = Windows(brancher.tables, brancher.gauge)
        self.memory = Memory(brancher.tables)
        self.levels: list[list[Entry]] = [[(root.figures, 0, root)]]
        self.level = self.count = 0

    def go_on(self, best: Best | None, budget: int) -> tuple[Best | None, int]:
        """The best order after so many more places, and how much of the budget is left.

        Without a best order to begin with it halts at the first it finds.
        """
        any_will_do, gauge = best is None, self.brancher.gauge
        budget *= PLACE
        while budget > 0 and not (any_will_do and best is not None):
            state = self._next()
            if state is None:
                break
            if self._hopeless(state, best) or not self.memory.is_new(state):
                continue
            budget -= NARROWING if gauge.deep else PLACE
            barred = 0
            if best is not None:
                gauge.best = best.figures
                narrowed = self._narrowed(state, best)
                if narrowed is None:
                    continue
                state, barred = narrowed
            children = self.brancher.children(state, barred)
            if children is None:
                found = gauge.plain(state.reach)
                if best is None or found < best.figures:
                    best = Best(found, state.reach)
                continue
            budget -= len(children) if gauge.deep else 0
            self._keep([c for c in children if not self._hopeless(c, best)])
        return best, max(0, budget // PLACE)

    def _next(self) -> State | None:
        """The most promising place of the next level that has any, round and round."""
        levels = self.levels
        for level in (*range(self.level, len(levels)), *range(self.level)):
            if levels[level]:
                self.level = level + 1
                best: Entry = heappop(levels[level])
                return best[2]
        return None

    def _narrowed(self, state: State, best: Best) -> tuple[State, int] | None:
        if not self.brancher.gauge.deep:
            return state, 0
        return self.windows.narrowed(state, best.figures, self.goals)

    def _keep(self, children: list[State]) -> None:
        if len(self.levels) == self.level:
            self.levels.append([])
        for child in children:
            self.count += 1
            heappush(self.levels[self.level], (child.figures, self.count, child))

    def _hopeless(self, state: State, best: Best | None) -> bool:
        """Whether a place cannot lead to anything better."""
        if best is None:
            return False
        found = best.figures[: self.goals]
        return state.figures[: self.goals] >= found or found <= self.root.figures[: self.goals]

    def short(self, best: Best) -> int:
        """By how much the first goal that is not proven may still be better."""
        left = [
            state.figures
            for level in self.levels
            for _, _, state in level
            if not self._hopeless(state, best)
        ]
        for goal, here in enumerate(best.figures[: self.goals] if left else ()):
            low = min(figures[goal] for figures in left)
            if low < here:
                return here - low
            left = [figures for figures in left if figures[goal] == here]
        return 0
