"""`passbell check`: every problem in a plan file, or in the plan itself."""

import argparse
import json
from typing import Any

from passbell.cli.parser import say, say_all
from passbell.cli.times import add_time_options, timing
from passbell.clock import SystemClock
from passbell.cook.check import examine
from passbell.plan.findings import Finding
from passbell.plan.model import Plan
from passbell.plan.problem import PlanError
from passbell.planfiles import PlanFileError, find_plan
from passbell.units import clean_text

SIGNS = {"error": "✗", "warning": "!", "note": "·"}
"""A shape for each severity."""


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `check` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "check",
        help="every problem in a plan",
        description="Every problem in a plan file, or in the plan itself. A serving time plays a "
        "part only with one of the options that say when.",
    )
    parser.add_argument("plan", metavar="PLAN", nargs="+", help="a plan file, or a plan's name")
    add_time_options(parser)
    parser.add_argument("--json", action="store_true", help="for other programs")
    parser.set_defaults(func=_run)


def _run(args: argparse.Namespace) -> int:
    codes = []
    report: list[dict[str, Any]] = []
    for name in args.plan:
        code, entry = _check(name, args)
        codes.append(code)
        report.append(entry)
    if args.json:
        print(json.dumps(report, ensure_ascii=False))
    return max(codes)


def _check(name: str, args: argparse.Namespace) -> tuple[int, dict[str, Any]]:
    quiet = args.json
    try:
        loaded = find_plan(name)
    except PlanError as error:
        problems = [str(problem) for problem in error.problems]
        if not quiet:
            say_all(problems)
        return 2, {"plan": name, "readable": False, "problems": problems, "findings": []}
    except PlanFileError as error:
        if not quiet:
            say(f"{error.what}; {error.mend}")
        return 2, {"plan": name, "readable": False, "problems": [str(error)], "findings": []}
    found = examine(loaded.plan, _serve(args, loaded.plan), loaded.text)
    bad = any(f.severity in ("error", "warning") for f in found)
    if not quiet:
        _print(loaded.file, loaded.plan.title, found)
    return int(bad), {
        "plan": loaded.file,
        "readable": True,
        "problems": [],
        "findings": [_object(f) for f in found],
    }


def _serve(args: argparse.Namespace, plan: Plan) -> int | None:
    """The instant it is wanted, when an option says anything about when."""
    if args.now is None and args.serve is None and args.serve_in is None:
        return None
    return timing(args, plan.serve_at, SystemClock()).serve


def _object(finding: Finding) -> dict[str, Any]:
    return {
        "severity": finding.severity,
        "component": finding.component,
        "text": finding.text,
        "mend": finding.mend,
    }


def _print(file: str, title: str, found: tuple[Finding, ...]) -> None:
    head = f"{clean_text(file, 1000)}: {title}"
    if not found:
        print(f"{head}: nothing found")
        return
    print(head)
    for finding in found:
        about = f"{finding.component}: " if finding.component else ""
        mend = f"; {finding.mend}" if finding.mend else ""
        print(f"  {SIGNS[finding.severity]} {finding.severity}: {about}{finding.text}{mend}")
