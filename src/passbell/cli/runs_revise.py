"""`passbell runs revise`: what the runs of a plan ask for, taken one by one."""

import argparse
import json
import sys
from dataclasses import asdict

from passbell.cli.parser import say, say_all
from passbell.cli.ready_text import ready_lines, ready_object
from passbell.clock import SystemClock, local_datetime
from passbell.cook.revise import Proposal
from passbell.journal import Journal
from passbell.plan.problem import PlanError
from passbell.session.kitchen import in_kitchen, learn_all
from passbell.session.revise import Revision, own_first, revision, take


def add_kind(kinds: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `revise` to the kinds of `runs`."""
    parser = kinds.add_parser(
        "revise",
        help="what the cooks of a plan ask to be changed",
        description="What the cooks of a plan ask to be changed, with reasons. Nothing is written "
        "until you take it; the plan as it was stays beside it. A plan that ships is copied to "
        "your own plans first.",
    )
    parser.add_argument("plan", metavar="PLAN", help="a plan file, or a plan's name")
    parser.add_argument(
        "--take", metavar="N,N", help="take these, by their numbers, and ask nothing"
    )
    parser.add_argument("--json", action="store_true", help="for other programs")
    parser.set_defaults(func=_run)


def _run(args: argparse.Namespace) -> int:
    try:
        loaded = own_first(args.plan)
    except PlanError as error:
        say_all(error.problems)
        return 2
    with Journal.open() as journal:
        learn_all(journal)
        found = revision(journal, loaded)
    if args.json and args.take is None:
        print(json.dumps(_object(found), ensure_ascii=False, default=str))
        return 0
    for line in _lines(found):
        print(line)
    if args.take is None:
        taken = _asked(found.proposals) if sys.stdin.isatty() else ()
    else:
        numbers = _numbers(args.take, len(found.proposals))
        if numbers is None:
            say(f"--take {args.take}: give numbers of the list, such as 1 or 1,2")
            return 2
        taken = tuple(found.proposals[n] for n in numbers)
    if taken:
        print(take(found.loaded, taken, _today()).words)
    return 0


def _today() -> str:
    return f"{local_datetime(SystemClock().now().utc):%Y-%m-%d}"


def _object(found: Revision) -> dict[str, object]:
    return {
        "plan": found.loaded.file,
        "runs": [kept.source.run for kept in found.runs],
        "proposals": [asdict(p) | {"comment": p.comment} for p in found.proposals],
        "unheard": list(found.unheard),
        "ready": ready_object(found.ready),
    }


def _lines(found: Revision) -> list[str]:
    count = len(found.runs)
    cooks = f"{count} cook{'s' if count != 1 else ''} kept"
    lines = [f"{found.loaded.plan.title}: {cooks}"]
    kitchen = in_kitchen(found.loaded.plan)
    lines += [f"  · {note}" for note in kitchen.notes]
    lines += [f"  ! {kitchen.trouble}"] if kitchen.trouble else []
    wrote = [kept for kept in found.runs if kept.account.change]
    lines += [
        f"  after run {kept.source.run} you wrote for next time: {kept.account.change}"
        for kept in wrote[-1:]
    ]
    if not found.proposals:
        lines.append("  the runs ask for no change")
    for number, proposal in enumerate(found.proposals, 1):
        lines += [f"{number}  {proposal.change}", f"     because {proposal.because}"]
    lines += [f"  · {text}" for text in found.unheard]
    if len(found.proposals) > 1:
        lines.append("Take one: with one change a cook you know which one did it.")
    return [*lines, *ready_lines(found.ready)]


def _asked(proposals: tuple[Proposal, ...]) -> tuple[Proposal, ...]:
    """What the cook takes, asked one by one; q leaves the rest."""
    taken: list[Proposal] = []
    for number, proposal in enumerate(proposals, 1):
        if taken:
            print("You have taken a change already; one a cook tells you which one did it.")
        try:
            answer = input(f"Take change {number}? [y/N/q] ").strip().casefold()
        except EOFError:  # Ctrl+D: the rest is left
            break
        if answer.startswith("q"):
            break
        if answer.startswith("y"):
            taken.append(proposal)
    return tuple(taken)


def _numbers(text: str, count: int) -> list[int] | None:
    """Places of the numbers typed, each once; None: one of them is none of the list."""
    words = [word.strip() for word in text.split(",")]
    if not all(word.isdecimal() and len(word) < 5 and 1 <= int(word) <= count for word in words):
        return None
    return list(dict.fromkeys(int(word) - 1 for word in words))
