"""Invented cooks for the tests of the screen: no recipe, no real plan."""

import math
from dataclasses import dataclass, field, replace
from typing import Literal

from passbell.tui.desk import Action
from passbell.tui.views.model import (
    ApplianceLine,
    Card,
    CookView,
    CueLine,
    CueTone,
    DishUp,
    Effect,
    Hands,
    Pending,
    Probe,
    ReadingMark,
    Row,
    RowState,
    Segment,
    Tick,
    Way,
)


def cue(
    verb: str = "ADD",
    what: str = "green beans",
    how: str = "left side of the tray, one layer",
    due_in: int = 250,
    **more: object,
) -> CueLine:
    tone: CueTone = "coming" if due_in > 0 else "late" if due_in <= -60 else "due"
    made = CueLine(cue=f"{verb} {what}", verb=verb, what=what, how=how, due_in=due_in, tone=tone)
    return replace(made, **more)  # type: ignore[arg-type]


def row(name: str, state: RowState, words: str, left: int | None, drift: int = 0) -> Row:
    base = sum(name.encode()) % 7 * 60
    segments = (
        Segment("prep", base, base + 300, real=True),
        Segment("cook", base + 360, 1500, real=state != "waiting"),
        Segment("cook", 1500, 2100 - base, real=False),
        Segment("rest", 2100 - base, 2400 - base, real=False),
        Segment("hold", 2400 - base, 2520, real=False),
    )
    ticks = (Tick("during", 1100, True), Tick("mode", 1700, False), Tick("probe", 1900, False))
    return Row(name, state, words, left, drift, segments, ticks)


ROWS = (
    replace(row("chicken thighs", "in", "in, 0 of 2 probed", 420, 0), raw="raw", share=55),
    replace(row("carrots", "in", "in, turned", 260), share=60),
    replace(row("green beans", "waiting", "waiting, trimmed", 250), wanted=False),
    row("bread", "waiting", "waiting", 900),
    row("yoghurt sauce", "plated", "plated", None),
    row("lemon wedges", "waiting", "waiting", 1300, 180),
)

APPLIANCES = (
    ApplianceLine(
        "oven", "hot", "convection roast 400 °F", "9:41", "crisp: air fry 375 °F in 4:10", "",
        ("chicken thighs", "carrots"),
    ),
    ApplianceLine("hob", "off", "", None, "", "", ()),
)  # fmt: skip

HANDS = Hands(
    free=250, until="ADD green beans", busy="", prepare="trim beans, 3 min", begin=70,
    fits=True, slack=120, before="ADD green beans",
)  # fmt: skip

PROBE = Probe("chicken thighs", "place 1", "F", "United States, home cooks", "165 °F",
              "", "", "", (), ())  # fmt: skip

DISH_UP = DishUp("18:45", "18:48", 1970, 180, "chicken thighs 3 min longer", minutes=3)

COMING = CookView(
    title="Tray supper (invented)",
    clock="18:12:05",
    at=1500,
    cards=(Card("oven", opening=False, lines=(cue(),)),),
    following=(
        cue("TURN", "carrots", "", 550),
        cue("PROBE", "chicken thighs", "thickest part, not the bone", 720),
        cue("CALL", "everyone", "", 1500),
    ),
    pending=None,
    appliances=APPLIANCES,
    rows=ROWS,
    span=(0, 2700),
    hands=HANDS,
    probe=PROBE,
    dish_up=DISH_UP,
    steps_back=("turned carrots 18:06", "put in chicken thighs 17:52", "preheated 17:50"),
)

DUE = replace(
    COMING,
    cards=(Card("oven", opening=False, lines=(cue(due_in=-40, standing="seen"),)),),
    hands=replace(HANDS, free=0, busy="ADD green beans", fits=False),
)

LATE = replace(
    COMING,
    cards=(Card("oven", opening=False, lines=(cue(due_in=-100),)),),
    flash=True,
    sound="no sound",
    hands=replace(HANDS, free=0, until="ADD green beans"),
)

