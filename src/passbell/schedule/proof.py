"""Branch and bound to one goal, which can be halted and taken up again."""

from dataclasses import dataclass

from passbell.schedule.branch import Brancher
from passbell.schedule.memory import Memory
from passbell.schedule.reach import Reach
from passbell.schedule.state import State, Vector


@dataclass(frozen=True, slots=True)
class Best:
    """The best order so far: its figures, the goals in their order, and its longest paths."""

    figures: Vector
    reach: Reach


class Proof:
    """A search through all orders that could better one goal.

    Args:
        brancher: opens places; its gauge says which goal.
        root: the place where nothing is decided, measured for this goal.
    """

    def __init__(self, brancher: Brancher, root: State) -> None:
        self.brancher = brancher
        self.goal = brancher.gauge.goal
        self.root = root
        self.memory = Memory(brancher.tables)
        self.stack = [root]

    def go_on(self, best: Best | None, budget: int) -> tuple[Best | None, int]:
        """The best order after so many more places, and how much of the budget is left.

        Without a best order to begin with it halts at the first it finds.
        """
        any_will_do = best is None
        while self.stack and budget > 0 and not (any_will_do and best is not None):
            state = self.stack.pop()
            if self._hopeless(state, best) or not self.memory.is_new(state):
                continue
            budget -= 1
            children = self.brancher.children(state)
            if children is None:
                best = Best(state.figures, state.reach)
                continue
            self.stack += [c for c in reversed(children) if not self._hopeless(c, best)]
        return best, budget

    def _hopeless(self, state: State, best: Best | None) -> bool:
        """Whether a place cannot lead to anything better in this goal."""
        if best is None:
            return False
        until = self.goal + 1
        figures, found = state.figures[:until], best.figures[:until]
        return figures >= found or found <= self.root.figures[:until]

    def short(self, best: Best) -> int:
        """By how much the goal may still be better, the goals before it as they are."""
        held, here = best.figures[: self.goal], best.figures[self.goal]
        left = [state.figures for state in self.stack if not self._hopeless(state, best)]
        return here - min([here, *(f[self.goal] for f in left if f[: self.goal] <= held)])
