"""An attempt to have food offered before every place reads its minimum on the heat.

Cooks at random do everything a cook can say, in any order, with readings close to the minimum;
after each act everything the program would show is looked through. What may be offered is decided
here from the figures as printed, by plain comparison, without the program's charts:

- US: FSIS, Safe Minimum Internal Temperature Chart (poultry and stuffing 165 °F, whole cuts of
  pork 145 °F);
- Canada: Government of Canada, Safe cooking temperatures (poultry in pieces 74 °C, whole 82 °C,
  pork 71 °C, stuffing 74 °C);
- UK: Food Standards Agency, Cooking safely in your business: 60 °C for 45 minutes is the coolest
  of its pairs, so nothing below 60 °C passes at all.

    python tests/cook/early.py --cooks 2000 --first 0
"""

import argparse
import random
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal, NamedTuple

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from passbell.cook import commands as cm
from passbell.cook.cards import cards
from passbell.cook.commands import Command
from passbell.cook.cue import CueKey
from passbell.cook.cues import cues
from passbell.cook.engine import advance, tell
from passbell.cook.neighbours import on_the_heat
from passbell.cook.outlook import outlook
from passbell.cook.state import CookState, TakenReading
from passbell.cook.together import joint_openings
from passbell.heat import NoForecast
from passbell.tui.views.cook import Beside, cook_view
from passbell.tui.views.probe import ProbeBox
from passbell.units import Temperature
from tests.cook.meals import Hand, plan_of, step

PRINTED_F = {
    "us": {"poultry_pieces": 165.0, "poultry_whole": 165.0, "pork_whole": 145.0, "stuffing": 165.0},
    "canada": {
        "poultry_pieces": 165.0, "poultry_whole": 179.6, "pork_whole": 159.8, "stuffing": 165.0,
    },
    "uk": {"poultry_pieces": 140.0, "poultry_whole": 140.0, "pork_whole": 140.0,
           "stuffing": 140.0},
}  # fmt: skip
"""°F; of a figure printed in both units the lower one (74 °C is 165.2 °F, and 165 is printed)."""

PLACES = {"poultry_whole": 3, "stuffing": 2}
SPOTS_US = {"pork_whole": 2}
"""Where a food has named places: a bird its breast, thigh and wing, stuffed meat two."""

FORECAST = 4
"""One cook in so many has a size and with it a forecast, which takes most of the time."""

SLIPS = 1e-6
"""°F that binary fractions may be off."""


def _meal(food: str | list[str], until: str, **more: Any) -> dict[str, Any]:
    """Meat of one kind on a tray with a vegetable, turned up half-way."""
    heat = {"on": "oven", "until": until, "check": "8 min"}
    return {
        "title": "Invented meat and roots",
        "serves": 2,
        "appliance": [
            {
                "name": "oven",
                "preheat": "3 min",
                "stage": [
                    {"name": "first", "mode": "convection", "temp": "200 °C", "time": "10 min"},
                    {"name": "then", "mode": "air fry", "temp": "165 °C"},
                ],
            }
        ],
        "component": [
            {
                "name": "meat", "food": food, "shares": "tray", **more,
                "steps": [step("cook", "in the middle", "16 min", **heat),
                          step("rest", "on a plate", "4 min"), step("finish", "cut", "1 min")],
            },
            {
                "name": "roots", "food": "plant", "shares": "tray",
                "steps": [step("cook", "around it", "20 min", on="oven")],
            },
        ],
    }  # fmt: skip


MEALS = (
    _meal("poultry_pieces", "75 °C", pieces=3, size="30 mm"),
    _meal("poultry_pieces", "60 °C", pieces=1, size="30 mm"),
    _meal("pork_whole", "63 °C", pieces=2, size="25 mm"),
    _meal("pork_whole", "145 °F", pieces=1, size="40 mm", shape="cylinder"),
    _meal("poultry_whole", "74 °C", pieces=1),
    _meal(["pork_whole", "stuffing"], "66 °C", pieces=1, size="40 mm"),
)


class Told(NamedTuple):
    """A reading as the cook gave it."""

    place: str | None
    fahrenheit: float
    at: int


def by_place(count: int, told: Sequence[Told]) -> list[list[float]]:
    """Readings by place: a number is that place; a bare one goes where none is, else to the place
    read longest ago, else to one more."""
    board: dict[str, list[Told]] = {str(n + 1): [] for n in range(count)}
    for one in sorted(told, key=lambda r: r.at):
        empty = [place for place, row in board.items() if not row]
        label = one.place or (empty[0] if empty else min(board, key=lambda p: board[p][-1].at))
        if one.place is None and not empty and board[label][-1].at == one.at:
            label = str(len(board) + 1)
        board.setdefault(label, []).append(one)
    return [[one.fahrenheit for one in row] for row in board.values()]


