"""`passbell new`: a new plan from a few answers, or from a recipe; written, checked, opened."""

import argparse
import shlex
import sys
import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from passbell.cli.new_recipe import plan_of_recipe
from passbell.cli.parser import say, say_all
from passbell.cook.check import examine
from passbell.editor import EditorError, edit, editor
from passbell.export.recipe_in import read_recipe
from passbell.files import read_small
from passbell.pen import write_new
from passbell.plan.fresh import (
    FreshAppliance,
    FreshDish,
    FreshPlan,
    file_name,
    fresh_text,
    read_appliance,
    read_dish,
)
from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan
from passbell.planfiles import load, own_folder
from passbell.safety.foods import known_foods, nearest_food
from passbell.safety.meat_words import names_meat
from passbell.units import ClockTime, MendableError, UnitError, clean_text, quoted

LARGEST = 4_000_000
"""The largest recipe or file of answers that is read, in bytes."""

T = TypeVar("T")


class NewError(MendableError):
    """An answer that is missing or not understood."""


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `new` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "new",
        help="a new plan from a few answers, or from a recipe",
        description="Write a new plan, with comments. On a terminal it asks for what the options "
        "do not say; elsewhere it asks nothing.",
        epilog='A dish: "green beans: prep 5 min, oven 12 min"; meat, fish and egg with its food: '
        '"chicken thighs (poultry_pieces): prep 4 min, oven 35 min until 75 °C, rest 5 min". '
        'An appliance: "oven: preheat 10 min, 200 °C, fan".',
    )
    parser.add_argument("--title", metavar="TEXT", help="the name of the meal")
    parser.add_argument("--serves", metavar="N", help="for how many people")
    parser.add_argument("--serve-at", metavar="HH:MM", help="when it is on the table")
    for name in ("--appliance", "--dish"):
        parser.add_argument(name, metavar="LINE", action="append", default=[], help="one, as below")
    parser.add_argument("--answers", metavar="FILE", help="the same, as a TOML file")
    parser.add_argument(
        "--from", metavar="FILE", dest="recipe", help="a schema.org recipe in JSON-LD"
    )
    parser.add_argument("--to", metavar="FILE", help="where to write it; else among your own plans")
    parser.add_argument("--edit", action="store_true", help="open it in your editor")
    parser.set_defaults(func=_run)


def _run(args: argparse.Namespace) -> int:
    asks = sys.stdin.isatty() and sys.stdout.isatty()
    try:
        if args.answers is not None:
            _take_answers(args)
        plan = _from_recipe(args) if args.recipe is not None else _from_answers(args, asks)
    except UnitError as error:
        raise NewError(error.what, error.mend) from None
    except EOFError:  # Ctrl+D: nothing more is answered
        return 130
    path = Path(args.to) if args.to is not None else own_folder() / file_name(plan.title)
    text = fresh_text(plan)
    read_plan(text, str(path))
    write_new(path, text)
    print(f"written: {path}")
    for sentence in plan.open:
        print(f"  still to fill in: {sentence}")
    if args.edit or (asks and editor() and _yes(f"Open it in {editor()[0]}? [y/N] ")):
        try:
            edit(path)
        except EditorError as error:
            say(str(error))
    return _checked(path)


def _checked(path: Path) -> int:
    """Say what `check` finds in it; 1 when that is an error or a warning, 2 when it cannot be read.

    An editor has had the file: it may hold anything by now.
    """
    try:
        loaded = load(path)
    except PlanError as error:
        say_all(error.problems)
        return 2
    found = [
        finding for finding in examine(loaded.plan, text=loaded.text) if finding.severity != "note"
    ]
    for finding in found:
        about = f"{finding.component}: " if finding.component else ""
        say(f"to look at: {about}{finding.text}; {finding.mend}")
    if not found:
        print(f"it can be cooked: passbell timeplan {shlex.quote(str(path))}")
    return 1 if found else 0


def _read(name: str) -> bytes:
    data = read_small(Path(name), LARGEST)
    if len(data) > LARGEST:
        raise NewError(f"{quoted(name)} is longer than 4 million bytes", "give a shorter file")
    return data


