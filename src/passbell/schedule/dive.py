"""A first schedule, quickly: the best of a few decisions at a time, taken back only at an end."""

from passbell.schedule.branch import Brancher
from passbell.schedule.moves import Last, Move
from passbell.schedule.state import State

FEW = 5
"""How many decisions are measured before one is taken."""
MANY = 40
"""With more open jobs than this only the half of it, and by what is decided alone."""
BACKS = 40
"""How often a way that ends in a contradiction is left for the last one passed by."""


def first_schedule(brancher: Brancher, root: State) -> State | None:
    """A whole place of the search, or None where every way tried ends in a contradiction."""
    due = {c.job.bit: c.due for line in brancher.tables.lines for c in line.claims}

    def rank(move: Move, table: int) -> tuple[int, int, int]:
        """Looking back from the dish-up, the first to come.

        Jobs that make a dish wait go by the later of where they would be and where they would
        begin to cost (the modified due date of tardiness rules, from memory); the others by how
        long the work before them takes, longest first.
        """
        if not isinstance(move, Last):
            return 0, 0, 0
        if move.job.bit in due:
            return 0, max(move.far + table, due[move.job.bit]), move.far
        return 1, -brancher.tables.heads[move.job.node], move.far

    few = FEW if root.left.bit_count() <= MANY else FEW // 2
    ways, backs = [root], 0
    while ways and backs <= BACKS:
        state = ways.pop()
        table = state.reach.soonest(brancher.gauge.serve)
        moves = sorted(brancher.moves(state), key=lambda move: rank(move, table))
        if not moves:
            return state
        found = _best_of_few(brancher, state, moves, few)
        backs += not found
        ways += found
    return None


def _best_of_few(brancher: Brancher, state: State, moves: list[Move], few: int) -> list[State]:
    """The places after the first few moves that can be made, the best of them last."""
    found: list[State] = []
    for move in moves:
        child = brancher.apply(state, move)
        if child is not None:
            found.append(_measured(brancher, child))
        if len(found) == few:
            break
    return sorted(found, key=lambda child: child.figures)[::-1]


def _measured(brancher: Brancher, state: State) -> State:
    if state.left.bit_count() <= MANY:
        return brancher.measured(state)
    return state._replace(figures=brancher.gauge.plain(state.reach))
