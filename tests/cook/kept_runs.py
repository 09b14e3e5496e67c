"""Invented runs without cooking them: what was planned, with what went otherwise put in."""

from dataclasses import replace
from functools import lru_cache

from passbell.cook.account import TURNED_OUT, account
from passbell.cook.engine import begin
from passbell.cook.kept import Kept, Source
from passbell.cook.kitchen import Habit
from passbell.cook.prepare import prepared
from passbell.cook.state import CookState, Remark, TakenReading
from passbell.plan.read import read_plan

TEXT = """\
title  = "Roots and beans"
serves = 2

[[appliance]]
name    = "oven"
preheat = "10 min"

  [[appliance.stage]]
  name = "roast"
  time = "40 min"

[[component]]
name  = "carrots"
food  = "plant"
steps = [
  { prep = "peel", time = "8 min" },
  { cook = "middle", on = "oven", time = "40 min", during = [{ at = "20 min", do = "turn" }] },
]

[[component]]
name  = "green beans"
food  = "plant"
steps = [
  { prep = "top and tail", time = "3 min" },
  { cook = "left side", on = "oven", time = "12 min", check = "10 min" },
]
"""

MEAT = TEXT.replace(
    'name  = "green beans"\nfood  = "plant"', 'name  = "thighs"\nfood  = "poultry_pieces"'
).replace('time = "12 min"', 'time = "12 min", until = "75 °C"')

Ends = dict[tuple[str, int], int]
"""For (component, step): how many seconds longer than planned it took."""


@lru_cache
def _state(text: str, kitchen: tuple[Habit, ...]) -> CookState:
    return begin(read_plan(text, "roots.toml"), kitchen=kitchen).state


def run(
    number: int,
    longer: Ends | None = None,
    scores: dict[str, str] | None = None,
    *,
    text: str = TEXT,
    kitchen: tuple[Habit, ...] = (),
    rehearsal: bool = False,
    later: dict[str, int] | None = None,
    preheat: int = 600,
    readings: tuple[TakenReading, ...] = (),
    stage_extra: int = 0,
) -> Kept:
    """A finished run that went as planned, but for what is said."""
    state = _state(text, kitchen)
    for c, component in enumerate(state.plan.components):
        shift = (later or {}).get(component.name, 0)
        for i in range(len(component.steps)):
            start, end = state.first.starts[c][i] + shift, state.first.ends[c][i] + shift
            shift += (longer or {}).get((component.name, i), 0)
            end += (longer or {}).get((component.name, i), 0)
            step = replace(state.steps[c][i], began=start, ended=end, began_noted=start)
            state = state.with_step(c, i, step)
    names = [component.name for component in state.plan.components]
    remarks = tuple(
        Remark(0, TURNED_OUT + score, names.index(name)) for name, score in (scores or {}).items()
    )
    on = state.first.on[0]
    assert on is not None
    oven = replace(state.appliances[0], on=on, ready=on + preheat)
    if stage_extra:
        oven = replace(oven, stage_extra=(stage_extra,))
    state = replace(
        state.with_appliance(0, oven),
        remarks=remarks,
        served=state.first.dish_up,
        readings=readings,
    )
    source = Source(number, "/plans/roots.toml", text, "0", 1_800_000_000.0 + number * 86400, 0,
                    1.0, rehearsal, "finished")  # fmt: skip
    return Kept(source, prepared(read_plan(text, "roots.toml")), account(state), kitchen)
