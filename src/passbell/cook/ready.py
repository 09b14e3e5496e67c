"""Is a plan ready to be published: a plain test on its last runs.

The practice of recipe testing, no source: the last two runs agree, and the last was cooked from
the text without a change. Food with a published minimum must have met it besides.
"""

from dataclasses import dataclass

from passbell.cook.compare import agree, compared, tolerance
from passbell.cook.kept import Kept
from passbell.cook.kitchen import adjusted
from passbell.cook.lessons import teaches
from passbell.cook.wording import minutes, spoken
from passbell.plan.model import Plan


@dataclass(frozen=True, slots=True)
class Point:
    """One thing that is asked: whether it holds, and a sentence that says so."""

    holds: bool
    text: str


@dataclass(frozen=True, slots=True)
class Ready:
    """Whether a plan is ready.

    Attributes:
        points: what is asked.
        remarks: what else to look at; it does not count.
    """

    points: tuple[Point, ...]
    remarks: tuple[str, ...] = ()

    @property
    def ready(self) -> bool:
        """Whether every point holds."""
        return all(point.holds for point in self.points)


def ready(runs: tuple[Kept, ...], plan: Plan | None) -> Ready:
    """The test on the runs of one plan.

    Args:
        runs: the oldest first; rehearsals and cooks that were given up do not count.
        plan: the plan as its file says now, the chart's rests put in; None: the file is gone.
    """
    real = [kept for kept in runs if teaches(kept)]
    if len(real) < 2:
        told = "no cook counts yet" if not real else "only one cook counts yet"
        return Ready((Point(holds=False, text=f"{told}: rehearsals do not, two are needed"),))
    before, last = real[-2], real[-1]
    points = (*_agreement(before, last), *_from_the_text(last, plan), *_minimums(last))
    return Ready(points, _remarks(last))


def _agreement(before: Kept, last: Kept) -> tuple[Point, ...]:
    found = compared((before, last))
    pair = f"runs {before.source.run} and {last.source.run}"
    off = []
    for side in found.sides:
        for word, key in (("in", "went_in"), ("out", "came_out")):
            values = tuple(getattr(w, key) for w in side.went)
            if not agree(values, side.tolerance):
                apart = _apart(values)
                off.append(f"{side.name} {word} {apart}, {spoken(side.tolerance)} allowed")
    if off:
        return (Point(holds=False, text=f"{pair} do not agree: {'; '.join(off)}"),)
    rule = "a minute, or a twentieth of the time on the heat"
    return (Point(holds=True, text=f"{pair} agree on every in and out within {rule}"),)


def _apart(values: tuple[int | None, ...]) -> str:
    there = [value for value in values if value is not None]
    if len(there) < len(values):
        return "only in one of them"
    return f"{minutes(max(there) - min(there))} apart"


def _from_the_text(last: Kept, plan: Plan | None) -> tuple[Point, ...]:
    changes = changes_on_the_way(last)
    who = f"run {last.source.run}"
    if plan is None:
        return (Point(holds=False, text="the plan file is gone: nothing to publish it from"),)
    if plan.serves != last.plan.serves:
        text = f"{who} was cooked for {last.plan.serves}, the text is for {plan.serves}"
        return (Point(holds=False, text=f"{text}: cook it once more as it is written"),)
    if plan != last.plan.model_copy(update={"chart": plan.chart}):
        text = f"the plan was changed after {who}: cook it once more from the text"
        return (Point(holds=False, text=text),)
    if changes:
        text = f"{who} was not cooked as the text says: {'; '.join(changes)}"
        return (Point(holds=False, text=text),)
    return (Point(holds=True, text=f"{who} was cooked unchanged from the text"),)


def changes_on_the_way(kept: Kept) -> tuple[str, ...]:
    """What was changed in a cook, against the text it was cooked from, in words.

    What the kitchen itself made of the text's times is no change.
    """
    found = []
    as_cooked = adjusted(kept.plan, kept.kitchen)
    for plan, real in zip(as_cooked.components, kept.account.components, strict=True):
        if real.skipped:
            found.append(f"{real.name} left out")
            continue
        for step, went in zip(plan.steps, real.steps, strict=True):
            if step.kind != "cook":
                continue
            if went.time is None:
                found.append(f"{real.name} never came off the heat")
            elif not agree((went.time, step.time), tolerance(step.time)):
                took, said = minutes(went.time), minutes(step.time)
                found.append(f"{real.name} on the heat for {took} instead of {said}")
            elif went.extra:
                found.append(f"{real.name} given {_signed(went.extra)}")
    given = [m for m in kept.account.appliances if any(m.stage_extra)]
    return (*found, *(f"{m.name} given {_signed(sum(m.stage_extra))}" for m in given))


def _signed(seconds: int) -> str:
    return f"{spoken(seconds)} {'more' if seconds > 0 else 'less'}"


def _minimums(last: Kept) -> tuple[Point, ...]:
    short = [
        f"{c.name}: {c.verdict}"
        for c in last.account.components
        if c.verdict not in ("", "met", "no_figure") and not c.skipped
    ]
    if short:
        text = f"not every minimum was met in run {last.source.run}: {'; '.join(short)}"
        return (Point(holds=False, text=text),)
    if any(c.verdict for c in last.account.components):
        return (Point(holds=True, text="every published minimum was met"),)
    return ()


def _remarks(last: Kept) -> tuple[str, ...]:
    found = [
        f"{c.name} was {c.score} in run {last.source.run}"
        for c in last.account.components
        if c.score in ("under", "over")
    ]
    found += [
        f"run {last.source.run} was cooked at the pace of your {h.appliance}, "
        f"{abs(h.pace - 1) * 100:.0f} % {'slow' if h.pace > 1 else 'fast'}: the text says the times"
        " of one that is not"
        for h in last.kitchen
        if h.pace != 1
    ]
    if last.account.change:
        found.append(f"you wrote for next time: {last.account.change}")
    return tuple(found)
