"""The kitchen's file: what was learned of its appliances, and what the cook knows better."""

import os
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

import platformdirs
import tomlkit
from pydantic import Field, ValidationError
from tomlkit.exceptions import TOMLKitError

from passbell.cook.kitchen import Habit
from passbell.cook.lessons import Lesson, habits
from passbell.files import read_small
from passbell.pen import write_over
from passbell.plan.model import Words
from passbell.units import Frozen, MendableError, Temperature, clean_text

NAME = "kitchen.toml"
LARGEST = 1_000_000
"""The largest file that is read, in bytes."""

MOST_LESSONS = 40
"""Of each appliance the newest lessons count; kitchens change."""

_HEAD = """\
# Your kitchen. The lessons at the end are written by passbell after each cook, and may be taken
# away; everything else is yours to write, and stays as you write it.

# false: plans are cooked as they are written.
use = true

# Height above the sea: water boils earlier up there, and the check of the thermometer knows it.
# altitude = "1500 m"

# What you know better than the lessons, as a share of what plans say: a pace of 1.08 is 8 % slow.
# offset is what its heat is off its own dial by, measured with a thermometer inside.
# [[appliance]]
# name    = "oven"
# preheat = 1.4
# pace    = 1.08
# offset  = "-10 °F"
"""


class KitchenError(MendableError):
    """A kitchen's file that cannot be read."""


class Known(Frozen):
    """What the cook knows of an appliance; None: go by the lessons.

    Attributes:
        name: as plans call it.
        preheat, pace: ratios to what plans say.
        offset: how far its heat is off its dial; a difference of temperatures.
    """

    name: Words
    preheat: Annotated[float, Field(ge=0.25, le=4)] | None = None
    pace: Annotated[float, Field(ge=0.5, le=2)] | None = None
    offset: Temperature | None = None


class Kitchen(Frozen):
    """What is known of a kitchen.

    Attributes:
        use: whether plans are cooked with it.
        altitude: height above the sea, as written; None: not said.
        appliances: what the cook wrote.
        lessons: what runs showed.
    """

    use: bool = True
    altitude: Words | None = None
    appliances: tuple[Known, ...] = Field(default=(), alias="appliance")
    lessons: tuple[Lesson, ...] = Field(default=(), alias="lesson")

    def habits(self) -> tuple[Habit, ...]:
        """What is known of each appliance, the cook's own word first; whether or not it is used."""
        found = {habit.appliance: habit for habit in habits(_newest(self.lessons))}
        for known in self.appliances:
            old = found.get(known.name, Habit(appliance=known.name))
            own = {k: v for k in ("preheat", "pace") if (v := getattr(known, k)) is not None}
            found[known.name] = old.model_copy(update=own)
        return tuple(found.values())


@dataclass(frozen=True, slots=True)
class KitchenFile:
    """A kitchen and its file.

    Attributes:
        path: the file; it need not exist.
        text: what it holds; empty: it is not there.
        kitchen: what it says.
    """

    path: Path
    text: str
    kitchen: Kitchen


def kitchen_path() -> Path:
    """Where the file lies: PASSBELL_HOME, or the user's folder for settings."""
    named = os.environ.get("PASSBELL_HOME")
    folder = Path(named).expanduser() if named else platformdirs.user_config_path("passbell")
    return folder / NAME


def read_kitchen(path: Path | None = None) -> KitchenFile:
    """The kitchen as its file says; an empty one where there is no file.

    Args:
        path: the file; None: `kitchen_path()`.

    Raises:
        KitchenError: when it is there and cannot be read or understood.
    """
    path = path or kitchen_path()
    try:
        data = read_small(path, LARGEST)
    except FileNotFoundError:
        return KitchenFile(path, "", Kitchen())
    except OSError as error:
        raise _fault(path, error.strerror or type(error).__name__) from None
    if len(data) > LARGEST:
        raise _fault(path, "it is longer than a million bytes")
    try:
        text = data.decode("utf-8")
        return KitchenFile(path, text, Kitchen.model_validate(tomllib.loads(text)))
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise _fault(path, f"{where}: {first['msg']}") from None
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError) as error:
        raise _fault(path, str(error)) from None


def _fault(path: Path, why: str) -> KitchenError:
    mend = "mend it, or take it away: plans are cooked as they are written meanwhile"
    return KitchenError(clean_text(f"{path}: {why}", 1000), mend)


def _newest(lessons: tuple[Lesson, ...]) -> list[Lesson]:
    table: dict[str, list[Lesson]] = {}
    for lesson in sorted(lessons, key=lambda lesson: (lesson.began, lesson.run)):
        table.setdefault(lesson.appliance, []).append(lesson)
    return [lesson for row in table.values() for lesson in row[-MOST_LESSONS:]]


def learned(file: KitchenFile, by_run: Mapping[tuple[int, int], tuple[Lesson, ...]]) -> KitchenFile:
    """The file with the lessons of runs in place of what it had of them; written if changed.

    Args:
        file: as it was read.
        by_run: for a run's number and its wall clock at the start, in whole seconds, what it
            teaches now; may be nothing.

    Raises:
        PenError: when the file cannot be written.
    """
    kept = (e for e in file.kitchen.lessons if (e.run, e.began) not in by_run)
    wanted = tuple(_newest((*kept, *(e for row in by_run.values() for e in row))))
    if set(wanted) == set(file.kitchen.lessons):
        return file
    document: Any = tomlkit.parse(file.text or _HEAD)
    document.pop("lesson", None)
    rows = tomlkit.aot()
    for lesson in wanted:
        row = tomlkit.table()
        for key, value in lesson.model_dump(mode="json", exclude_none=True).items():
            row.add(key, value)
        rows.append(row)
    if wanted:
        document.add("lesson", rows)
    return _written(file, document, {"lessons": wanted})


def switched(file: KitchenFile, use: bool) -> KitchenFile:
    """The file with the kitchen switched on or off; written.

    Raises:
        PenError: when the file cannot be written.
    """
    document: Any = tomlkit.parse(file.text or _HEAD)
    document["use"] = use
    return _written(file, document, {"use": use})


def forgotten(file: KitchenFile, appliance: str) -> KitchenFile:
    """The file without the lessons of one appliance; written.

    Raises:
        PenError: when the file cannot be written.
    """
    lessons = tuple(e for e in file.kitchen.lessons if e.appliance != appliance)
    bare = KitchenFile(file.path, file.text, file.kitchen.model_copy(update={"lessons": lessons}))
    document: Any = tomlkit.parse(file.text or _HEAD)
    rows = document.get("lesson", [])
    for place in reversed(range(len(rows))):
        if rows[place].get("appliance") == appliance:
            del rows[place]
    return _written(bare, document, {"lessons": lessons})


def _written(file: KitchenFile, document: Any, changes: dict[str, Any]) -> KitchenFile:
    try:
        text = tomlkit.dumps(document)
    except TOMLKitError as error:
        raise _fault(file.path, str(error)) from None
    write_over(file.path, text)
    return KitchenFile(file.path, text, file.kitchen.model_copy(update=changes))
