"""The cook's own editor, started without a shell."""

import os
import shlex
import subprocess
from pathlib import Path

from passbell.cli.parser import say
from passbell.units import quoted


def editor() -> list[str]:
    """The editor of VISUAL or EDITOR as a list of words; empty: none is named."""
    named = os.environ.get("VISUAL") or os.environ.get("EDITOR") or ""
    try:
        return shlex.split(named)
    except ValueError:
        return []


def edit(path: Path) -> bool:
    """Open a file in the editor and wait for its end; False, said: it could not be."""
    words = editor()
    if not words:
        say("no editor is named; name one in VISUAL or EDITOR")
        return False
    try:
        subprocess.run([*words, str(path)], check=False)  # noqa: S603 - the cook's own editor
    except OSError as error:
        say(f"{quoted(words[0])} cannot be started: {error.strerror}; name another in VISUAL")
        return False
    return True
