"""What was worked out last: the screen asks the same of the same state four times a second."""

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from passbell.cook.state import CookState

Found = TypeVar("Found")


def of_latest(work: Callable[[CookState], Found]) -> Callable[[CookState], Found]:
    """The same calculation on a state, its last answer kept while that very state is asked.

    It is not kept in the state: a cook's past states stay until its end, and would keep theirs.
    """
    kept: tuple[CookState, Found] | None = None

    @wraps(work)
    def asked(state: CookState) -> Found:
        nonlocal kept
        known = kept  # read once: another thread may ask of another state
        if known is None or known[0] is not state:
            kept = known = (state, work(state))
        return known[1]

    return asked
