"""A child process that cooks: jobs come in on standard input, dish-up instants go out, a line each.

It is started by `passbell.session.crew` and by nobody else.
"""

import json
import os
import pickle
import sys
import threading
from queue import SimpleQueue
from typing import Any

from passbell.odds.odds import served_in


def _read(jobs: SimpleQueue[tuple[Any, ...]]) -> None:
    """Take jobs in; when the parent has ended or wants no more, end at once, in mid job too."""
    try:
        while True:
            # The bytes are our own parent's, through a pipe that nobody else can write to.
            jobs.put(pickle.load(sys.stdin.buffer))  # noqa: S301
    finally:
        os._exit(0)


def main() -> None:
    """Cook job after job until the parent closes the pipe."""
    jobs: SimpleQueue[tuple[Any, ...]] = SimpleQueue()
    threading.Thread(target=_read, args=(jobs,), daemon=True).start()
    while True:
        sys.stdout.write(json.dumps(served_in(*jobs.get())) + "\n")
        sys.stdout.flush()
