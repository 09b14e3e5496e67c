"""The kitchen at work: plans are cooked with it, and every finished cook teaches it."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from passbell.cook.engine import begin
from passbell.cook.kitchen import Habit, adjusted, paced, preheat_in
from passbell.cook.lessons import Lesson, lessons_of, thermometer_error
from passbell.journal import Journal, JournalError
from passbell.kitchen import Kitchen, KitchenError, KitchenFile, Known, learned, read_kitchen
from passbell.pen import PenError
from passbell.plan.model import Appliance, Plan
from passbell.safety.thermometer import boiling_point, parse_height
from passbell.schedule.model import Contradiction
from passbell.session.runs import UnreadableRun, kept_run
from passbell.units import Temperature, UnitError

NEWEST = 100
"""So many runs are read again to learn from."""

HIGH = 300.0
"""Below this height, in metres, water boils within a degree of 100 °C."""

TRUE_ENOUGH = 0.5
"""A thermometer this near in ice water, in °C, is not spoken of."""


@dataclass(frozen=True, slots=True)
class InKitchen:
    """A plan in this kitchen.

    Attributes:
        habits: what the plan is to be cooked with; empty: as it is written.
        notes: what that changes and what else is known, a sentence each.
        trouble: why nothing is known; empty: no trouble.
    """

    habits: tuple[Habit, ...] = ()
    notes: tuple[str, ...] = ()
    trouble: str = ""


def in_kitchen(plan: Plan) -> InKitchen:
    """What this kitchen makes of a plan; never raises."""
    try:
        kitchen = read_kitchen().kitchen
    except KitchenError as error:
        return InKitchen(trouble=str(error))
    if not kitchen.use:
        return InKitchen()
    used, note = _that_fit(plan, kitchen)
    notes = [*_changes(plan, used), *note, *_offsets(plan, kitchen)]
    return InKitchen(used, (*notes, *known_notes(kitchen)))


def known_notes(kitchen: Kitchen) -> tuple[str, ...]:
    """What is known whatever the plan: the height, the thermometer."""
    return (*_height(kitchen), *_thermometer(kitchen))


def _that_fit(plan: Plan, kitchen: Kitchen) -> tuple[tuple[Habit, ...], tuple[str, ...]]:
    """The habits that change this plan, without their pace where nothing would fit with it."""
    names = {appliance.name for appliance in plan.appliances}
    found = tuple(h for h in kitchen.habits() if h.appliance in names)
    found = tuple(h for h in found if h.preheat != 1 or h.pace != 1)
    if all(habit.pace == 1 for habit in found):
        return found, ()
    try:
        begin(adjusted(plan, found))
    except Contradiction:
        slow = ", ".join(h.appliance for h in found if h.pace != 1)
        note = f"{slow}: its pace is left out, the plan does not fit with it"
        bare = (h.model_copy(update={"pace": 1.0}) for h in found)
        return tuple(h for h in bare if h.preheat != 1), (note,)
    return found, ()


def _changes(plan: Plan, used: tuple[Habit, ...]) -> list[str]:
    found = []
    for habit in used:
        appliance = plan.appliances[plan.appliance_index(habit.appliance)]
        pace = pace_words(habit)
        times = ", ".join(_times(plan, habit))
        found += [text for text in (_preheat(appliance, habit), pace) if text]
        found[-1:] = [f"{found[-1]}: {times}"] if pace and times else found[-1:]
    return found


def _times(plan: Plan, habit: Habit) -> Iterator[str]:
    """The times on an appliance that its pace changes."""
    for component in plan.components:
        for step in component.steps:
            new = paced(step.time, habit.pace)
            if step.on == habit.appliance and new != step.time:
                yield f"{component.name} {new} instead of {step.time}"


def _preheat(appliance: Appliance, habit: Habit) -> str:
    new = preheat_in(appliance, habit)
    if new == appliance.preheat:
        return ""
    return f"{habit.appliance}: preheat {new} instead of {appliance.preheat} ({whose(habit)})"


def pace_words(habit: Habit) -> str:
    """How slow or fast an appliance is: "oven: runs about 8 % slow (your oven, 4 runs)"."""
    if habit.pace == 1:
        return ""
    share = f"{abs(habit.pace - 1):.0%}".replace("%", " %")
    word = "slow" if habit.pace > 1 else "fast"
    return f"{habit.appliance}: runs about {share} {word} ({whose(habit)})"


def whose(habit: Habit) -> str:
    """What a habit rests on: "your oven, 4 runs"."""
    if not habit.runs:
        return f"your {habit.appliance}, your word"
    return f"your {habit.appliance}, {habit.runs} run{'s' if habit.runs > 1 else ''}"


def _offsets(plan: Plan, kitchen: Kitchen) -> list[str]:
    known = {k.name: k for k in kitchen.appliances if k.offset is not None and k.offset.value}
    return [_offset(a, known[a.name]) for a in plan.appliances if a.name in known]


def _offset(appliance: Appliance, known: Known) -> str:
    off = known.offset
    assert off is not None
    word = "below" if off.value < 0 else "above"
    size = Temperature(abs(off.value), off.scale)
    temps = dict.fromkeys(s.temp for s in appliance.stages if s.temp is not None)
    dial = [f"{_dial(temp, off)} for {temp}" for temp in temps]
    shown = f": set {', '.join(dial)}" if dial else ""
    return f"{appliance.name}: its heat is {size} {word} its dial{shown} (your word)"


def _dial(wanted: Temperature, off: Temperature) -> Temperature:
    """What to set for a heat that is wanted; the offset is a difference, 1 °C is 1.8 °F."""
    share = {"CF": 1.8, "FC": 1 / 1.8}.get(off.scale + wanted.scale, 1.0)
    return Temperature(float(round(wanted.value - off.value * share)), wanted.scale)


def _height(kitchen: Kitchen) -> list[str]:
    if kitchen.altitude is None:
        return []
    try:
        metres = parse_height(kitchen.altitude)
        celsius = boiling_point(metres)
    except UnitError as error:
        return [f"altitude: {error}"]
    if metres < HIGH:
        return []
    shown = f"{celsius:.1f} °C / {celsius * 1.8 + 32:.1f} °F"
    return [f"at {kitchen.altitude} water boils at {shown}: food in it needs longer"]


def _thermometer(kitchen: Kitchen) -> list[str]:
    error, runs = thermometer_error(kitchen.lessons)
    if abs(error) < TRUE_ENOUGH:
        return []
    word = "high" if error > 0 else "low"
    cooks = f"{runs} cook{'s' if runs > 1 else ''}"
    size = f"{abs(error):.1f} °C ({abs(error) * 1.8:.1f} °F)"
    return [
        f"your thermometer showed {size} too {word} in ice water ({cooks}): check it again; no "
        "reading is corrected by that"
    ]


def learn(journal: Journal, run: int) -> str:
    """Learn from one run; a sentence when that could not be done, else empty.

    Learning again from a run whose record has grown puts the new lesson in place of the old.
    """
    try:
        row = journal.run(run)
        if row.meta.rehearsal or row.state != "finished":
            return ""
        file, kept = read_kitchen(), kept_run(journal, row)
        learned(file, {(run, int(row.meta.started_utc)): lessons_of(kept)})
    except (KitchenError, PenError, JournalError, UnreadableRun) as error:
        return f"nothing was learned from run {run}: {error}"
    return ""


def learn_all(journal: Journal) -> KitchenFile:
    """Learn from the newest runs, and give the kitchen's file.

    Raises:
        KitchenError: when the file cannot be understood.
        PenError: when it cannot be written.
        JournalError: when the record cannot be read.
    """
    found: dict[tuple[int, int], tuple[Lesson, ...]] = {}
    taught = (r for r in journal.runs() if r.state == "finished" and not r.meta.rehearsal)
    for row in itertools.islice(taught, NEWEST):
        try:
            kept = kept_run(journal, row)
        except UnreadableRun:
            continue
        found[row.id, int(row.meta.started_utc)] = lessons_of(kept)
    return learned(read_kitchen(), found)
