"""Invented plans and an invented record for the tests of the pages before and after a cook."""

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from passbell.cook.compare import compared
from passbell.cook.kept import Kept
from passbell.cook.ready import ready
from passbell.cook.state import TakenReading
from passbell.tui.desk import Desk
from passbell.tui.doors import AfterKind, Preparation, PrepareKind
from passbell.tui.views.after import AfterRow, AfterView, Score
from passbell.tui.views.before import BeforeView, DrawnLine, GatherItem, TimeRow
from passbell.tui.views.model import Segment, Tick
from passbell.tui.views.plans import PlanSummary, PlansView
from passbell.tui.views.revise import Asked, ReviseView
from passbell.tui.views.runs import RunLine, RunsView, curves, timelines
from tests.cook.kept_runs import TEXT, run
from tests.tui.sample import HOSTILE_NAMES, FakeDesk

PLANS = PlansView(
    plans=(
        PlanSummary("tray", "Tray supper (invented)", "4", 3900, 1500,
                    ("oven 400 °F, then 375 °F", "hob"),
                    ("chicken thighs", "carrots", "green beans", "bread", "yoghurt sauce")),
        PlanSummary("roast", "Sunday roast (invented)", "6", 9000, 3600, ("oven 180 °C",),
                    ("beef", "potatoes", "gravy"),
                    problems=("Two hands-on jobs at 12:40: peel potatoes and rub the beef. "
                              "Begin the potatoes 6 min earlier.",),
                    unfinished="stood at 12:52, 3 of 9 acts done"),
        PlanSummary("broken", "beans.toml", "", 0, 0, (), (),
                    problems=("Line 4: '35:00' could be minutes or hours; write \"35 min\".",),
                    readable=False),
    ),
    places=("the plans that came with the program", "your own folder of plans"),
)  # fmt: skip

LINES = (
    DrawnLine(
        "oven",
        (Segment("preheat", 0, 720, False), Segment("stage", 720, 3000, False)),
        (Tick("mode", 2100, False),),
    ),
    DrawnLine(
        "chicken thighs",
        (
            Segment("prep", 300, 720, False),
            Segment("cook", 900, 3000, False),
            Segment("rest", 3000, 3420, False),
        ),
        (Tick("probe", 2700, False),),
    ),
    DrawnLine("carrots", (Segment("prep", 0, 300, False), Segment("cook", 1500, 3000, False))),
    DrawnLine("yoghurt sauce", (Segment("prep", 1000, 1300, False),)),
)

BEFORE = BeforeView(
    title="Tray supper (invented)",
    serves="4",
    clock="17:31:10",
    start="17:40",
    start_in=530,
    dish_up="18:45",
    serving="serve at 18:45",
    lines=LINES,
    span=(0, 3900),
    table=(
        TimeRow("17:40", "preheat", "oven", "convection roast 400 °F"),
        TimeRow("17:40", "prep", "carrots", "peel, cut 10 mm", hands=300),
        TimeRow("17:55", "add", "chicken thighs", "skin up, one layer", hands=60),
        TimeRow("18:25", "probe", "chicken thighs", "thickest part", hands=60, slack=120),
        TimeRow("18:45", "dish up", "everyone", ""),
    ),
    gather=(
        GatherItem("8 chicken thighs", "chicken thighs", ticked=True),
        GatherItem("600 g carrots", "carrots"),
        GatherItem("tray, probe, foil", ""),
    ),
    thermometer="United States, home cooks · °F · not checked in ice water",
    sizes=("chicken thighs 38 mm: 4 min longer",),
    cautions=(
        "Times are a plan, not a proof: meat is done when the probe says so.",
        "Local food codes and licensed practice come before anything said here.",
    ),
    problems=("No finish to the plate for the bread.",),
)

AFTER = AfterView(
    title="Tray supper (invented)",
    date="25 November 2026",
    planned="18:45",
    cooked="18:49",
    drift=240,
    rows=(
        AfterRow(
            "chicken thighs", "18:40", "18:44", 240, "MET, 168 °F", "just right", "skin crisp"
        ),
        AfterRow("carrots", "18:40", "18:40", 0, "", "under"),
        AfterRow("green beans", "18:42", "", 0),
    ),
    notes=("18:12 phone rang",),
    change="carrots 4 min earlier: still hard in the middle",
    made="4 plates",
    leftovers="2 thighs",
    reminder="leftovers cold by 20:44",
)

HOSTILE_PLANS = PlansView(
    tuple(
        replace(PLANS.plans[0], title=name, components=HOSTILE_NAMES, problems=HOSTILE_NAMES)
        for name in HOSTILE_NAMES
    )
)
HOSTILE_BEFORE = replace(
    BEFORE,
    title=HOSTILE_NAMES[0],
    lines=tuple(replace(LINES[0], name=name) for name in HOSTILE_NAMES),
    gather=tuple(GatherItem(name, name) for name in HOSTILE_NAMES),
    table=tuple(TimeRow("17:40", name, name, name) for name in HOSTILE_NAMES),
    cautions=HOSTILE_NAMES,
)
HOSTILE_AFTER = replace(
    AFTER,
    title=HOSTILE_NAMES[0],
    rows=tuple(AfterRow(name, "18:40", "18:41", 60, name, "over", name) for name in HOSTILE_NAMES),
    change=HOSTILE_NAMES[5],
)


