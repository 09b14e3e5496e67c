"""How long a change takes to be shown before it is taken, beside one replan of the same cook.

python tests/bench/bench_preview.py

An invented meal of eight components on two appliances, looked at while it cooks. Prints, for each
kind of change, the median in CPU time of its preview (what is asked: under 10 ms), of its ways
out, and how many replans that is.
"""

import statistics
import time
from collections.abc import Callable
from typing import Any

from passbell.cook import commands as cm
from passbell.cook.cards import cards, is_due
from passbell.cook.engine import advance, begin, tell
from passbell.cook.preview import preview
from passbell.cook.replan import problem_now
from passbell.cook.serving import serving_later
from passbell.cook.state import CookState
from passbell.cook.together import joint_openings
from passbell.cook.wake import next_wake
from passbell.cook.ways import ways_out
from passbell.plan.model import Plan
from passbell.schedule.solve import solve_live

RUNS = 15


def _roast(name: str, prep: int, cook: int, **more: Any) -> dict[str, Any]:
    return {
        "name": name,
        "food": "plant",
        "steps": [
            {"prep": "cut", "time": f"{prep} min"},
            {"cook": "in", "time": f"{cook} min", "on": "oven", **more},
            {"finish": "onto the plates", "time": "1 min"},
        ],
    }


MEAL: dict[str, Any] = {
    "title": "Invented meal of eight",
    "serves": 4,
    "appliance": [
        {
            "name": "oven",
            "preheat": "10 min",
            "stage": [
                {"name": "roast", "temp": "200 °C", "time": "30 min"},
                {"name": "crisp", "temp": "220 °C", "time": "20 min", "spare": "4 min"},
            ],
        },
        {"name": "hob", "preheat": "6 min"},
    ],
    "component": [
        _roast("potatoes", 6, 50, during=[{"at": "halfway", "do": "turn"}]),
        _roast("carrots", 5, 35),
        _roast("onions", 3, 30),
        _roast("beans", 3, 12, stage="crisp"),
        {
            "name": "pork chops",
            "food": "pork_whole",
            "shares": "rack",
            "steps": [
                {"prep": "salt", "time": "3 min"},
                {"cook": "on the rack", "time": "18 min", "on": "oven", "stage": "crisp",
                 "until": "63 °C"},
                {"rest": "on a board", "time": "6 min"},
                {"finish": "slice", "time": "2 min"},
            ],
        },
        {"name": "rice", "steps": [{"cook": "lid on", "time": "18 min", "on": "hob"},
                                   {"finish": "fluff", "time": "1 min"}]},
        {"name": "sauce", "steps": [{"cook": "simmer", "time": "8 min", "on": "hob"}]},
        {"name": "salad", "steps": [{"prep": "wash", "time": "4 min"},
                                    {"finish": "on the table", "time": "1 min"}]},
    ],
}  # fmt: skip


def cooked(minute: int) -> CookState:
    """The meal up to a minute, everything done the moment it is due."""
    state = begin(Plan.of(MEAL)).state
    while True:
        due = [c for card in cards(state) for c in card.lines if is_due(state, c)]
        told = (tell(state, cm.Done(cue=cue.key.id), state.at) for cue in due)
        after = next((o.state for o in told if o.refusal is None), None)
        wake = next_wake(state)
        if after is not None:
            state = after
        elif wake is None or wake > minute * 60:
            return advance(state, minute * 60).state
        else:
            state = advance(state, wake).state


def median_ms(task: Callable[[], object]) -> float:
    """The median of some runs, in CPU time."""
    times = []
    for _ in range(RUNS):
        begun = time.process_time_ns()
        task()
        times.append((time.process_time_ns() - begun) / 1e6)
    return statistics.median(times)


def changes(state: CookState, now: int) -> dict[str, cm.Command]:
    """One change of each kind that moves time."""
    to_add = (c for card in cards(state) for c in card.lines if c.key.kind == "add")
    cue = next(to_add, None)
    found: dict[str, cm.Command] = {
        "a stage longer": cm.ExtendStage(appliance=0, by=240),
        "a component longer": cm.ExtendStep(component=1, by=240),
        "taken out early": cm.TakeOut(component=0),
        "heat off": cm.HeatOff(appliance=0),
        "serve later": cm.ServeAt(at=now + 4500),
    }
    return found | ({"added late": cm.PutOff(cue=cue.key.id, by=180)} if cue else {})


def main() -> None:
    """Print the table."""
    print(f"{'minute':>6} {'change':20} {'preview ms':>10} {'replans':>8} {'ways out ms':>12}")
    every: list[float] = []
    for minute in (24, 34, 44):
        state, now = cooked(minute), minute * 60
        one = median_ms(lambda s=state, n=now: solve_live(problem_now(s, n)))  # type: ignore[misc]
        print(f"{minute:6} {'one replan':20} {one:10.2f} {1:8.1f}")
        for name, change in changes(state, now).items():
            lasting = 300 if name == "heat off" else 0
            seen = median_ms(
                lambda s=state, c=change, n=now, w=lasting: preview(s, c, n, w)  # type: ignore[misc]
            )
            ways = median_ms(lambda s=state, c=change, n=now: ways_out(s, c, n))  # type: ignore[misc]
            every.append(seen)
            print(f"{minute:6} {name:20} {seen:10.2f} {seen / one:8.1f} {ways:12.2f}")
        later = cm.ServeAt(at=now + 4500)
        held = median_ms(lambda s=state, c=later, n=now: serving_later(s, c, n))  # type: ignore[misc]
        near = median_ms(lambda s=state, n=now: joint_openings(s, n))  # type: ignore[misc]
        print(f"{minute:6} {'what is held back':20} {held:10.2f} {held / one:8.1f}")
        print(f"{minute:6} {'shared openings':20} {near:10.2f} {near / one:8.1f}")
    print(f"median of the previews: {statistics.median(every):.2f} ms (asked: under 10)")


if __name__ == "__main__":
    main()
