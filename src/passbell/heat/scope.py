"""What a forecast cannot be made for, and the reason said to the cook."""

import re
from collections.abc import Iterable, Sequence
from typing import Final

from passbell.heat.model import ModeKey, NoForecast, NoReason

SENTENCES: Final[dict[NoReason, str]] = {
    "no_until": "No temperature to wait for (until): only the countdown.",
    "no_size": "No size: write how thick it is to get a forecast; until then only the countdown.",
    "no_air": "No oven temperature here: a forecast needs hot dry air of a known temperature.",
    "one_sided": "The heat comes from one side (broiler, grill or pan): no forecast, probe.",
    "bones": "Bones lead heat their own way: no forecast, probe.",
    "stuffing": "Stuffing is a body of its own: no forecast, probe.",
    "foil": "Under foil or a lid the surface is unknown: no forecast, probe.",
    "frozen": "Frozen food thaws first: no forecast, probe.",
}
"""Why there is no forecast, in words."""

_FOODS: dict[str, NoReason] = {"poultry_whole": "bones", "stuffing": "stuffing"}
_HARMLESS = re.compile(
    r"\bfoil[- ]lined\b|\blined with (?:\w+ )?foil\b|\bfoil[- ]covered tray\b|\bnot frozen\b"
    r"|\bunstuffed\b|\bun-?covered\b|\boff the bone\b|\bthawed\b[^,;.]*\bfrozen\b"
    r"|\bwithout (?:a )?lid\b"
)
_WORDS: tuple[tuple[re.Pattern[str], NoReason], ...] = (
    (re.compile(r"\bbone[- ]in\b|\bon the bone\b|\bspare ?ribs\b|\bribs\b"), "bones"),
    (re.compile(r"\bdrumsticks?\b|\bwings?\b"), "bones"),
    (re.compile(r"\bstuffed\b|\bstuffing\b"), "stuffing"),
    (re.compile(r"\bfoil\b|\blid\b|\b(?:un)?cover(?:ed)?\b"), "foil"),
    (re.compile(r"\bfrozen\b|\bfreezer\b"), "frozen"),
)
_ONE_SIDED = re.compile(r"\bbroil|\bgrill|\bsear|\bgriddle|\bpan\b|\bfrying|\bplancha")
_WET = re.compile(r"\bsteam|\bboil|\bsimmer|\bpoach|\bmicrowave|\bbrais")
_AIR_FRY = re.compile(r"\bair[- ]?fr")
_SETTING = re.compile(
    r"\bbake|\broast|\bconvection|\bfan\b|\bair[- ]?fr|\bbroil|\bgrill|\bconventional|\bturbo"
)
_FAN = re.compile(r"\bconvection|\bfan\b|\bforced|\bturbo")


def no_forecast(reason: NoReason) -> NoForecast:
    """The answer that there is no forecast, with its sentence."""
    return NoForecast(reason, SENTENCES[reason])


def reason_in(foods: Sequence[str], texts: Iterable[str]) -> NoReason | None:
    """Why this food is out of scope, from its chart keys and from what its plan says of it.

    Args:
        foods: keys of the temperature chart.
        texts: name, ingredients and instructions.
    """
    for food in foods:
        if food in _FOODS:
            return _FOODS[food]
    for text in texts:
        plain = _HARMLESS.sub(" ", text.casefold())
        for pattern, reason in _WORDS:
            if pattern.search(plain):
                return reason
    return None


def is_setting(words: str) -> bool:
    """Whether words name something an oven's knob may be set to ("fan", "air fry", "broil")."""
    return _SETTING.search(words.casefold()) is not None


def mode_of(words: str | None) -> ModeKey | NoForecast:
    """The kind of surroundings that an appliance's mode names, or why it has none.

    Words that name neither a fan nor an air fryer are an ordinary oven.
    """
    named = (words or "").casefold()
    if _AIR_FRY.search(named):
        return "air_fry"
    if _ONE_SIDED.search(named):
        return no_forecast("one_sided")
    if _WET.search(named):
        return no_forecast("no_air")
    return "convection" if _FAN.search(named) else "bake"
