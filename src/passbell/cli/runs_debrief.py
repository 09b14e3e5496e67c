"""`passbell runs debrief`: what is said about a cook afterwards, from a shell."""

import argparse

from passbell.cli.parser import say, whole
from passbell.clock import SystemClock
from passbell.cook.account import LABELS, TURNED_OUT, Kind
from passbell.cook.commands import Note
from passbell.journal import Journal
from passbell.plan.problem import PlanError
from passbell.session import CookSession
from passbell.session.kitchen import learn
from passbell.session.runs import load_run
from passbell.units import clean_text, quoted

_SCORES = {"under": "under", "right": "just right", "over": "over"}


def add_kind(kinds: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `debrief` to the kinds of `runs`."""
    parser = kinds.add_parser("debrief", help="say how a cook turned out")
    parser.add_argument("run", metavar="NUMBER", type=whole, help="its number in the list")
    for option, score in _SCORES.items():
        parser.add_argument(
            f"--{option}", metavar="COMPONENT", action="append", default=[], help=f"was {score}"
        )
    parser.add_argument(
        "--note", metavar="TEXT", action="append", default=[], help='about it, or "COMPONENT: TEXT"'
    )
    parser.add_argument("--next", metavar="TEXT", help="one change for next time")
    parser.add_argument("--yield", metavar="TEXT", dest="made", help="how much it made")
    parser.add_argument("--leftovers", metavar="TEXT", help="what is left and where it went")
    parser.set_defaults(func=_run)


def _run(args: argparse.Namespace) -> int:
    with Journal.open() as journal:
        kept = load_run(journal, args.run)
        names = [component.name for component in kept.account.components]
        notes, stranger = _notes(args, names)
        if stranger is not None:
            say(f"run {args.run} has no component {quoted(stranger)}; it has {', '.join(names)}")
            return 2
        if not notes:
            say("nothing was said; see: passbell runs debrief --help")
            return 2
        if kept.account.served is None:
            say(f"run {args.run} was not dished up: go on with it, or say it on the next")
            return 1
        code = _write(journal, args.run, notes)
        trouble = learn(journal, args.run)
    if trouble:
        say(trouble)
    return code


def _notes(
    args: argparse.Namespace, names: list[str]
) -> tuple[list[tuple[str, int | None]], str | None]:
    """What was said, each with its component, and a component that is not there."""
    found: list[tuple[str, int | None]] = []
    for option, score in _SCORES.items():
        for name in getattr(args, option):
            place = _place(name, names)
            if place is None:
                return [], name
            found.append((TURNED_OUT + score, place))
    for text in args.note:
        name, _, rest = text.partition(":")
        place = _place(name, names) if rest.strip() else None
        found.append((rest.strip() if place is not None else text, place))
    meal: tuple[tuple[Kind, str | None], ...] = (
        ("change", args.next), ("yield", args.made), ("leftovers", args.leftovers)
    )  # fmt: skip
    found += [(LABELS[kind] + text, None) for kind, text in meal if text is not None]
    return [(note, place) for note, place in found if clean_text(note)], None


def _place(name: str, names: list[str]) -> int | None:
    """The component that was meant: its name, or the only one that begins so."""
    word = name.strip().casefold()
    exact = [i for i, n in enumerate(names) if n.casefold() == word]
    near = [i for i, n in enumerate(names) if word and n.casefold().startswith(word)]
    return exact[0] if exact else near[0] if len(near) == 1 else None


def _write(journal: Journal, run: int, notes: list[tuple[str, int | None]]) -> int:
    try:
        with journal.claim(run):
            session = CookSession.resume(journal, run, SystemClock())
            for text, place in notes:
                refusal = session.tell(Note(text=text[:400], component=place))
                if refusal is not None:
                    say(refusal)
                    return 1
    except PlanError as error:
        say(str(error.problems[0]))
        return 2
    assert session.record is not None
    if session.record.trouble:
        say(session.record.trouble)
        return 1
    print(f"kept with run {run}: passbell runs show {run}")
    return 0
