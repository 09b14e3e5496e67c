"""When each cue is due, before it is put into words: most are timed often and read by nobody."""

from collections.abc import Callable, Iterable
from typing import NamedTuple, TypeVar

from passbell.cook.cue import OF_ONE_FOOD, TIME_RANK, Cue, CueKey, CueKind, standing_as
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


Timed = TypeVar("Timed", Due, Cue)


def in_time(found: Iterable[Timed]) -> list[Timed]:
    """Cues by instant, then as acts of one instant follow each other."""
    listed = list(found)
    at_once: dict[tuple[int, int, int], set[CueKind]] = {}
    for cue in listed:
        if cue.key.kind in OF_ONE_FOOD:
            at_once.setdefault((cue.at, cue.key.owner, cue.key.item), set()).add(cue.key.kind)
    none: set[CueKind] = set()
    return sorted(
        listed,
        key=lambda cue: _place(cue, at_once.get((cue.at, cue.key.owner, cue.key.item), none)),
    )


def _place(cue: Due | Cue, kinds: set[CueKind]) -> tuple[int, int, bool, int, int, int]:
    key = cue.key
    stands = standing_as(key.kind, kinds)
    own = OF_ONE_FOOD.index(key.kind) if stands is not None else 0
    return cue.at, TIME_RANK[stands or key.kind], stands is not None, key.owner, key.item, own