OPENING = replace(
    COMING,
    cards=(
        Card("oven", opening=True, lines=(
            cue("PROBE", "chicken thighs", "thickest part", 35),
            cue("TAKE OUT", "carrots", "", 35),
            cue("TURN", "chicken thighs", "skin side up", 35),
            cue("ADD", "green beans", "left side", 35),
            cue("MODE", "oven", "air fry 375 °F", 35),
        )),
    ),
)  # fmt: skip

TWO_CARDS = replace(
    COMING,
    cards=(
        Card("oven", opening=False, lines=(cue(due_in=-20),)),
        Card("hob", opening=False, lines=(cue("STIR", "rice", "off the heat, lid on", -5),)),
    ),
)

CHANGE = Pending(
    words="oven stage roast: +3 min",
    effects=(
        Effect("carrots", 180, "3 min later", share="1 min over (108 %)"),
        Effect("green beans", 180, "3 min later", held=-180),
        Effect("chicken thighs", 180, "3 min later"),
        Effect("bread", 0, "unchanged", held=180),
        Effect("oven to crisp", 180, "3 min later", "mode"),
        Effect("chicken thighs, rest over", 0, "unchanged", "rest"),
        Effect("dish-up", 180, "3 min later", "dish_up"),
    ),
    warnings=("lengthens crisp by 2 min",),
    left=7,
    ways=(
        Way("take carrots out on time and hold it 3 min: dish-up 3 min later", "bread +3 min"),
        Way("add green beans 3 min later: dish-up 3 min later"),
        Way("rest chicken thighs 3 min less: dish-up unchanged"),
        Way("serve 3 min later: dish-up 3 min later", "carrots, green beans +3 min"),
    ),
    by=180,
    dish_up="18:48",
)

PENDING = replace(
    COMING,
    pending=CHANGE,
    rows=tuple(
        replace(r, pending=next((e for e in CHANGE.effects if e.name == r.name), None))
        for r in ROWS
    ),
)

BELOW = replace(
    COMING,
    rows=(
        replace(ROWS[0], alert="below by 13 °F, look again in 3:00", selected=True, wanted=True),
        *ROWS[1:],
    ),
    probe=replace(
        PROBE,
        place="place 2",
        verdict="BELOW",
        sign="▼",
        sentence="152 °F is 13 °F below the minimum of 165 °F. Not safe to eat yet.",
        advice=(
            "Put it back. 165 °F in about 3:10; look again in 2:00.",
            "Probe the thickest part, away from the bone.",
        ),
        readings=(ReadingMark("1", "166 °F", True), ReadingMark("2", "152 °F", False),
                  ReadingMark("2", "121 °F", False, struck=True)),
        wash=True,
    ),
)  # fmt: skip

RESTING = replace(
    COMING,
    rows=(replace(ROWS[0], state="resting", words="rest 2:10 more", raw=""), *ROWS[1:]),
    probe=replace(
        PROBE,
        verdict="MET",
        sign="▲",
        sentence="168 °F: at or above the minimum of 165 °F in 2 of 2 pieces.",
        rest="safety rest 2:10 more, then quality rest 4:00",
        readings=(ReadingMark("1", "168 °F", True), ReadingMark("2", "170 °F", True)),
    ),
)

HEAT_OFF = replace(
    COMING,
    appliances=(
        replace(APPLIANCES[0], standing="stopped", display=None, coming="",
                alert="heat off since 2:10; on going on, look earlier"),
        APPLIANCES[1],
    ),
    notices=("Heat off: food kept cooking or cooling by itself.",),
)  # fmt: skip

AWAY = replace(
    COMING,
    hands=replace(HANDS, away=95, busy="trim beans"),
    interruption=("you were: trimming green beans", "since 18:08", "due now: ADD green beans"),
)

WAITING = replace(
    COMING,
    at=0,
    cards=(Card("oven", opening=False, lines=(cue("PREHEAT", "oven", "roast 400 °F", 600),)),),
    appliances=(
        replace(APPLIANCES[0], standing="preheating", display=None, inside=()), APPLIANCES[1],
    ),
    rows=tuple(replace(r, state="waiting", words="waiting", left=900) for r in ROWS),
    steps_back=(),
)  # fmt: skip

