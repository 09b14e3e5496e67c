"""The guarded driver of a Unix terminal; see driver.py for what it is made of."""

import os
import select
import time
from threading import Thread
from typing import Any

from textual import constants
from textual._xterm_parser import XTermParser
from textual.drivers._writer_thread import MAX_QUEUED_WRITES
from textual.drivers.linux_driver import LinuxDriver

from passbell.tui.driver import RawOut, TerminalReader

PATIENCE = 1.0
"""Seconds that the end waits for a slow terminal to take what was drawn."""

NAP = 0.005
"""Seconds between two looks at whether it has."""

_PAUSE = 0.1
"""Seconds between two looks at whether reading is to end."""

_PAST = 0.001
"""Seconds past the wait for the rest of a code after which it is given up for certain."""


class GuardedDriver(LinuxDriver):
    """Textual's driver, with a guard on each side of the terminal.

    Raises:
        RuntimeError: when there is no standard error to draw on.
    """

    def __init__(self, *args: Any, **settings: Any) -> None:
        super().__init__(*args, **settings)
        if self._file is None:
            raise RuntimeError("there is no standard error to draw on")
        self._out = RawOut(self._file)
        self._file = self._out  # type: ignore[assignment]
        self._sent = 0
        self._stalled = False
        self._asleep = False

    def run_input_thread(self) -> None:
        """Read keys until told to stop; nothing that is read can end it."""
        reader = TerminalReader(lambda: XTermParser(self._debug))
        pause = _PAUSE
        while not self.exit_event.is_set():
            ready, _, _ = select.select([self.fileno], [], [], pause)
            data = self._read() if ready else b""
            if data is None:
                self.exit_event.wait(0.5)
                continue
            # A lone Esc is known for one by nothing coming after it: look as soon as that is so.
            pause = constants.ESCAPE_DELAY + _PAST if data.endswith(b"\x1b") else _PAUSE
            for message in (*reader.feed(data), *reader.tick()):
                self.process_message(message)

    def _read(self) -> bytes | None:
        """What there is to read; None: the terminal has gone."""
        try:
            return os.read(self.fileno, 4096) or None
        except OSError:
            return None

    def write(self, data: str) -> None:
        """Queue a frame; drop it when nobody reads the terminal, for the queue would block.

        Once one is dropped all are until the queue is empty and everything is painted anew: later
        frames would leave parts of the screen from different moments beside each other.
        """
        if self._writer_thread is None:
            return
        behind = self._sent - self._out.written
        if behind >= MAX_QUEUED_WRITES - 1 or (self._stalled and behind):
            self._stalled = True
            return
        self._sent += 1
        self._writer_thread.write(data)

    def caught_up(self) -> bool:
        """Whether frames were dropped and all others have been read: time to paint anew."""
        if self._stalled and self._sent == self._out.written:
            self._stalled = False
            return True
        return False

    def gone(self) -> bool:
        """Whether the terminal has been closed."""
        poll = select.poll()
        poll.register(self.fileno, select.POLLHUP)
        return any(event & (select.POLLHUP | select.POLLERR) for _, event in poll.poll(0))

    def disable_input(self) -> None:
        """Stop reading keys and the mouse."""
        self._give_back()
        super().disable_input()

    def stop_application_mode(self) -> None:
        """Give the terminal back as it was."""
        self._give_back()
        super().stop_application_mode()

    def _give_back(self) -> None:
        """The codes that give a terminal back are no frames: make room, so that none is dropped."""
        for _ in range(round(PATIENCE / NAP)):
            if self._sent == self._out.written:
                break
            time.sleep(NAP)
        self._stalled = False

    def close(self) -> None:
        """Stop writing; a terminal that nobody reads is not waited for."""
        if self._writer_thread is not None:
            stopping = Thread(target=self._writer_thread.stop, daemon=True)
            stopping.start()
            stopping.join(PATIENCE)

    def _sigtstp_application(self, *args: object) -> None:
        """Go to sleep once what is being done is done: it may hold the lock of the queue.

        A signal's function runs in the midst of anything, and would wait for that lock for ever.
        """
        self._loop.call_soon_threadsafe(self._fall_asleep)

    def _fall_asleep(self) -> None:
        self._asleep = True
        super()._sigtstp_application()

    def _sigcont_application(self, *args: object) -> None:
        """Come back only when gone to sleep properly; a bare stop left all as it was."""
        if self._asleep:
            self._asleep = False
            super()._sigcont_application(*args)
        else:
            self._stalled = True
