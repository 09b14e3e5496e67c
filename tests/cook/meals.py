"""Invented meals for the tests of the engine, and a hand that cooks them."""

from copy import copy
from typing import Any

from passbell.cook.cards import cards, first_cue
from passbell.cook.commands import Command, Done
from passbell.cook.cue import Cue
from passbell.cook.cues import cues
from passbell.cook.engine import advance, begin, tell
from passbell.cook.events import Event
from passbell.cook.state import CookState
from passbell.plan.model import Plan


def step(kind: str, text: str, time: str, **more: Any) -> dict[str, Any]:
    """One step as a plan file holds it."""
    return {kind: text, "time": time, **more}


TRAY: dict[str, Any] = {
    "title": "Invented tray supper",
    "serves": 2,
    "appliance": [
        {
            "name": "oven",
            "preheat": "3 min",
            "stage": [
                {"name": "roast", "mode": "convection", "temp": "400 °F", "time": "16 min"},
                {
                    "name": "crisp",
                    "mode": "air fry",
                    "temp": "375 °F",
                    "time": "14 min",
                    "spare": "3 min",
                },
            ],
        }
    ],
    "component": [
        {
            "name": "carrots",
            "food": "plant",
            "steps": [
                step("prep", "peel", "6 min"),
                step(
                    "cook",
                    "single layer",
                    "30 min",
                    on="oven",
                    during=[{"at": "halfway", "do": "toss them"}],
                ),
            ],
        },
        {
            "name": "chicken thighs",
            "food": "poultry_pieces",
            "pieces": 2,
            "steps": [
                step("prep", "pat dry", "4 min"),
                step(
                    "cook",
                    "skin up",
                    "14 min",
                    on="oven",
                    stage="crisp",
                    until="75 °C",
                    check="11 min",
                ),
                step("rest", "on a warm plate", "5 min"),
            ],
        },
        {
            "name": "green beans",
            "food": "plant",
            "steps": [
                step("prep", "top and tail", "3 min"),
                step("cook", "left side", "12 min", on="oven"),
            ],
        },
    ],
}
"""One tray, a mode change, chicken probed; its best schedule serves 41 minutes after the start."""

CHOPS: dict[str, Any] = {
    "title": "Invented pork chops and rice",
    "serves": 2,
    "appliance": [
        {"name": "pan", "preheat": "2 min", "holds": 1},
        {"name": "back burner", "preheat": "8 min", "holds": 1},
    ],
    "component": [
        {
            "name": "pork chops",
            "food": "pork_whole",
            "pieces": 1,
            "steps": [
                step("prep", "salt", "2 min"),
                step("cook", "fry", "10 min", on="pan", until="63 °C"),
                step("rest", "on a board", "2 min"),
                step("finish", "slice", "1 min"),
            ],
        },
        {
            "name": "rice",
            "food": "plant",
            "steps": [
                step("cook", "lid on", "18 min", on="back burner"),
                step("finish", "fluff", "1 min"),
            ],
        },
        {"name": "butter", "steps": [step("finish", "butter on the table", "0 min")]},
    ],
}
"""A pan and a boil-up, pork with the three minutes of rest that the US chart prints."""

WAYS: dict[str, Any] = {
    "title": "Invented meal of odd steps",
    "serves": 2,
    "hands": 2,
    "appliance": [
        {"name": "pan", "holds": 2},
        {
            "name": "oven",
            "preheat": "4 min",
            "door": "stops",
            "stage": [
                {"name": "low", "mode": "bake", "temp": "170 °C"},
                {
                    "name": "high",
                    "mode": "broil",
                    "temp": "230 °C",
                    "time": "6 min",
                    "spare": "1 min",
                },
            ],
        },
    ],
    "component": [
        {
            "name": "peas",
            "food": "plant",
            "steps": [step("rest", "thaw", "9 min"), step("cook", "boil", "1 min", on="pan")],
        },
        {
            "name": "pork chop",
            "food": "pork_whole",
            "shares": "chop tray",
            "steps": [
                step("prep", "salt", "1 min"),
                step(
                    "cook",
                    "sear",
                    "4 min",
                    on="pan",
                    hands="2 min",
                    during=[{"at": "halfway", "do": "turn it"}],
                ),
                step("cook", "through", "8 min", on="oven", stage="low", until="63 °C"),
                step("finish", "slice", "1 min", hands="0 min"),
            ],
        },
        {
            "name": "bread",
            "steps": [
                step("cook", "crisp", "6 min", on="oven", stage="high", until="90 °C"),
                step("rest", "on a rack", "2 min"),
            ],
        },
        {"name": "salad", "steps": [step("finish", "on the table", "0 min")]},
    ],
}
"""Two appliances, thawing first, a step of one minute, food that fills its program."""

