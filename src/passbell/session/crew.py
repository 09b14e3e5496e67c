"""Child processes that cook side by side, so that the odds come sooner and no screen waits."""

import json
import os
import pickle
import subprocess
import sys

from passbell.cook.state import CookState
from passbell.odds.hand import Lead
from passbell.odds.odds import Draws, Odds, odds_of, wanted_of

_GENTLY = """import os
if hasattr(os, "nice"):
    os.nice(10)
from passbell.session.odds_child import main
main()"""
"""It stands back for the screen and the sounds from its first moment on, its imports too."""

_CHILD = [sys.executable, "-P", "-c", _GENTLY]

_FLAGS = ("CREATE_NO_WINDOW", "BELOW_NORMAL_PRIORITY_CLASS")
"""The same where there is no niceness."""


class Crew:
    """Shares the cooks of one question out among processes, which stay for the next.

    Where no process can be started, or one dies, the cooks are made up here: the answer is the
    same, it only comes later.

    Args:
        children: how many processes; None: one for each processor, at most four.
    """

    def __init__(self, children: int | None = None) -> None:
        self._wanted = children or min(4, os.cpu_count() or 1)
        self._children: list[subprocess.Popen[bytes]] = []

    def odds(self, state: CookState, draws: Draws, leads: tuple[Lead, ...] = ()) -> Odds:
        """The odds of a cook as it stands; it returns when all are cooked."""
        parts = [range(k, draws.runs, self._wanted) for k in range(self._wanted)]
        try:
            found = self._shared(state, draws, leads, parts)
        except (OSError, ValueError):
            self.close()
            return odds_of(state, draws, leads)
        served = dict(pair for part, got in zip(parts, found, strict=True)
                      for pair in zip(part, got, strict=True))  # fmt: skip
        return Odds(wanted_of(state), tuple(served[run] for run in range(draws.runs)))

    def close(self) -> None:
        """Send the children away."""
        for child in self._children:
            child.kill()
            child.communicate()
        self._children.clear()

    def __enter__(self) -> "Crew":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _shared(
        self, state: CookState, draws: Draws, leads: tuple[Lead, ...], parts: list[range]
    ) -> list[tuple[int, ...]]:
        while len(self._children) < self._wanted:
            self._children.append(started())
        for child, part in zip(self._children, parts, strict=True):
            ask(child, job_of(state, draws, part, leads))
        return [answer(child) for child in self._children]


def started() -> subprocess.Popen[bytes]:
    """A child that waits for jobs; it ends when the pipe to it is closed, so with its parent."""
    return subprocess.Popen(  # noqa: S603 - our own module
        _CHILD,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        start_new_session=True,  # Ctrl+C and a closing window are not meant for it
        creationflags=sum(getattr(subprocess, flag, 0) for flag in _FLAGS),
    )


def job_of(state: CookState, draws: Draws, part: range, leads: tuple[Lead, ...] = ()) -> bytes:
    """A job as a child reads it: a cook as it stands, the draws, which runs, what is done early."""
    return pickle.dumps((state.but(past=None, future=None, log=()), draws, part, leads))


def ask(child: subprocess.Popen[bytes], job: bytes) -> None:
    """Give a child a job."""
    assert child.stdin is not None
    child.stdin.write(job)
    child.stdin.flush()


def answer(child: subprocess.Popen[bytes]) -> tuple[int, ...]:
    """The line of a child; a ValueError when it died before it had one."""
    assert child.stdout is not None
    return tuple(json.loads(child.stdout.readline()))
