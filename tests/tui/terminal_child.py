"""A cook on a fake desk in a real terminal; run as a program by the tests."""

import os
import signal
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

from passbell.tui.app import PassbellApp, make_app, run_cook
from passbell.tui.views.model import CookView
from tests.tui.sample import FakeDesk

AMIDST = 20
"""The look at the desk in which a signal comes."""


class LastingDesk(FakeDesk):
    """Counts its ticks, and writes down in a file how it ended."""

    def __init__(self, record: Path) -> None:
        super().__init__()
        self.record = record
        self.ticks = 0

    def tick(self) -> CookView:
        self.ticks += 1
        if not self.closed:  # a last look on the way out must not write over the end
            self.record.write_text(f"ticks {self.ticks}\n", encoding="utf-8")
        if os.environ.get("TEST_FAULT") == "tick":
            raise RuntimeError("a fault of the desk")
        return replace(self.view, clock=f"{self.ticks:08}")

    def close(self) -> None:
        self.closed = True
        with self.record.open("a", encoding="utf-8") as file:
            file.write("closed\n")


class Breaking(LastingDesk):
    """Breaks the program itself after a few ticks."""

    def __init__(self, record: Path, app: PassbellApp) -> None:
        super().__init__(record)
        self.app = app

    def bells(self) -> int:
        if self.ticks > 3:
            self.app.call_later(self.fail)
        return 0

    def fail(self) -> None:
        raise RuntimeError("a fault of the program")


class PutAside(LastingDesk):
    """Is put aside once, in the midst of handing a frame over."""

    def __init__(self, record: Path, app: PassbellApp) -> None:
        super().__init__(record)
        self.app = app

    def bells(self) -> int:
        if self.ticks == AMIDST:
            writer: Any = self.app._driver
            with writer._writer_thread._queue.mutex:
                os.kill(os.getpid(), signal.SIGTSTP)
        return 0


def main() -> int:
    """Run until left; the exit code is the program's."""
    record = Path(sys.argv[1])
    app = make_app()
    if os.environ.get("TEST_FAULT") == "program":
        return run_cook(Breaking(record, app), app, interval=0.05)
    if os.environ.get("TEST_FAULT") == "put aside":
        return run_cook(PutAside(record, app), app, interval=0.05)
    return run_cook(LastingDesk(record), app, interval=0.05)


if __name__ == "__main__":
    sys.exit(main())