COLD: dict[str, Any] = {
    "title": "Invented cold plates",
    "serves": 1,
    "call": "0 min",
    "component": [
        {"name": "cheese", "steps": [step("finish", "cut", "2 min")]},
        {
            "name": "cucumber",
            "food": "plant",
            "steps": [
                step("prep", "slice", "2 min", keep="30 min"),
                step("rest", "in salt", "5 min"),
                step("finish", "dress", "1 min"),
            ],
        },
    ],
}
"""No appliance at all."""


def plan_of(data: dict[str, Any], **changes: Any) -> Plan:
    """A plan from one of the meals, with some top-level keys changed."""
    return Plan.of({**data, **changes})


class Hand:
    """Cooks a meal with a clock moved by hand, keeping every event."""

    def __init__(self, data: dict[str, Any] | Plan = TRAY, serve: int | None = None) -> None:
        plan = data if isinstance(data, Plan) else plan_of(data)
        outcome = begin(plan, serve)
        self.state: CookState = outcome.state
        self.events: list[Event] = list(outcome.events)
        self.now = 0

    def at(self, now: int) -> "Hand":
        """Let time pass."""
        outcome = advance(self.state, now)
        self.state, self.now = outcome.state, now
        self.events.extend(outcome.events)
        return self

    def say(self, command: Command) -> str | None:
        """Say something now; the refusal, if any."""
        outcome = tell(self.state, command, self.now)
        self.state = outcome.state
        self.events.extend(outcome.events)
        return outcome.refusal

    def done(self, text: str = "") -> Cue:
        """Do the first cue whose text holds `text`."""
        cue = self.find(text) if text else first_cue(self.state)
        assert cue is not None
        refusal = self.say(Done(cue=cue.key.id))
        assert refusal is None, refusal
        return cue

    def find(self, text: str) -> Cue:
        """The first cue whose text holds `text`."""
        return next(cue for cue in cues(self.state) if text in cue.text)

    def offered(self) -> list[str]:
        """The texts of all open cues."""
        return [cue.text for cue in cues(self.state)]

    def due(self) -> list[str]:
        """The texts of the cues that are due."""
        table = {c.key.id: c.text for c in cues(self.state)}
        return [table[cue] for cue, known in self.state.cues if cue in table and not known.until]

    def cook_to(self, now: int) -> "Hand":
        """Do every cue the moment it is due, up to an instant; probes are looked at only."""
        from passbell.cook.cards import is_due
        from passbell.cook.wake import next_wake

        while True:
            line = next(
                (c for card in cards(self.state) for c in card.lines if is_due(self.state, c)), None
            )
            if line is not None:
                self.say(Done(cue=line.key.id))
                continue
            wake = next_wake(self.state)
            if wake is None or wake > now:
                return self.at(now)
            self.at(wake)


_COOKED: dict[tuple[int, int], Hand] = {}


def cooked(now: int, data: dict[str, Any] = TRAY) -> Hand:
    """A meal cooked up to an instant, everything done the moment it was due; worked out once."""
    known = _COOKED.setdefault((id(data), now), Hand(data))
    if known.now < now:
        known.cook_to(now)
    hand = copy(known)
    hand.events = [*known.events]
    return hand