OVER = replace(
    COMING,
    cards=(),
    following=(),
    over=True,
    rows=tuple(replace(r, state="plated", words="plated", left=None) for r in ROWS),
    hands=Hands(None, "", "", "", 0, None, 0),
)

ONE = replace(COMING, rows=ROWS[:1], appliances=APPLIANCES[:1])

FORTY = replace(
    COMING,
    rows=tuple(replace(row(f"dish {n}", "in", "in", 60 * n), wanted=n == 37) for n in range(1, 41)),
)

HOSTILE_NAMES = (
    "[bold]loud[/bold] [@click=app.quit]click[/]",
    "[/] [red",
    "red\x1b[31m\x1b[2Jred\x9b2J",
    "👩‍👩‍👧‍👦🇫🇷 family 🧑🏽‍🍳 pie",
    "עוף בתנור ירוק",
    "x" * 200,
    "面条炒青菜和豆腐",
)

HOSTILE = replace(
    COMING,
    title=HOSTILE_NAMES[0],
    cards=(Card("oven", opening=False, lines=(cue(what=HOSTILE_NAMES[0], how=HOSTILE_NAMES[5]),)),),
    following=tuple(cue(what=name, how=name, due_in=300) for name in HOSTILE_NAMES),
    rows=tuple(replace(row(name, "in", name, 300), alert="") for name in HOSTILE_NAMES),
    appliances=(replace(APPLIANCES[0], name=HOSTILE_NAMES[0], alert=HOSTILE_NAMES[2]),),
    notices=(HOSTILE_NAMES[2],),
    probe=replace(PROBE, component=HOSTILE_NAMES[1], sentence=HOSTILE_NAMES[3], verdict="BELOW"),
)

VIEWS: dict[str, CookView] = {
    "coming": COMING,
    "due": DUE,
    "late": LATE,
    "opening": OPENING,
    "two_cards": TWO_CARDS,
    "pending": PENDING,
    "below": BELOW,
    "resting": RESTING,
    "heat_off": HEAT_OFF,
    "away": AWAY,
    "waiting": WAITING,
    "over": OVER,
    "one": ONE,
    "forty": FORTY,
    "hostile": HOSTILE,
}


@dataclass
class FakeDesk:
    """A desk that shows one view and writes down what it was asked."""

    view: CookView = COMING
    asked: list[tuple[object, ...]] = field(default_factory=list)
    rings: int = 0
    chooses: bool = True
    takes: bool = True
    on_heat: str = "The oven is on and chicken thighs are in it. Leave all the same?"
    fails: Exception | None = None
    closed: bool = False

    def tick(self) -> CookView:
        if self.fails is not None:
            raise self.fails
        return self.view

    def pause(self) -> float:
        return math.inf

    def press(self, action: Action) -> None:
        self.asked.append(("press", action))

    def choose(self, digit: int) -> bool:
        self.asked.append(("choose", digit))
        return self.chooses

    def enter(self, text: str) -> bool:
        self.asked.append(("enter", text))
        return self.takes

    def ask(self, kind: Literal["serve_at", "note", "display"], text: str) -> bool:
        self.asked.append((kind, text))
        return self.takes

    def select(self, row: int | None) -> None:
        self.asked.append(("select", row))
        rows = tuple(replace(r, selected=i == row) for i, r in enumerate(self.view.rows))
        self.view = replace(self.view, rows=rows)

    def bells(self) -> int:
        rings, self.rings = self.rings, 0
        return rings

    def everything(self) -> tuple[str, ...]:
        return (
            "In the oven since 17:52: chicken thighs, carrots",
            "Next: ADD green beans in 4:10, TURN carrots in 9:10, PROBE chicken thighs in 12:00",
            "Still raw: chicken thighs",
        )

    def leave(self) -> str:
        return self.on_heat

    def close(self) -> None:
        self.closed = True