@dataclass
class FakePreparation:
    """A plan made ready that writes down what it was asked."""

    view: BeforeView = BEFORE
    asked: list[tuple[object, ...]] = field(default_factory=list)
    takes: bool = True
    starts: bool = True
    closed: bool = False

    def look(self) -> BeforeView:
        return self.view

    def ask(self, kind: PrepareKind, text: str) -> bool:
        self.asked.append((kind, text))
        return self.takes

    def press(self, action: Literal["chart", "unit"]) -> None:
        self.asked.append(("press", action))

    def tick_off(self, item: int) -> None:
        self.asked.append(("tick", item))

    def to_edit(self) -> Path | None:
        self.asked.append(("edit",))
        return None

    def start(self) -> Desk | None:
        self.asked.append(("start",))
        return FakeDesk() if self.starts else None

    def close(self) -> None:
        self.closed = True


@dataclass
class FakeShelf:
    """A shelf of invented plans."""

    view: PlansView = PLANS
    opened: list[str] = field(default_factory=list)
    edited: list[str] = field(default_factory=list)
    preparation: FakePreparation = field(default_factory=FakePreparation)

    def look(self) -> PlansView:
        return self.view

    def open(self, key: str) -> Preparation | None:
        self.opened.append(key)
        return None if key == "broken" else self.preparation

    def to_edit(self, key: str) -> Path | None:
        self.edited.append(key)
        return None

    def resume(self, key: str) -> Desk | None:
        return FakeDesk() if key == "roast" else None

    def records(self) -> "FakeRecords":
        return FakeRecords()


def _beside(*kept: Kept) -> RunsView:
    found = compared(kept)
    listed = tuple(
        RunLine(k.source.run, k.account.title, "2026-11-25 18:02", "finished", letter)
        for k, letter in zip(kept, "ABCD", strict=False)
    )
    plan = kept[-1].plan
    return RunsView(listed, found, timelines(found), curves(found), ready(kept, plan), message="")


def readings(*pairs: tuple[int, float]) -> tuple[TakenReading, ...]:
    return tuple(
        TakenReading(0, None, shown, "C", at, off_heat=False, command=1) for at, shown in pairs
    )


def two_runs(name: str = "green beans") -> RunsView:
    """An invented meal cooked twice, the second with beans too long in and another curve."""
    text = TEXT.replace("green beans", name)
    long = {(name, 1): 180}
    return _beside(
        run(1, text=text, readings=readings((2000, 61), (2600, 70), (2900, 76))),
        run(2, long, {name: "over"}, text=text, readings=readings((2000, 58), (2900, 77))),
    )


def hostile_runs() -> RunsView:
    """The same with names that would be markup, escape codes or too wide."""
    view = two_runs()
    assert view.beside is not None
    names = dict(zip(("carrots", "green beans"), (HOSTILE_NAMES[0], HOSTILE_NAMES[5]), strict=True))
    sides = tuple(replace(side, name=names[side.name]) for side in view.beside.sides)
    lines = tuple(replace(line, component=names[line.component]) for line in view.lines)
    listed = tuple(
        replace(line, title=name) for line, name in zip(view.runs, HOSTILE_NAMES, strict=False)
    )
    return replace(view, runs=listed, beside=replace(view.beside, sides=sides), lines=lines)


@dataclass
class FakeRecords:
    """The runs of an invented meal; it writes down what it was asked."""

    view: RunsView = field(default_factory=two_runs)
    asked: list[tuple[object, ...]] = field(default_factory=list)
    revising: "FakeRevising | None" = None

    def look(self, chosen: int | None) -> RunsView:
        self.asked.append(("look", chosen))
        return self.view

    def pick(self, run: int) -> None:
        self.asked.append(("pick", run))

    def alone(self) -> None:
        self.asked.append(("alone",))

    def revise(self, run: int) -> "FakeRevising | None":
        self.asked.append(("revise", run))
        return self.revising


REVISE = ReviseView(
    title="Roots and beans",
    file="/plans/roots.toml",
    cooks=2,
    asked=(
        Asked("green beans: 9 min on the heat instead of 12 min", "over twice (runs 1, 2)"),
        Asked("carrots, peel: 13 min instead of 8 min", "it took 13:00, twice (runs 1, 2)"),
    ),
    notes=("oven: preheat 14 min instead of 10 min (your oven, 4 runs)",),
    wrote="after run 2 you wrote for next time: hotter",
    ready=two_runs().ready,
)


@dataclass
class FakeRevising:
    """A plan being revised that writes down what was taken."""

    view: ReviseView = REVISE
    taken: list[Asked] = field(default_factory=list)

    def look(self) -> ReviseView:
        return self.view

    def take(self, asked: Asked) -> None:
        self.taken.append(asked)


@dataclass
class FakeAftermath:
    """A record that writes down what it was told."""

    view: AfterView = AFTER
    asked: list[tuple[object, ...]] = field(default_factory=list)
    takes: bool = True
    closed: bool = False

    def look(self) -> AfterView:
        return self.view

    def judge(self, row: int, score: Score) -> None:
        self.asked.append(("judge", row, score))

    def ask(self, kind: AfterKind, text: str, row: int | None) -> bool:
        self.asked.append((kind, text, row))
        return self.takes

    def revise(self) -> "FakeRevising | None":
        self.asked.append(("revise",))
        return FakeRevising()

    def close(self) -> None:
        self.closed = True
