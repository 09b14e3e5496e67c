"""What runs teach about a kitchen's appliances, held back by doubt.

Every lesson is a ratio: as it went, over as it is written. The mean of n lessons is drawn towards
one (the plan is right) by the weight n / (n + DOUBT). That is the mean of a normal posterior under
a normal prior around zero for the logarithm of the ratio, where DOUBT is the variance of a lesson
over the variance between kitchens ("Bayesian Data Analysis", third edition, CRC Press 2013,
section 2.5). That DOUBT is two, and every bound below, is our own judgement: no source.
"""

import math
from collections.abc import Iterable, Sequence
from statistics import fmean, median
from typing import Annotated

from pydantic import Field

from passbell.cook.account import ComponentAccount, StepAccount
from passbell.cook.kept import Kept
from passbell.cook.kitchen import Habit
from passbell.plan.model import Step, Words
from passbell.units import Frozen, Temperature

DOUBT = 2.0
"""How many lessons the plan's own figure weighs."""

BELIEVED = 2
"""Fewer runs than this change no plan."""

SLIGHT = 0.02
"""A habit within this share of the plan's figure changes nothing."""

ODD = 2.0
"""A ratio beyond this, either way, is no lesson: something else happened."""

NEAR = 180
"""Readings on both sides of a temperature within this, in seconds, or a fifth of the time, tell."""

SHORTEST = 60
"""A written time below this, in seconds, teaches nothing."""


THERMOMETER = "thermometer"
"""Whose lesson it is what was shown in ice water."""


Ratio = Annotated[float, Field(ge=1 / ODD, le=ODD)]
"""As it went, over as it is written."""


class Lesson(Frozen):
    """What one run showed of one appliance; a ratio that is None was not shown.

    Attributes:
        run: the run's number.
        began: its wall clock at the start, whole seconds since 1970-01-01 UTC.
        appliance: its name.
        preheat: how long it heated up, over what the plan's text says.
        pace: how long food took in it, over what the plan's text says.
        ice: what the thermometer showed in ice water; its lesson has the name THERMOMETER.
    """

    run: int
    began: int
    appliance: Words
    preheat: Ratio | None = None
    pace: Ratio | None = None
    ice: Temperature | None = None


def teaches(kept: Kept) -> bool:
    """Whether anything may be learned from a run: a whole, finished cook in real time."""
    source = kept.source
    return (
        not source.rehearsal and source.speed == 1 and source.state == "finished" and not kept.lost
    )


def lessons_of(kept: Kept) -> tuple[Lesson, ...]:
    """What a run teaches of each appliance; nothing where it shows nothing."""
    if not teaches(kept):
        return ()
    found = []
    for index, appliance in enumerate(kept.plan.appliances):
        real = kept.account.appliances[index]
        took = real.ready - real.on if real.ready is not None and real.on is not None else None
        paces = _paces(kept, appliance.name)
        lesson = Lesson(
            run=kept.source.run,
            began=int(kept.source.started_utc),
            appliance=appliance.name,
            preheat=_ratio(took, appliance.preheat),
            pace=median(paces) if paces else None,
        )
        if lesson.preheat is not None or lesson.pace is not None:
            found.append(lesson)
    return (*found, *_ice(kept))


def _ice(kept: Kept) -> tuple[Lesson, ...]:
    shown = kept.account.ice
    if shown is None:
        return ()
    began = int(kept.source.started_utc)
    return (Lesson(run=kept.source.run, began=began, appliance=THERMOMETER, ice=shown),)


def thermometer_error(lessons: Iterable[Lesson]) -> tuple[float, int]:
    """What the thermometer showed above 0 °C in ice water, in °C, and in how many runs.

    The middle of the runs, held back by nothing: it corrects no reading and softens no verdict; it
    only says whether to check again.
    """
    shown = [lesson.ice.celsius for lesson in lessons if lesson.ice is not None]
    return (median(shown), len(shown)) if shown else (0.0, 0)


def _ratio(took: int | None, written: int) -> float | None:
    if took is None or written < SHORTEST:
        return None
    ratio = took / written
    return round(ratio, 4) if 1 / ODD <= ratio <= ODD else None


def _paces(kept: Kept, appliance: str) -> list[float]:
    """How the food in an appliance went, where its time was tested.

    The error of a time that was reckoned (another size, another setting) is not the appliance's.
    """
    found = []
    for plan, real in zip(kept.plan.components, kept.account.components, strict=True):
        if plan.reckoned is not None:
            continue
        for step, went in zip(plan.steps, real.steps, strict=True):
            if step.on == appliance:
                ratio = _ratio(needed_time(step, real, went), step.time)
                found += [] if ratio is None else [ratio]
    return found


def needed_time(step: Step, real: ComponentAccount, went: StepAccount) -> int | None:
    """How long the food needed, in seconds, where that is known: just right, or by the probe.

    Args:
        step: as written.
        real: the component, with its readings.
        went: the step as it went.
    """
    if real.skipped or went.time is None:
        return None
    if real.score is not None:
        return went.time - went.off if real.score == "just right" else None
    return probed_time(step, real, went)


def probed_time(step: Step, real: ComponentAccount, went: StepAccount) -> int | None:
    """How long food took to its probe temperature, by readings on both sides of it.

    Half-way between the last reading below and the first that reaches it; a first reading that
    reaches it says only that it was there before, and so do readings far apart.

    Args:
        step: as written.
        real: the component, with its readings.
        went: the step as it went.
    """
    if step.until is None or went.start is None or went.end is None:
        return None
    if real.verdict not in ("", "met"):
        return None
    wanted = step.until.celsius
    inside = [r for r in real.readings if went.start <= r.at <= went.end]
    heats = [(r.at, Temperature(r.shown, r.scale).celsius) for r in inside]
    below = [at for at, heat in heats if heat < wanted]
    above = [at for at, heat in heats if heat >= wanted and below and at > below[-1]]
    if not above or above[0] - below[-1] > max(NEAR, step.time // 5):
        return None
    return (below[-1] + above[0]) // 2 - went.start - went.off


def held_back(ratios: Sequence[float]) -> float:
    """The mean of ratios drawn towards one: exp(Σ ln r / (n + DOUBT)); 1 without any."""
    return (
        math.exp(fmean(map(math.log, ratios)) * len(ratios) / (len(ratios) + DOUBT))
        if ratios
        else 1.0
    )


def habits(lessons: Iterable[Lesson]) -> tuple[Habit, ...]:
    """What lessons come to, an appliance each, in the order of their names.

    The runs of a habit are those that showed whichever of the two ratios it changes.
    """
    table: dict[str, list[Lesson]] = {}
    for lesson in lessons:
        if lesson.ice is None:
            table.setdefault(lesson.appliance, []).append(lesson)
    return tuple(_habit(name, table[name]) for name in sorted(table))


def _habit(name: str, lessons: list[Lesson]) -> Habit:
    preheats = [lesson.preheat for lesson in lessons if lesson.preheat is not None]
    paces = [lesson.pace for lesson in lessons if lesson.pace is not None]
    return Habit(
        appliance=name,
        preheat=_known(preheats),
        pace=_known(paces),
        runs=len({(lesson.run, lesson.began) for lesson in lessons}),
    )


def _known(ratios: list[float]) -> float:
    """A ratio to go by; 1 while there are too few lessons or they say next to nothing."""
    found = held_back(ratios)
    return round(found, 4) if len(ratios) >= BELIEVED and abs(found - 1) >= SLIGHT else 1.0
