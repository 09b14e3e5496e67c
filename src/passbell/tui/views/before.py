"""The time before the start as plain data."""

from dataclasses import dataclass

from passbell.tui.views.model import Segment, Tick


@dataclass(frozen=True, slots=True)
class TimeRow:
    """One line of the time plan.

    Attributes:
        clock: when ("17:46").
        act: what is done ("add", "prep", "take out").
        what: component or appliance.
        text: the instruction.
        hands: seconds of hands-on work; 0: none.
        slack: seconds it may be late without moving dish-up; None: not said.
    """

    clock: str
    act: str
    what: str
    text: str
    hands: int = 0
    slack: int | None = None


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """The time line of a component or an appliance, in seconds from the start of the cook."""

    name: str
    segments: tuple[Segment, ...]
    ticks: tuple[Tick, ...] = ()


@dataclass(frozen=True, slots=True)
class GatherItem:
    """A thing to have at hand before the clock starts."""

    text: str
    component: str
    ticked: bool = False


@dataclass(frozen=True, slots=True)
class BeforeView:
    """A plan made ready.

    Attributes:
        title: the plan's title.
        serves: for how many.
        clock: local time now.
        start: when to start ("17:40", "now").
        start_in: seconds until then; 0 or less: it is time.
        dish_up: when the meal is on the table.
        serving: how that was chosen ("as soon as possible", "serve at 18:45").
        lines: appliances and components, in file order.
        span: first and last second of the lines.
        table: the time plan.
        gather: what to gather.
        thermometer: chart, unit and check ("United States, home cooks · °F · not checked in ice").
        sizes: sizes given that differ from the plan ("chicken 38 mm: 4 min longer").
        kitchen: what this kitchen's appliances make of the plan's times.
        amounts: what is to be known of amounts for another number of people.
        cautions: to be read before the first cook; they stand above all else. Empty: read before.
        problems: what is wrong with the plan.
        message: why the last answer was refused, or what came of it; may be empty.
    """

    title: str
    serves: str
    clock: str
    start: str
    start_in: int
    dish_up: str
    serving: str
    lines: tuple[DrawnLine, ...]
    span: tuple[int, int]
    table: tuple[TimeRow, ...]
    gather: tuple[GatherItem, ...]
    thermometer: str
    sizes: tuple[str, ...] = ()
    kitchen: tuple[str, ...] = ()
    amounts: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    problems: tuple[str, ...] = ()
    message: str = ""
