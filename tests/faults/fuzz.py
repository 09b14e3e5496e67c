"""Hostile input: plan files, probe text, keys, settings, scripts, recipes, names to be published.

Run it as a program: python tests/faults/fuzz.py KIND --cases N [--seed N]
with KIND one of plans, words, keys, settings, scripts, readings, exports, recipes. Each case is
given to the very code that takes it from a cook; it must end within a second, without a fault of
the program, without a control character on the way to the terminal, and with a promised exit code.
What is published is read by a reader that is not ours: it may find text there and nothing else.
"""

import argparse
import contextlib
import io
import json
import os
import random
import resource
import sys
import tempfile
import time
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import tomlkit

sys.path.insert(0, str(Path(__file__).parents[2]))

from passbell.cli.main import main as passbell
from passbell.cook.commands import COMMANDS
from passbell.cook.whose import NotUnderstood
from passbell.cook.words import read_words
from passbell.export.card import card
from passbell.export.files import SUFFIXES
from passbell.export.jsonld import jsonld
from passbell.export.table import table
from passbell.planfiles import bundled_folder
from passbell.session.headless import ScriptError, read_script
from passbell.tui.keys import load_keys
from passbell.units import clean_text
from tests.cook.meals import Hand
from tests.export import meals, readers
from tests.faults.storm import storm

SLOW = 1.0
"""Seconds of processor time that no case may take."""

NASTY = (
    *("\x1b[2J", "\x1b]0;x\x07", "\x9b31m", "\u202e", "\x00", "\ud800", "\ufeff", "[/]"),
    *("[@click=app.quit]x[/]", "{0}", "%s%n", "$(id)", "`id`", "; rm -rf .", "../../etc/passwd"),
    *("file:///etc/passwd", "__import__('os')", "'''", '"""', "\\", "\\u0000", "\\x1b", "\r"),
    *("1e999", "-1", "0", "9" * 400, "0x10", "nan", "inf", "true", "2026-11-25", "[[[[", "]]]]"),
    *("time = ", "steps = [", "[[component]]", "[[appliance.stage]]", "during = [", "until = "),
    *('"72 h"', '"73 h"', '"-5 min"', '"5 min" ', '"400 °F"', '"1/0 in"', '"half"', "é" * 50),
    *("🧂", "👩‍🍳", "\u0301" * 30, "ﬁ", "١٢", "a" * 5000),
)
"""What is written into a file to see what it does."""


@dataclass
class Tally:
    """What came of a run.

    Attributes:
        cases: how many were tried.
        refused: how many were refused in words.
        slowest: seconds of processor time of the slowest.
        faults: what went wrong, with the case.
    """

    cases: int = 0
    refused: int = 0
    slowest: float = 0.0
    faults: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        return (
            f"{self.cases} cases, {self.refused} refused in words, slowest {self.slowest:.2f} s, "
            f"peak memory {peak:.0f} MB, {len(self.faults)} faults"
        )


def mutated(text: str, dice: random.Random) -> str:
    """A text with a few slips of the pen, or worse, in it."""
    for _ in range(dice.choice((1, 1, 1, 2, 3, 8))):
        slip = dice.choice((_line_slip, _line_slip, _slip, _slip, _slip, _figure))
        text = slip(text, dice) or "x"
    return text


def _line_slip(text: str, dice: random.Random) -> str:
    """One line gone, doubled, moved, or its equals sign spoiled."""
    lines = text.split("\n")
    place, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    kind = dice.randrange(4)
    if kind == 0:
        del lines[place]
    elif kind == 1:
        lines.insert(place, lines[other])
    elif kind == 2:
        lines[place], lines[other] = lines[other], lines[place]
    else:
        lines[place] = lines[place].replace("=", dice.choice((":", "==", "", "=\n")), 1)
    return "\n".join(lines)


def _slip(text: str, dice: random.Random) -> str:
    """Something nasty put in, a stretch gone, doubled or cut off, one character another."""
    at, again = sorted(dice.randrange(len(text) + 1) for _ in range(2))
    put = dice.choice(
        (
            dice.choice(NASTY) + text[at:],
            dice.choice(NASTY) + text[at:],
            text[at + dice.randrange(1, 30) :],
            chr(dice.randrange(0x110000)) + text[at + 1 :],
            text[at:again][:400] + text[at:],
            "",
        )
    )
    return text[:at] + put


def _figure(text: str, dice: random.Random) -> str:
    """Another number in the place of one."""
    places = [at for at, char in enumerate(text) if char.isdigit()]
    if not places:
        return text
    at = dice.choice(places)
    return text[:at] + dice.choice(("0", "00", "999", "1.5", "-3", "7" * 30, "½")) + text[at + 1 :]