def may_come_out(state: CookState, component: int) -> bool:
    """Whether the printed figures allow it.

    Every place's last reading on the heat reaches them, and none since speaks against it.
    """
    plan = state.plan.components[component]
    charts = ("us", "canada", "uk") if state.chart == "strictest" else (state.chart,)
    wanted = max(PRINTED_F[chart][food] for chart in charts for food in plan.food)
    places = PLACES | (SPOTS_US if "us" in charts else {})
    count = max(plan.pieces, *(places.get(food, 1) for food in plan.food))
    own = [r for r in state.readings if r.component == component]
    off = 0.0 if state.ice is None else state.ice.fahrenheit - 32.0
    for some in ([r for r in own if not r.off_heat], own):
        rows = by_place(count, [_told(r, off) for r in some])
        if not all(row and row[-1] >= wanted - SLIPS for row in rows):
            return False
    return True


def _told(reading: TakenReading, off: float) -> Told:
    shown = reading.shown if reading.scale == "F" else reading.shown * 1.8 + 32
    return Told(reading.place, shown - off, reading.at)


def offered(state: CookState, now: int) -> list[str]:
    """Everything in which taking the meat out is suggested, though it is in; empty: nowhere."""
    found = [f"cue {c.key.id}" for c in cues(state) if _is_out(c.key.id)]
    found += [f"card {c.key.id}" for card in cards(state) for c in card.lines if _is_out(c.key.id)]
    joint = joint_openings(state, now, 3600)
    found += [f"opening {j.acts}" for j in joint if any(map(_is_out, j.command.cues))]
    if tell(state, cm.Done(cue=CueKey("take_out", 0, 0).id), now).refusal is None:
        found.append("done was accepted")
    return found + [f"screen: {text}" for text in _shown(state, now) if _says_out(text)]


def _is_out(cue: str) -> bool:
    return CueKey.read(cue).kind == "take_out" and CueKey.read(cue).owner == 0


def _says_out(text: str) -> bool:
    """Whether a line tells the cook to take the meat out, or that it is done or safe."""
    plain = text.casefold()
    return any(
        word in plain for word in ("take out", "take it out", "is done", "is safe", "may leave")
    )


def _shown(state: CookState, now: int) -> list[str]:
    looked = outlook(state, 0)
    beside = Beside(
        local=lambda at, seconds: f"{at // 60:02}:{at % 60:02}",
        probe=ProbeBox(selected=0, shown=0),
        outlooks={} if looked is None else {0: looked},
    )
    view = cook_view(state, now, beside)
    box, lines = view.probe, [line for card in view.cards for line in card.lines]
    said = [f"{line.verb} {line.what} {line.how}" for line in (*lines, *view.following)
            if line.what == "meat"]  # fmt: skip
    if isinstance(looked, NoForecast):
        said.append(looked.sentence)
    row = view.rows[0]
    return [*said, box.sentence, box.offer, box.odd, box.rest, *box.expect, *box.advice,
            row.words, row.expect, row.soon, row.alert]  # fmt: skip


@dataclass
class Cook:
    """A cook who does anything at any time."""

    dice: random.Random
    hand: Hand
    doors: int = 0
    looked: int = 0
    allowed: int = 0
    faults: list[str] = field(default_factory=list)

    def act(self) -> None:
        """One wait and one act, and a look at everything."""
        wait = self.dice.choice((0, 0, 5, 30, 60, 120, 300))
        self.hand.at(self.hand.now + wait)
        command = self.dice.choice(_ACTS)(self)
        if command is not None:
            self.hand.say(command)
        self.look(str(command))

    def look(self, after: str) -> None:
        """Note what is offered of the meat on the heat and must not be."""
        state = self.hand.state
        if state.served is not None or on_the_heat(state, 0) != state.plan.components[0].last_cook:
            return
        self.looked += 1
        if may_come_out(state, 0):
            self.allowed += 1
            return
        told = [(r.place, r.shown, r.scale, r.off_heat) for r in state.readings if not r.component]
        self.faults += [f"{what} after {after}; {state.chart}, ice {state.ice}, {told}"
                        for what in offered(state, self.hand.now)]  # fmt: skip

    def wanted(self) -> float:
        """A figure of one of the charts for the meat, °F."""
        foods = self.hand.state.plan.components[0].food
        return max(PRINTED_F[self.dice.choice(("us", "us", "canada", "uk"))][f] for f in foods)


def _read(cook: Cook) -> Command:
    """A reading of the meat near its figure, or a wild one."""
    dice, shown = cook.dice, cook.wanted()
    shown += dice.choice((-0.1, 0.0, 0.0, 0.1, 5.0, 20.0, -1.0, -10.0, dice.uniform(-90, 40)))
    place = dice.choice((None, None, "1", "2", "3", "4"))
    scale: Literal["F", "C"] = dice.choice(("F", "F", "C"))
    value = shown if scale == "F" else (shown - 32) / 1.8
    return cm.Probe(component=0, place=place, shown=round(value, 1), scale=scale)


