"""The cook's own editor, started without a shell."""

import os
import shlex
import signal
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from passbell.units import MendableError, quoted


class EditorError(MendableError):
    """No editor is named, or it cannot be started."""


def editor() -> list[str]:
    """The editor of VISUAL or EDITOR as a list of words; empty: none is named, or not readably."""
    try:
        return shlex.split(_named())
    except ValueError:
        return []


def _named() -> str:
    return os.environ.get("VISUAL") or os.environ.get("EDITOR") or ""


def named_editor() -> list[str]:
    """The same.

    Raises:
        EditorError: when none is named.
    """
    words = editor()
    if not words:
        if named := _named().strip():
            raise EditorError(f"{quoted(named)} is no command", "close the quotes in EDITOR")
        raise EditorError("no editor is named", "name one in VISUAL or EDITOR")
    return words


def edit(path: Path) -> None:
    """Open a file in the editor, which has the terminal to itself, and wait for its end.

    Raises:
        EditorError: when none is named, it cannot be started, or it ends with a fault of its own.
    """
    words = named_editor()
    try:
        with _keys_are_the_editors():
            ended = subprocess.run([*words, str(path)], check=False)  # noqa: S603 - the cook's own editor
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise EditorError(f"{quoted(words[0])} cannot be started: {why}", "name another") from None
    if ended.returncode:
        how = f"{quoted(words[0])} ended with a fault ({ended.returncode})"
        raise EditorError(how, f"{path.name} is as it left it")


@contextmanager
def _keys_are_the_editors() -> Iterator[None]:
    """Ctrl+C and Ctrl+Z reach every program of the terminal: here they are the editor's alone.

    Ctrl+C does nothing to us (an empty function is not inherited, as being deaf to it would be);
    Ctrl+Z stops us together with the editor, as a shell expects.
    """
    ours = {
        number: signal.signal(number, act)
        for name, act in (
            ("SIGINT", _nothing), ("SIGTSTP", signal.SIG_DFL), ("SIGCONT", signal.SIG_DFL),
        )
        if (number := getattr(signal, name, None)) is not None
    }  # fmt: skip
    try:
        yield
    finally:
        for number, act in ours.items():
            signal.signal(number, act)


def _nothing(*_: object) -> None:
    """What a signal does that is not for us."""
