"""When each cue is due, before it is put into words: most are timed often and read by nobody."""

from collections.abc import Callable
from typing import NamedTuple

from passbell.cook.cue import TIME_RANK, Cue, CueKey
from passbell.cook.state import CookState

Say = Callable[[CookState, CueKey, int], Cue]
"""(state, key, instant) → the cue in words."""


class Due(NamedTuple):
    """A cue before it is put into words.

    Attributes:
        key: who it is.
        at: when it is due by the present schedule.
        say: puts it into words.
    """

    key: CueKey
    at: int
    say: Say

    def words(self, state: CookState) -> Cue:
        """The cue in words, for the state it was found in."""
        return self.say(state, self.key, self.at)


def in_time(due: Due | Cue) -> tuple[int, int, int, int]:
    """The order of cues: by instant, then as acts of one instant follow each other."""
    return due.at, TIME_RANK[due.key.kind], due.key.owner, due.key.item