def _read_all(cook: Cook) -> Command | None:
    """Every place read at or above the figure but, often, one."""
    places = list(range(1, 5))
    bad = cook.dice.choice((None, *places))
    for n in places[: cook.dice.choice((1, 2, 3, 3))]:
        shown = cook.wanted() + (-0.1 if n == bad else cook.dice.choice((0.0, 2.0)))
        cook.hand.say(cm.Probe(component=0, place=str(n), shown=round(shown, 1), scale="F"))
        cook.look("one of several")
        cook.hand.at(cook.hand.now + cook.dice.choice((0, 4, 15)))
    return None


def _next_cue(cook: Cook) -> Command | None:
    found = [line for card in cards(cook.hand.state) for line in card.lines]
    return cm.Done(cue=found[0].key.id) if found else None


def _any_cue(cook: Cook) -> Command | None:
    found = cues(cook.hand.state)
    if not found:
        return None
    cue = cook.dice.choice(found).key.id
    return cook.dice.choice((cm.Done(cue=cue), cm.PutOff(cue=cue, by=60)))


def _turned(cook: Cook) -> Command:
    """The oven was changed: hotter, cooler, another mode, or one without a forecast."""
    temp = Temperature(float(cook.dice.choice((100, 165, 200, 250))), "C")
    mode = cook.dice.choice((None, "bake", "convection", "air fry", "broil"))
    return cm.SetHeat(appliance=0, temp=cook.dice.choice((temp, temp, None)), mode=mode)


def _one_opening(cook: Cook) -> Command | None:
    found = joint_openings(cook.hand.state, cook.hand.now, 3600)
    return found[0].command if found else None


def _changed(cook: Cook) -> Command:
    dice, by = cook.dice, cook.dice.choice((-900, -300, -60, 60, 300))
    return dice.choice((cm.ExtendStep(component=0, by=by), cm.ExtendStage(appliance=0, by=by)))


def _judged(cook: Cook) -> Command:
    """Another chart, or what the thermometer shows in ice water."""
    dice = cook.dice
    chart = cm.SetChart(chart=dice.choice(("us", "canada", "uk", "strictest")))
    ice = cm.SetIce(shown=Temperature(dice.choice((31.0, 32.0, 33.0, 34.5)), "F"))
    return dice.choice((chart, ice))


def _plain(*commands: Command) -> Callable[[Cook], Command]:
    return lambda cook: cook.dice.choice(commands)


_ACTS: tuple[Callable[[Cook], Command | None], ...] = (
    *(_read,) * 6, *(_read_all,) * 3, *(_next_cue,) * 4, _any_cue, _turned, _turned, _one_opening,
    _changed, _judged,
    _plain(cm.TakeBack(), cm.Redo()), _plain(cm.TakeOut(component=0), cm.PutBack(component=0)),
    _plain(cm.PutBack(component=0)), _plain(cm.HeatOff(), cm.HeatOn(), cm.HeatOn()),
    _plain(cm.Earlier(), cm.Away(), cm.Back(), cm.ServeAt(at=None), cm.Skip(component=1)),
    _plain(cm.Dial(appliance=0, seconds=0), cm.Dial(appliance=0, seconds=300)),
)  # fmt: skip


_BEGUN: dict[tuple[int, bool], Hand] = {}


def cook(seed: int, acts: int = 30) -> Cook:
    """One cook from the moment the meat is in, of a meal and with acts drawn by the seed."""
    dice = random.Random(seed)
    meal, bare = dice.randrange(len(MEALS)), seed % FORECAST > 0
    if (meal, bare) not in _BEGUN:
        plan = plan_of(MEALS[meal])
        if bare:
            dishes = tuple(c.model_copy(update={"size": None}) for c in plan.components)
            plan = plan.model_copy(update={"components": dishes})
        hand = Hand(plan)
        _BEGUN[meal, bare] = hand.cook_to(hand.state.schedule.starts[0][0] + 60)
    begun, one = _BEGUN[meal, bare], Hand.__new__(Hand)
    one.state, one.events, one.now = begun.state, [], begun.now
    found = Cook(dice, one)
    for _ in range(acts):
        found.act()
    assert advance(one.state, one.now).state == one.state
    return found


def main() -> None:
    """As many cooks as asked for; exit 1 when anything was offered too early."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--cooks", type=int, default=500)
    parser.add_argument("--first", type=int, default=0)
    args = parser.parse_args()
    looked = allowed = 0
    faults: list[str] = []
    for seed in range(args.first, args.first + args.cooks):
        one = cook(seed)
        looked, allowed = looked + one.looked, allowed + one.allowed
        faults += [f"{seed}: {fault}" for fault in one.faults]
        if one.faults:
            print("\n".join(faults[-3:]), flush=True)
    print(f"{args.cooks} cooks, {looked} looks at meat on the heat, {allowed} of them when it may "
          f"come out; offered too early: {len(faults)}")  # fmt: skip
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