def clean(text: str) -> bool:
    """Whether a text holds nothing that acts on a terminal."""
    return all(char == "\n" or unicodedata.category(char) not in ("Cc", "Cs") for char in text)


def command(*arguments: str) -> tuple[int, str]:
    """Run a command as the shell does; its exit code and all it said."""
    said = io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        code = passbell(arguments)
    return code, said.getvalue()


def judge_command(tally: Tally, *arguments: str) -> None:
    """Run a command and hold it to its promises."""
    code, said = command(*arguments)
    if code not in (0, 1, 2):
        tally.faults.append(f"exit code {code}")
    if "fault of the program" in said or "Traceback" in said:
        tally.faults.append(said)
    if not clean(said):
        tally.faults.append(f"a control character in {said!r}")
    tally.refused += code == 2


def plans(tally: Tally, dice: random.Random, folder: Path) -> str:
    """A mutated bundled plan, checked; now and then also timed and cooked."""
    text = mutated(dice.choice(_bundled()), dice)
    path = folder / "plan.toml"
    path.write_bytes(text.encode("utf-8", "surrogatepass" if dice.random() < 0.5 else "replace"))
    judge_command(tally, "check", str(path))
    if dice.random() < 0.05:
        judge_command(tally, "timeplan", str(path), "--asap")
    return text


@cache
def _bundled() -> tuple[str, ...]:
    return tuple(path.read_text("utf-8") for path in sorted(bundled_folder().glob("*.toml")))


@cache
def _hand() -> Hand:
    return Hand().cook_to(1900)


_WORDS = (
    *("152", "66c", "chicken 152", "2 151", "oven 9:30", "done", "earlier", "skip beans", "note x"),
    *("serve +15", "serve 18:45", "longer 3", "take out carrots", "chart uk", "ice 33F", "mark"),
)


def words(tally: Tally, dice: random.Random, folder: Path) -> str:
    """A line for the probe box: read, carried out, its words looked at."""
    text = mutated(dice.choice(_WORDS), dice)
    state = _hand().state
    try:
        read = read_words(text, state, serve_in=lambda clock: 4000)
    except NotUnderstood as error:
        tally.refused += 1
        if not clean(str(error)):
            tally.faults.append(f"a control character in {error!s:.200}")
        return text
    hand = Hand.__new__(Hand)
    hand.state, hand.events, hand.now = state, [], 1900
    refusal = hand.say(COMMANDS.validate_json(COMMANDS.dump_json(read)))
    said = (refusal or "") + " ".join(line.words for line in hand.state.log)
    if not clean(said):
        tally.faults.append(f"a control character in {said!r}")
    return text


_READINGS = (
    *(("147F",), ("center=63C@4min",), ("--chart", "uk"), ("--ice", "34F"), ("--spots", "2")),
    *(("thickest=150F",), ("--pieces", "2"), ("--json",)),
)


def readings(tally: Tally, dice: random.Random, folder: Path) -> str:
    """Arguments of the command that judges readings."""
    given = ["pork_whole", *(word for _ in range(3) for word in dice.choice(_READINGS))]
    given = [mutated(word, dice) if dice.random() < 0.2 else word for word in given]
    judge_command(tally, "probe", *(word.replace("\x00", "") for word in given))
    return repr(given)


_KEYS_FILE = 'letters = true\n[keys]\nput_off = ["p", "f4"]\ndone = ["enter", "d"]\nmark = "m"\n'


def settings(tally: Tally, dice: random.Random, folder: Path) -> str:
    """A file of key settings."""
    text = mutated(_KEYS_FILE, dice)
    path = folder / "keys.toml"
    path.write_bytes(text.encode("utf-8", "surrogatepass" if dice.random() < 0.5 else "replace"))
    keys, complaint = load_keys(path)
    tally.refused += bool(complaint)
    if not clean(complaint) or not keys.best("done"):
        tally.faults.append(f"{complaint!r}")
    return text


_SCRIPT = "0 done\n# then\n60 chicken 152\n300 oven 9:30\n900 longer 3\n1200 all\n"


def scripts(tally: Tally, dice: random.Random, folder: Path) -> str:
    """A script of a cook without a screen: read, and now and then cooked by."""
    text = mutated(_SCRIPT, dice)
    try:
        read_script(text)
    except ScriptError as error:
        tally.refused += 1
        if not clean(str(error)):
            tally.faults.append(str(error))
    if dice.random() < 0.02:
        path = folder / "script"
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
        judge_command(tally, "cook", "tray-supper", "--headless", "--json", "--script", str(path))
    return text