def _take_answers(args: argparse.Namespace) -> None:
    """The answers of a file, where no option says otherwise."""
    try:
        found = tomllib.loads(_read(args.answers).decode("utf-8"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError) as error:
        raise NewError(f"{quoted(args.answers)}: {error}", _ANSWERS) from None
    for key, value in found.items():
        several = key in ("appliance", "dish")
        if key not in ("title", "serves", "serve_at", "appliance", "dish"):
            raise NewError(f"{quoted(args.answers)}: there is no answer {quoted(key)}", _ANSWERS)
        if several != isinstance(value, list) or isinstance(value, dict):
            raise NewError(f"{quoted(args.answers)}: {key} is written otherwise", _ANSWERS)
        if not getattr(args, key):
            setattr(args, key, [str(v) for v in value] if several else str(value))


_ANSWERS = 'it holds title = "…", serves = 2, appliance = ["…"] and dish = ["…", "…"]'


def _from_recipe(args: argparse.Namespace) -> FreshPlan:
    """The plan a recipe begins; options say what it does not."""
    plan = plan_of_recipe(read_recipe(_read(args.recipe)))
    plan = replace(plan, title=args.title or plan.title)
    if args.serves is not None:
        plan = replace(plan, serves=_people(args.serves))
    if args.serve_at is not None:
        plan = replace(plan, serve_at=ClockTime.parse(args.serve_at))
    dishes = (*plan.dishes, *(_dish(line) for line in args.dish))
    said = tuple(read_appliance(line) for line in args.appliance)
    return _whole(replace(plan, appliances=said, dishes=dishes))


def _from_answers(args: argparse.Namespace, asks: bool) -> FreshPlan:
    missing = [f"--{k}" for k in ("title", "serves", "dish") if not getattr(args, k)]
    if missing and not asks:
        raise NewError(f"a new plan needs {' and '.join(missing)}", "see: passbell new --help")
    title = args.title or _ask("What is the meal called? ", _words)
    serves = _people(args.serves) if args.serves else _ask("For how many people? ", _people)
    dishes = [_dish(line) for line in args.dish] or _ask_dishes()
    said = [read_appliance(line) for line in args.appliance]
    if asks and not args.appliance:
        said = _ask_appliances(dishes)
    serve_at = ClockTime.parse(args.serve_at) if args.serve_at else None
    return _whole(FreshPlan(_words(title), serves, tuple(dishes), serve_at, tuple(said)))


def _whole(plan: FreshPlan) -> FreshPlan:
    names = [dish.name for dish in plan.dishes]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise NewError(f"two dishes are called {quoted(twice)}", "give one another name")
    return plan


def _words(text: str) -> str:
    if not clean_text(text):
        raise UnitError("that is no name", "write a word or two")
    return clean_text(text)


def _people(text: str) -> int:
    word = text.strip()
    if not word.isdecimal() or not 1 <= int(word[:9]) <= 1000:
        raise UnitError(f"{quoted(text)} is no number of people", "write a whole number, such as 4")
    return int(word)


def _dish(line: str) -> FreshDish:
    dish = read_dish(line)
    if dish.food is not None and dish.food not in known_foods():
        near = nearest_food(dish.food)
        mend = f"did you mean {near}?" if near else f"there are {', '.join(known_foods())}"
        raise UnitError(f"no chart knows the food {quoted(dish.food)}", mend)
    return dish


def _ask(prompt: str, read: Callable[[str], T]) -> T:
    """Ask until it is understood."""
    while True:
        try:
            return read(input(prompt))
        except UnitError as error:
            print(f"  {error}")


def _ask_dishes() -> list[FreshDish]:
    print(
        'Each dish in a line, such as "green beans: prep 5 min, oven 12 min"; an empty line ends.'
    )
    found: list[FreshDish] = []
    while True:
        dish = _ask("dish: ", lambda line: _dish(line) if line.strip() else None)
        if dish is None:
            if found:
                return found
            print("  a meal has at least one dish")
            continue
        found.append(_with_food(dish))


def _with_food(dish: FreshDish) -> FreshDish:
    """Ask for its row of the chart where a name sounds like meat, fish or egg."""
    word = names_meat((dish.name,))
    if dish.food is not None or word is None:
        return dish
    print(f"  {word}: which food of the temperature chart? {', '.join(known_foods())}")
    food = _ask("  food: ", _food)
    return replace(dish, food=food)


def _food(text: str) -> str | None:
    word = text.strip()
    if not word or word in known_foods():
        return word or None
    near = nearest_food(word)
    raise UnitError(f"no chart knows {quoted(word)}", f"did you mean {near}?" if near else "choose")


def _ask_appliances(dishes: list[FreshDish]) -> list[FreshAppliance]:
    names = dict.fromkeys(step.on for dish in dishes for step in dish.steps if step.on)
    return [_ask(f"{name}, such as preheat 10 min, 200 °C: ", _said_of(name)) for name in names]


def _said_of(name: str) -> Callable[[str], FreshAppliance]:
    return lambda line: read_appliance(f"{name}: {line}")


def _yes(prompt: str) -> bool:
    return input(prompt).strip().casefold().startswith("y")
