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
from typing import IO, Any, Protocol

from textual.driver import Driver
from textual.message import Message

PRIVATE_NAMES = {
    "textual._xterm_parser": ("XTermParser",),
    "textual.drivers._writer_thread": ("WriterThread", "MAX_QUEUED_WRITES"),
    "textual.drivers.linux_driver.LinuxDriver": (
        "run_input_thread", "process_message", "write", "close", "start_application_mode",
        "stop_application_mode", "_sigtstp_application", "_sigcont_application",
    ),
    "textual.app.App": ("_handle_exception", "_fatal_error"),
}  # fmt: skip
"""Module or class, and the names in it that the guarded driver leans on."""

_SEQUENCES = re.compile("(?=\x1b)")
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

    def feed(self, data: bytes) -> Iterable[Message]:
        """The messages that these bytes make; a byte that means nothing makes none."""
        text = self._decode(data).replace("\ufffd", "")
        for part in _SEQUENCES.split(text):
            if part:
                yield from self._parsed(partial(self._parser.feed, part))

    def tick(self) -> Iterable[Message]:
        """The messages that waiting makes (a lone Esc)."""
        yield from self._parsed(self._parser.tick)

    def _parsed(self, parse: Callable[[], Iterable[Message]]) -> Iterable[Message]:
        """What the parser makes; an impossible key code costs itself."""
        try:
            yield from parse()
        except Exception:
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

    def write(self, text: str) -> int:
        """Write all of it, waiting where the terminal is slow."""
        left = text.encode("utf-8", errors="replace")
        while left:
            try:
                left = left[os.write(self._number, left) :]
            except BlockingIOError:
                select.select([], [self._number], [], 1.0)
            except OSError:
                return 0
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
    from textual._xterm_parser import XTermParser
    from textual.drivers.linux_driver import LinuxDriver

    class GuardedDriver(LinuxDriver):
        """Textual's driver, with a guard on each side of the terminal."""

        _stalled = False
        _asleep = False

        def __init__(self, *args: Any, **settings: Any) -> None:
            super().__init__(*args, **settings)
            if self._file is not None:
                self._file = RawOut(self._file)  # type: ignore[assignment]

        def run_input_thread(self) -> None:
            """Read keys until told to stop; nothing that is read can end it."""
            reader = TerminalReader(lambda: XTermParser(self._debug))
            while not self.exit_event.is_set():
                ready, _, _ = select.select([self.fileno], [], [], 0.1)
                if ready:
                    data = self._read()
                    if data is None:
                        self.exit_event.wait(0.5)
                        continue
                    for message in reader.feed(data):
                        self.process_message(message)
                for message in reader.tick():
                    self.process_message(message)

        def _read(self) -> bytes | None:
            """What there is to read; None: the terminal has gone."""
            try:
                return os.read(self.fileno, 4096) or None
            except OSError:
                return None

        def write(self, data: str) -> None:
            """Queue a frame; drop it when nobody reads the terminal."""
            writer = self._writer_thread
            if writer is None:
                return
            if writer._queue.full():
                self._stalled = True
            else:
                writer.write(data)

        def caught_up(self) -> bool:
            """Whether frames were dropped and all others have been read: time to paint anew."""
            writer = self._writer_thread
            if self._stalled and writer is not None and writer._queue.empty():
                self._stalled = False
                return True
            return False

        def gone(self) -> bool:
            """Whether the terminal has been closed."""
            poll = select.poll()
            poll.register(self.fileno, select.POLLHUP)
            return any(event & (select.POLLHUP | select.POLLERR) for _, event in poll.poll(0))

        def close(self) -> None:
            """Stop writing; never wait for a terminal that nobody reads."""
            writer = self._writer_thread
            if writer is None:
                return
            if not writer._queue.full():
                writer._queue.put_nowait(None)
            writer.join(1.0)

        def _sigtstp_application(self, *args: object) -> None:
            self._asleep = True
            super()._sigtstp_application(*args)

        def _sigcont_application(self, *args: object) -> None:
            """Come back only when gone to sleep properly; a bare stop left all as it was."""
            if self._asleep:
                self._asleep = False
                super()._sigcont_application(*args)
            else:
                self._stalled = True

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