def keys(tally: Tally, dice: random.Random, folder: Path) -> str:
    """Ten thousand random keys on the desk of a cook."""
    seed = dice.randrange(10**9)
    fault = storm(10_000, seed)
    if fault:
        tally.faults.append(fault)
    return f"seed {seed}"


def exports(tally: Tally, dice: random.Random, folder: Path) -> str:
    """A plan with hostile names, written out in one of the formats and read by another reader."""
    words = {place: _name(dice) for place in meals.PLACES}
    if dice.random() < 0.1:
        words[dice.choice(meals.PLACES)] *= 500
    data = meals.dressed(words)
    kind = dice.choice(tuple(SUFFIXES))
    plan, to = folder / "meal.toml", folder / f"meal{SUFFIXES[kind][0]}"
    plan.write_text(tomlkit.dumps(data), encoding="utf-8")
    to.unlink(missing_ok=True)
    judge_command(tally, "export", str(plan), "--as", kind, "--to", str(to), "--asap")
    if to.exists():
        planned = meals.planned(data)
        noted = meals.noted(planned, words["note"])
        tally.faults += readers.misread(kind, to.read_bytes(), planned)
        for other, write in (("card", card), ("jsonld", jsonld), ("csv", table)):
            tally.faults += readers.misread(other, write(noted).encode(), noted)
    return f"{kind} {words!r}"


def _name(dice: random.Random) -> str:
    """A name that means something to a format, now and then with a slip of the pen in it."""
    text = " ".join(dice.choice(meals.NASTY) for _ in range(dice.randint(1, 3)))
    if dice.random() < 0.3:
        text = mutated(text, dice)
    kept = text.encode("utf-8", "replace").decode()
    return kept if dice.random() < 0.05 else clean_text(kept) or "x"


_RECIPE = json.dumps(
    {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": "Invented soup",
        "recipeYield": ["4", "4 servings"],
        "totalTime": "PT1H5M",
        "tool": {"@type": "HowToTool", "name": "pot"},
        "recipeIngredient": ["1 onion", "600 g <b>squash</b>"],
        "recipeInstructions": [
            {
                "@type": "HowToSection",
                "name": "Soup",
                "itemListElement": [
                    {"@type": "HowToDirection", "text": "Simmer.", "performTime": "PT25M"},
                    "Bake at 200 °C for 8 minutes.",
                ],
            }
        ],
    },
    indent=1,
    ensure_ascii=False,
)


def recipes(tally: Tally, dice: random.Random, folder: Path) -> str:
    """A recipe from somewhere, made into a new plan or refused."""
    text = mutated(_RECIPE, dice)
    path = folder / "recipe.json"
    path.write_bytes(text.encode("utf-8", "surrogatepass" if dice.random() < 0.5 else "replace"))
    judge_command(tally, "new", "--from", str(path), "--to", str(folder / "new.toml"))
    (folder / "new.toml").unlink(missing_ok=True)
    return text


Kind = Callable[[Tally, random.Random, Path], str]
KINDS: dict[str, Kind] = {
    "plans": plans,
    "words": words,
    "keys": keys,
    "settings": settings,
    "scripts": scripts,
    "readings": readings,
    "exports": exports,
    "recipes": recipes,
}


def run(kind: str, cases: int, seed: int) -> Tally:
    """So many cases of one kind."""
    tally = Tally()
    with tempfile.TemporaryDirectory(prefix="passbell-fuzz-") as name:
        os.environ["PASSBELL_HOME"] = f"{name}/home"
        for case in range(cases):
            _one(tally, kind, random.Random(f"{kind} {seed} {case}"), Path(name))
            if case % 1000 == 999 and cases > 1000:
                print(case + 1, tally, flush=True)
    return tally


def _one(tally: Tally, kind: str, dice: random.Random, folder: Path) -> None:
    before, began = len(tally.faults), time.process_time()
    text = ""
    try:
        text = KINDS[kind](tally, dice, folder)
    except Exception as error:  # noqa: BLE001 - the very thing looked for
        tally.faults.append(f"{type(error).__name__}: {error}")
    took = time.process_time() - began
    tally.cases += 1
    if kind != "keys":
        tally.slowest = max(tally.slowest, took)
        if took > SLOW:
            tally.faults.append(f"it took {took:.1f} s")
    if len(tally.faults) > before:
        tally.faults[before:] = [
            f"{fault[:2000]}\n--- {text!r:.3000}" for fault in tally.faults[before:]
        ]


def main() -> int:
    """Run what is asked for and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("kind", choices=KINDS)
    parser.add_argument("--cases", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    tally = run(args.kind, args.cases, args.seed)
    for fault in tally.faults[:40]:
        print(fault)
    print(f"{args.kind}: {tally}")
    return 1 if tally.faults else 0


if __name__ == "__main__":
    sys.exit(main())
