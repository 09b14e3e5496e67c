"""The list of plans as plain data."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PlanSummary:
    """One plan in a few lines.

    Attributes:
        key: what the shelf knows it by.
        title: its title.
        serves: for how many ("4"); may be empty.
        total: seconds from the first act to the plate.
        hands: seconds of hands-on work in all.
        temperatures: "oven 400 °F, 375 °F" for each appliance.
        components: their names.
        problems: what is wrong with it, in sentences; empty: nothing found.
        unfinished: an unfinished cook ("stood at 18:12"); empty: none.
        readable: whether it can be opened at all.
        own: whether it is the cook's own and not one that ships.
    """

    key: str
    title: str
    serves: str
    total: int
    hands: int
    temperatures: tuple[str, ...]
    components: tuple[str, ...]
    problems: tuple[str, ...] = ()
    unfinished: str = ""
    readable: bool = True
    own: bool = False


@dataclass(frozen=True, slots=True)
class PlansView:
    """All plans.

    Attributes:
        plans: in the order they are listed.
        places: where plans are looked for, to be shown when there is none.
        message: something to know ("beans.toml was changed"); may be empty.
    """

    plans: tuple[PlanSummary, ...]
    places: tuple[str, ...] = ()
    message: str = ""
