"""Cues: what the cook is asked to do, each with an identity that survives a replan."""

from collections.abc import Set
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, NamedTuple

CueKind = Literal[
    "preheat", "ready", "prep", "add", "mode", "during", "check", "probe", "set", "take_out",
    "rest_over", "finish", "call", "off", "dish_up",
]  # fmt: skip

OPENING_ORDER: tuple[CueKind, ...] = ("probe", "check", "take_out", "during", "add", "mode", "set")
"""Order of acts in one opening of an appliance: look first, what leaves, what joins, the knob."""

HARM_ORDER: tuple[CueKind, ...] = (
    "set", "take_out", "probe", "mode", "check", "during", "add", "ready", "preheat",
    "finish", "prep", "off", "rest_over", "call", "dish_up",
)  # fmt: skip
"""Whose delay harms most, first: what goes cold or burns, then what waits (our judgement)."""

TIME_ORDER: tuple[CueKind, ...] = (
    "preheat", "ready", *OPENING_ORDER, "rest_over", "prep", "finish", "off", "call", "dish_up",
)  # fmt: skip
"""The order of acts of one instant in a time plan."""

TIME_RANK: dict[CueKind, int] = {kind: place for place, kind in enumerate(TIME_ORDER)}
"""Place of each kind in `TIME_ORDER`."""

OF_ONE_FOOD: tuple[CueKind, ...] = ("add", "probe", "check", "during", "take_out")
"""The order of acts of one instant that are done to one food: nothing is done to it outside."""


def standing_as(kind: CueKind, kinds: Set[CueKind]) -> CueKind | None:
    """The kind whose place an act takes among the acts of one instant; None: that of its own.

    Elsewhere what leaves makes room for what joins; no food leaves before it has joined, or
    before what is to be done to it.

    Args:
        kind: what the act is.
        kinds: what is done to its food at that instant.
    """
    if kind not in kinds or len(kinds) < 2:
        return None
    if "add" in kinds:
        return "take_out" if "take_out" in kinds else "add"
    leaves = "during" in kinds and "take_out" in kinds
    return "take_out" if leaves and kind in ("during", "take_out") else None


Part = Literal["begin", "end", ""]


class CueKey(NamedTuple):
    """Who a cue is: its kind and what it is about.

    Attributes:
        kind: the kind of act.
        owner: component index, appliance index, or 0 for the meal.
        item: step or stage index.
        part: a prep and a finish begin and end; others have no part.
        n: which action on the way, or how many looks came before a check or probe; 1 of an add:
            the food goes back in.
    """

    kind: CueKind
    owner: int
    item: int = 0
    part: Part = ""
    n: int = 0

    @property
    def id(self) -> str:
        """The key as one word, for commands and the journal."""
        return f"{self.kind}.{self.owner}.{self.item}.{self.part or '-'}.{self.n}"

    @classmethod
    def read(cls, text: str) -> "CueKey":
        """The key of an `id`.

        Raises:
            ValueError: when it is none.
        """
        return _key_of(text)

    @classmethod
    def of(cls, text: str) -> "CueKey":
        """The same, not remembered."""
        kind, owner, item, part, n = text.split(".")
        if kind not in HARM_ORDER or part not in ("begin", "end", "-"):
            raise ValueError(f"{text!r} is no cue")
        return cls(kind, int(owner), int(item), "" if part == "-" else part, int(n))  # type: ignore[arg-type]

    @classmethod
    def back_in(cls, component: int, step: int) -> "CueKey":
        """The key of the cue that puts food back on the heat."""
        return cls("add", component, step, n=1)

    @property
    def of_appliance(self) -> bool:
        """Whether `owner` is an appliance."""
        return self.kind in ("preheat", "ready", "mode", "set", "off")

    @property
    def goes_back(self) -> bool:
        """Whether it puts food back that had been taken out."""
        return self.kind == "add" and self.n > 0

    @property
    def of_meal(self) -> bool:
        """Whether it is about the whole meal."""
        return self.kind in ("call", "dish_up")


@dataclass(frozen=True, slots=True)
class Cue:
    """One thing to do, and when.

    Attributes:
        key: who it is.
        at: when it is due by the present schedule, or fell due, in engine seconds.
        verb: the act, in capitals.
        what: the component or appliance.
        how: the instruction; may be empty.
        place: the appliance it happens at, or "hands" or "table".
        component: name of the component, or None.
        display: what the appliance's own clock should read, in seconds, or None.
        silent: an expectation rather than a cue (the end of a prep): shown, never sounded.
    """

    key: CueKey
    at: int
    verb: str
    what: str
    how: str
    place: str
    component: str | None = None
    display: int | None = None
    silent: bool = False

    @property
    def text(self) -> str:
        """The cue in one line: "ADD green beans — left side of the tray"."""
        return f"{self.verb} {self.what}" + (f" — {self.how}" if self.how else "")


@lru_cache(maxsize=2048)
def _key_of(text: str) -> CueKey:
    return CueKey.of(text)
