"""Meals to be published: invented ones, one with hostile names, and one that was cooked."""

import tempfile
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from passbell.cook.engine import begin
from passbell.cook.state import CookState
from passbell.export.meal import Meal, meal_of_plan, meal_of_run
from passbell.journal import Journal
from passbell.plan.model import Plan
from passbell.session.runs import load_run
from passbell.units import clean_text
from tests.cook.meals import TRAY
from tests.session.kitchen import TEXT, cook_it

START = 1_800_000_000.0
"""Wall clock at engine second 0 of these meals: 2027-01-15 08:00 UTC."""

NASTY = (
    "a, b; c", "x --> y", "</script><script>", '"q"', "'s'", "=1+1", "+2", "-3", "@x", "# head",
    "- item", "1. one", "*b* _i_ `c`", "[t](http://x.invalid)", "<b>&amp;", "| a |",
    "www.x.invalid", "https://x.invalid", "\\n\\", "line\nbreak", "\x07\x1b[31m", "NOTE x",
    "BEGIN:VEVENT", "٣ بصل",
    "🍋‍🟩", "\u2028", "1) x", "> q", "&#60;", "~~s~~", "$x$", "00:00 title", "=cmd|' /C calc'!A0",
)  # fmt: skip
"""Pieces of names that mean something to one format or another."""

names = st.lists(st.sampled_from(NASTY) | st.text(max_size=8), min_size=1, max_size=3).map(
    lambda parts: clean_text(" ".join(parts)) or "x"
)


def dressed(words: dict[str, str]) -> dict[str, Any]:
    """The tray supper with some of its texts replaced by others."""
    oven = f"{words['oven']}."
    kept = []
    for component in TRAY["component"]:
        steps = [s | {"on": oven} if "on" in s else s for s in component["steps"]]
        kept.append(component | {"steps": steps})
    strange = kept.pop()
    strange |= {
        "name": f"{words['name']}.",
        "steps": [{**strange["steps"][0], "prep": words["text"]}, *strange["steps"][1:]],
        "ingredients": [words["line"], "200 g beans"],
        "doneness": words["doneness"],
    }
    first, second = TRAY["appliance"][0]["stage"]
    stages = [first | {"mode": words["mode"]}, second]
    return {
        **TRAY,
        "title": words["title"],
        "notes": words["note"],
        "ingredients": ["2 tbsp oil"],
        "appliance": [TRAY["appliance"][0] | {"name": oven, "stage": stages}],
        "component": [*kept, strange],
    }


PLACES = ("title", "name", "text", "line", "doneness", "note", "oven", "mode")
"""Where a plan takes any text."""

hostile = st.fixed_dictionaries(dict.fromkeys(PLACES, names)).map(dressed)
"""Plain data of plans with hostile names."""


def state_of(data: dict[str, Any]) -> CookState:
    return begin(Plan.of(data)).state


def planned(data: dict[str, Any]) -> Meal:
    return meal_of_plan(state_of(data), START)


def noted(meal: Meal, text: str) -> Meal:
    """The same meal with a remark on each component and on what it made."""
    found = tuple(replace(c, notes=(text,)) for c in meal.account.components)
    return replace(meal, account=replace(meal.account, components=found, made=text))


SCRIPT = "30 mark\n2350 thighs 160\n2580 thighs 168\n"
"""The camera rolls, a reading is too low, and one is not."""


@cache
def cooked(script: str = SCRIPT, rehearsal: bool = False) -> Meal:
    """The thighs and beans of the tests of runs, cooked by a script; each cook once."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        file = folder / "thighs.toml"
        file.write_text(TEXT, encoding="utf-8")
        with Journal.open(folder / "home") as journal:
            session = cook_it(journal, file, script, rehearsal=rehearsal)
            assert session.record is not None
            return meal_of_run(load_run(journal, session.record.run))
