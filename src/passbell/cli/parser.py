"""The parser every command is made with: a mistake gives one sentence and the way to help."""

import argparse
import sys
from collections.abc import Iterable
from typing import Any, NoReturn

import passbell


class CommandParser(argparse.ArgumentParser):
    """Argparse that says what is wrong in one line, exit code 2, and takes no short forms.

    Every command knows `--version`.
    """

    def __init__(self, *args: object, **options: object) -> None:
        options.setdefault("allow_abbrev", False)
        super().__init__(*args, **options)  # type: ignore[arg-type]
        version = f"passbell {passbell.__version__}"
        self.add_argument("--version", action="version", version=version)

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        """Refuse what this very command does not know, so that its own help is named."""
        found, unknown = super().parse_known_args(args, namespace)
        if unknown:
            self.error(f"unrecognized arguments: {' '.join(unknown)}")
        return found, unknown

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and leave with 2."""
        say(f"{message}. See: {self.prog} --help", self.prog)
        raise SystemExit(2)


def whole(text: str) -> int:
    """A whole number from the command line.

    Raises:
        argparse.ArgumentTypeError: when it is none.
    """
    try:
        return int(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number; write digits") from None


def say(text: str, program: str = "passbell") -> None:
    """One line to stderr; what came from the command line in it is made harmless."""
    from passbell.units import clean_text  # noqa: PLC0415 - reading units costs 100 ms

    print(f"{program}: {clean_text(text, longest=1000)}", file=sys.stderr)


def say_all(problems: Iterable[object]) -> None:
    """What is wrong in a file, to stderr, a line each; the reader bounds how many there are."""
    for problem in problems:
        say(str(problem))
