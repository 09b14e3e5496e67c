"""The terminal, held with care: bad bytes, a terminal nobody reads, and one that goes away.

Everything private that is used of Textual 8.2 stands in PRIVATE_NAMES, so that a test can say at
once when another release has changed it.
"""

import os
import re
import select
import signal
import sys
from codecs import getincrementaldecoder
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import IO, Protocol

from textual.driver import Driver
from textual.message import Message

PRIVATE_NAMES = {
    "textual._xterm_parser": ("XTermParser",),
    "textual.drivers._writer_thread": ("WriterThread", "MAX_QUEUED_WRITES"),
    "textual.drivers.linux_driver.LinuxDriver": (
        "run_input_thread", "process_message", "write", "stop_application_mode", "close",
        "_sigtstp_application", "_sigcont_application",
    ),
    "textual.app.App": ("_handle_exception", "_fatal_error"),
}  # fmt: skip
"""Module or class, and the names in it that the guarded driver leans on."""

_SEQUENCES = re.compile("(?=\x1b)")
_CODE = re.compile("\x1b(?:\\[[0-?]*[ -/]*[@-~]|O[A-DFHP-S])")
"""The code of a key or of the mouse (ECMA-48, 5.4, and the single shift 3 of its 8.3)."""
TERMINATED, HUNG_UP, INTERRUPTED = 143, 129, 130
"""Exit codes after SIGTERM, SIGHUP (or a closed window) and SIGINT: 128 and the signal."""


class _HasTerminal(Protocol):
    """A stream that knows whether it is a terminal."""

    def isatty(self) -> bool:
        """Whether it is a terminal."""
        ...


def refusal(
    env: Mapping[str, str], stdin: _HasTerminal | None, stderr: IO[str] | _HasTerminal | None
) -> str | None:
    """Why the screen cannot be shown here, with the mend; None: it can.

    Args:
        env: the environment.
        stdin: where keys come from.
        stderr: where the screen is drawn; Textual draws on standard error.
    """
    if stdin is None or not stdin.isatty():
        return "The keys do not come from a terminal. Start it in a terminal, or use --plain."
    if stderr is None or not stderr.isatty():
        return "Standard error is not a terminal. Do not redirect it, or use --plain."
    if env.get("TERM", "") in ("dumb", "unknown"):
        return "This terminal (TERM=dumb) cannot show a screen. Use --plain."
    encoding = (getattr(stderr, "encoding", None) or "utf-8").lower().replace("_", "-")
    if encoding not in ("utf-8", "utf8", "cp65001"):
        return f"This terminal writes {encoding}, not UTF-8. Set LANG=C.UTF-8, or use --plain."
    return None


class TerminalReader:
    """Bytes in, messages out, whatever the bytes are.

    Args:
        parser: makes a parser; a new one is taken after one has failed.
    """

    def __init__(self, parser: Callable[[], "Parser"]) -> None:
        self._make = parser
        self._parser = parser()
        self._decode = getincrementaldecoder("utf-8")(errors="replace").decode
        self._begun = self._cut = ""

    def feed(self, data: bytes) -> Iterable[Message]:
        """The messages that these bytes make; a byte that means nothing makes none.

        The rest of a code that a slow line brings after an Esc was given up to wait for is that
        code still: its letters, such as the B of an arrow, are keys of their own.
        """
        text = self._decode(data).replace("\ufffd", "")
        if text and self._cut:
            whole, self._cut = self._cut + text, ""
            text = whole if _CODE.match(whole) else text
        for part in _SEQUENCES.split(text):
            if part:
                begun = part if part[0] == "\x1b" else self._begun + part
                self._begun = "" if begun[0] != "\x1b" or _CODE.match(begun) else begun[:32]
                yield from self._parsed(partial(self._parser.feed, part))

    def tick(self) -> Iterable[Message]:
        """The messages that waiting makes (a lone Esc)."""
        given_up = list(self._parsed(self._parser.tick))
        if given_up:
            self._begun, self._cut = "", self._begun
        yield from given_up

    def _parsed(self, parse: Callable[[], Iterable[Message]]) -> Iterable[Message]:
        """What the parser makes; an impossible key code costs itself."""
        try:
            yield from parse()
        except Exception:  # noqa: BLE001 - whatever the bytes did to the parser, they are lost
            self._parser = self._make()


class Parser(Protocol):
    """What is used of Textual's parser."""

    def feed(self, data: str) -> Iterable[Message]:
        """The messages that the text completes."""
        ...

    def tick(self) -> Iterable[Message]:
        """The messages that waiting completes."""
        ...


class RawOut:
    """Standard error without Python's buffer, whose lock a blocked write would hold at the end.

    Args:
        stream: where to write.
    """

    def __init__(self, stream: IO[str]) -> None:
        self._number = stream.fileno()
        self.written = 0
        """How many frames the terminal has taken."""

    def write(self, text: str) -> int:
        """Write all of it, waiting where the terminal is slow."""
        left = text.encode("utf-8", errors="replace")
        while left:
            try:
                left = left[os.write(self._number, left) :]
            except BlockingIOError:
                select.select([], [self._number], [], 1.0)
            except OSError:
                break
        self.written += 1
        return len(text)

    def flush(self) -> None:
        """Nothing waits here."""

    def fileno(self) -> int:
        """The number of the file."""
        return self._number

    def isatty(self) -> bool:
        """Whether it is a terminal."""
        return os.isatty(self._number)


def guarded_driver() -> type[Driver] | None:
    """The guarded driver where the terminal is a Unix one; None elsewhere: Textual's own."""
    if sys.platform == "win32":
        return None
    from passbell.tui.unix_driver import GuardedDriver  # noqa: PLC0415 - not to be had on Windows

    return GuardedDriver


SIGNALS: dict[str, int] = {"SIGTERM": TERMINATED, "SIGHUP": HUNG_UP, "SIGINT": INTERRUPTED}
"""Signals the application takes itself, and the exit code after each."""


def take_signals(add: Callable[..., None], leave: Callable[[int], None]) -> None:
    """Leave in good order on SIGTERM, SIGHUP and SIGINT.

    Args:
        add: the event loop's add_signal_handler.
        leave: called with the exit code.
    """
    for name, code in SIGNALS.items():
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
            add(number, leave, code)
