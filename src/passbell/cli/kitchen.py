"""`passbell kitchen`: what is known of the appliances, and whether plans are cooked with it."""

import argparse
import json
from collections.abc import Iterator

from passbell.cli.parser import say
from passbell.cook.kitchen import Habit
from passbell.cook.lessons import DOUBT, Lesson
from passbell.editor import EditorError, edit
from passbell.journal import Journal
from passbell.kitchen import KitchenFile, forgotten, kitchen_path, read_kitchen, switched
from passbell.session.kitchen import known_notes, learn_all, whose
from passbell.units import quoted

SHOWN = 5
"""Of each appliance so many of the newest lessons are printed."""


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `kitchen` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "kitchen",
        help="what is known of your appliances",
        description="What your cooks have shown of your appliances, and what you wrote of them. "
        "Rehearsals teach nothing.",
    )
    kinds = parser.add_mutually_exclusive_group()
    kinds.add_argument("--on", action="store_true", help="cook plans with it")
    kinds.add_argument("--off", action="store_true", help="cook plans as they are written")
    kinds.add_argument("--edit", action="store_true", help="open its file in your editor")
    kinds.add_argument("--forget", metavar="APPLIANCE", help="take its lessons away")
    parser.add_argument("--json", action="store_true", help="for other programs")
    parser.set_defaults(func=_run)


def _run(args: argparse.Namespace) -> int:
    if args.forget is not None:
        return _forget(args.forget)
    if args.edit:
        return _edit()
    if args.on or args.off:
        file = switched(read_kitchen(), use=args.on)
    else:
        with Journal.open() as journal:
            file = learn_all(journal)
    if args.json:
        print(json.dumps(_object(file), ensure_ascii=False))
    else:
        for line in _lines(file):
            print(line)
    return 0


def _edit() -> int:
    """Open the file, made where there is none; 2 when it cannot be understood afterwards."""
    path = kitchen_path()
    if not path.exists():
        switched(read_kitchen(path), use=True)
    try:
        edit(path)
    except EditorError as error:
        say(str(error))
        return 2
    read_kitchen()
    return 0


def _forget(name: str) -> int:
    file = read_kitchen()
    names = sorted({lesson.appliance for lesson in file.kitchen.lessons})
    if name not in names:
        say(f"nothing was learned of {quoted(name)}; of: {', '.join(names) or 'nothing'}")
        return 1
    forgotten(file, name)
    print(f"the lessons of {name} are taken away; later cooks teach again")
    return 0


def _object(file: KitchenFile) -> dict[str, object]:
    return {
        "file": str(file.path),
        "use": file.kitchen.use,
        "altitude": file.kitchen.altitude,
        "habits": [habit.model_dump(mode="json") for habit in file.kitchen.habits()],
        "lessons": [lesson.model_dump(mode="json") for lesson in file.kitchen.lessons],
    }


def _lines(file: KitchenFile) -> Iterator[str]:
    kitchen = file.kitchen
    yield f"your kitchen: {file.path}" + ("" if file.text else " (not there yet)")
    yield "plans are cooked with it" if kitchen.use else "switched off: passbell kitchen --on"
    habits = kitchen.habits()
    if not habits:
        yield "nothing is known yet: it learns from finished cooks in real time"
    for habit in habits:
        yield f"{habit.appliance} ({whose(habit)})"
        yield f"  preheat: {_ratio(habit.preheat)}"
        yield f"  times on it: {_ratio(habit.pace)}"
        yield from _lessons(habit, kitchen.lessons)
    yield from known_notes(kitchen)
    if habits:
        yield f"a mean of n cooks counts n / (n + {DOUBT:g}); the rest of the weight is the plan's"


def _ratio(ratio: float) -> str:
    if ratio == 1:
        return "as plans say"
    return f"{abs(ratio - 1) * 100:.0f} % {'longer' if ratio > 1 else 'shorter'} than plans say"


def _lessons(habit: Habit, lessons: tuple[Lesson, ...]) -> Iterator[str]:
    own = [lesson for lesson in lessons if lesson.appliance == habit.appliance]
    for lesson in own[-SHOWN:]:
        shown = [
            f"{word} × {ratio:.2f}"
            for word, ratio in (("preheat", lesson.preheat), ("times", lesson.pace))
            if ratio is not None
        ]
        yield f"  run {lesson.run}: {', '.join(shown)}"
