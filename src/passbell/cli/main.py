"""The command: finds the subcommand, and lets no traceback reach a cook.

Only the module of the subcommand that was asked for is imported, so that `--version` and
`--help` answer at once.
"""

import argparse
import difflib
import importlib
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

import passbell
from passbell.cli.parser import CommandParser, say

COMMANDS = {
    "cook": "cook a plan: the dashboard beside the stove",
    "new": "a new plan from a few answers, or from a recipe",
    "check": "every problem in a plan",
    "timeplan": "when everything starts, as a table and a time line",
    "probe": "judge probe readings by a published chart",
    "forecast": "when a component will be at its temperature, by its readings",
    "runs": "the record of your cooks, and what they ask to be changed",
    "kitchen": "what is known of your appliances",
    "export": "a plan or a run as a card, calendar or table",
    "sound-test": "play each sound, and say what plays it",
}
"""The subcommands in the order of the help, each with what it does."""

_EPILOG = """\
Without a command the plan list opens.
Exit codes: 0 fine, 1 the answer is no, 2 not understood, 130 interrupted.
"""


class _Help(argparse.RawDescriptionHelpFormatter):
    def __init__(self, prog: str) -> None:
        super().__init__(prog)
        # Argparse forgets that commands stand further in than options.
        self._action_max_length = 4 + max(map(len, COMMANDS))


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Args:
        argv: the arguments without the program's name; None: those of the process.

    Returns:
        0 fine, 1 the answer is no, 2 not understood or a fault, 130 interrupted.
    """
    arguments = list(sys.argv[1:] if argv is None else argv)
    try:
        code = _dispatch(arguments)
        if sys.stdout is not None:
            sys.stdout.flush()
    except SystemExit as end:
        return _left(end.code)
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        _close_stdout()
        return 0
    except Exception as error:  # noqa: BLE001 - the one place where every fault ends
        return _trouble(error)
    return code


def run() -> NoReturn:
    """The console entry: run the command of the process and leave with its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a terminal without UTF-8 shows ? for a degree sign
            stream.reconfigure(errors="replace")
    sys.exit(main())


def build_parser(command: str | None) -> CommandParser:
    """The parser with every command listed, and the named one complete."""
    parser = CommandParser(
        prog="passbell",
        description=passbell.__doc__,
        epilog=_EPILOG,
        formatter_class=_Help,
    )
    listed = parser.add_subparsers(metavar="COMMAND", title="commands")
    for name, does in COMMANDS.items():
        if name == command:
            module = importlib.import_module(f"passbell.cli.{name.replace('-', '_')}")
            module.add_parser(listed)
        else:
            listed.add_parser(name, help=does)
    return parser


def _left(code: str | int | None) -> int:
    if isinstance(code, str):
        say(code)
        return 2
    return code or 0


def _dispatch(arguments: list[str]) -> int:
    if not arguments:
        return _open_list()
    command = next((word for word in arguments if not word.startswith("-")), None)
    if command is not None and command not in COMMANDS:
        say(_unknown(command))
        return 2
    parser = build_parser(command)
    args = parser.parse_args(arguments)
    if command is None:
        parser.error("a command is missing")
    return int(args.func(args))


def _open_list() -> int:
    return int(importlib.import_module("passbell.cli.dashboard").open_list())


def _unknown(command: str) -> str:
    near = difflib.get_close_matches(command, COMMANDS, 1)
    if near:
        mend = f"did you mean: passbell {near[0]}?"
    elif command.endswith(".toml"):
        mend = f"to cook that plan: passbell cook {command}"
    else:
        mend = f"there are: {', '.join(COMMANDS)}"
    return f"there is no command {command!r}; {mend}"


def _trouble(error: Exception) -> int:
    try:
        if sys.stdout is not None:
            sys.stdout.flush()
    except OSError:
        _close_stdout()
    what, mend = getattr(error, "what", None), getattr(error, "mend", None)
    if isinstance(what, str) and isinstance(mend, str):
        say(f"{what}; {mend}")
    elif isinstance(error, OSError):
        say(_system(error))
    else:
        from passbell.cli.fault import fault_text  # noqa: PLC0415

        say(fault_text(error))
    return 2


def _system(error: OSError) -> str:
    reason = error.strerror or type(error).__name__
    if error.filename is None:
        return f"something could not be read or written ({reason}); look at the disk and try again"
    return f"{os.fspath(error.filename)!r}: {reason}; look whether it is there and you may use it"


def _close_stdout() -> None:
    # It takes nothing more; without this Python would complain once more at its own end.
    try:
        descriptor = sys.stdout.fileno()
    except (OSError, AttributeError, ValueError):
        return
    os.dup2(os.open(os.devnull, os.O_WRONLY), descriptor)
