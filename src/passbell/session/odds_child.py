"""A child process that cooks: jobs come in on standard input, dish-up instants go out, a line each.

`python -m passbell.session.odds_child` is started by `passbell.session.crew` and by nobody else.
"""

import contextlib
import json
import os
import pickle
import sys

from passbell.odds.odds import served_in

GENTLY = 10
"""How far it stands back for the screen and the sounds (niceness)."""


def main() -> None:
    """Cook job after job until there are no more."""
    with contextlib.suppress(AttributeError, OSError):
        os.nice(GENTLY)
    with contextlib.suppress(EOFError, BrokenPipeError, KeyboardInterrupt):
        while True:
            # The bytes are our own parent's, through a pipe that nobody else can write to.
            job = pickle.load(sys.stdin.buffer)  # noqa: S301
            sys.stdout.write(json.dumps(served_in(*job)) + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
