"""`passbell check`: every problem in a plan file, or in the plan itself."""

import argparse
import json
from typing import Any

from passbell.cli.parser import say
from passbell.cook.check import examine
from passbell.library import LibraryError, find_plan
from passbell.plan.findings import Finding
from passbell.plan.problem import PlanError

SIGNS = {"error": "✗", "warning": "!", "note": "·"}
"""A shape for each severity."""


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `check` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "check",
        help="every problem in a plan",
        description="Every problem in a plan file, or in the plan itself.",
    )
    parser.add_argument("plan", metavar="PLAN", nargs="+", help="a plan file, or a plan's name")
    parser.add_argument("--json", action="store_true", help="for other programs")
    parser.set_defaults(func=_run)


def _run(args: argparse.Namespace) -> int:
    codes = []
    report: list[dict[str, Any]] = []
    for name in args.plan:
        code, entry = _check(name, quiet=args.json)
        codes.append(code)
        report.append(entry)
    if args.json:
        print(json.dumps(report, ensure_ascii=False))
    return max(codes)


def _check(name: str, *, quiet: bool) -> tuple[int, dict[str, Any]]:
    try:
        loaded = find_plan(name)
    except PlanError as error:
        problems = [str(problem) for problem in error.problems]
        if not quiet:
            for line in problems:
                say(line)
        return 2, {"plan": name, "readable": False, "problems": problems, "findings": []}
    except LibraryError as error:
        if not quiet:
            say(f"{error.what}; {error.mend}")
        return 2, {"plan": name, "readable": False, "problems": [str(error)], "findings": []}
    found = examine(loaded.plan)
    bad = any(f.severity in ("error", "warning") for f in found)
    if not quiet:
        _print(loaded.file, loaded.plan.title, found)
    return int(bad), {
        "plan": loaded.file,
        "readable": True,
        "problems": [],
        "findings": [_object(f) for f in found],
    }


def _object(finding: Finding) -> dict[str, Any]:
    return {
        "severity": finding.severity,
        "component": finding.component,
        "text": finding.text,
        "mend": finding.mend,
    }


def _print(file: str, title: str, found: tuple[Finding, ...]) -> None:
    if not found:
        print(f"{file}: {title}: nothing found")
        return
    print(f"{file}: {title}")
    for finding in found:
        about = f"{finding.component}: " if finding.component else ""
        mend = f"; {finding.mend}" if finding.mend else ""
        print(f"  {SIGNS[finding.severity]} {finding.severity}: {about}{finding.text}{mend}")
