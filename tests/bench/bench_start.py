"""How soon a command answers, beside Python itself in the same run.

Run it as a program: python tests/bench/bench_start.py
Of several runs the least is taken, since a busy machine only ever adds. Nothing is asserted; what
may be loaded for these commands is held by tests/cli/test_main.py.
"""

import subprocess
import sys
import time
from collections.abc import Sequence

RUNS = 9
PASSBELL = ("-c", "from passbell.cli.main import run; run()")
COMMANDS: dict[str, Sequence[str]] = {
    "python": ("-c", "import argparse"),
    "--version": (*PASSBELL, "--version"),
    "--help": (*PASSBELL, "--help"),
    "probe": (*PASSBELL, "probe", "pork_whole", "150F", "151F"),
    "check": (*PASSBELL, "check", "tray-supper"),
    "timeplan": (*PASSBELL, "timeplan", "tray-supper"),
}


def least(arguments: Sequence[str]) -> float:
    """Seconds of the quickest of several runs."""
    took = []
    for _ in range(RUNS):
        began = time.perf_counter()
        subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, check=True)
        took.append(time.perf_counter() - began)
    return min(took)


def main() -> None:
    """Print the milliseconds of each command and its ratio to Python alone."""
    bare = least(COMMANDS["python"])
    for name, arguments in COMMANDS.items():
        took = least(arguments)
        print(f"{name:10}{took * 1000:7.0f} ms  × {took / bare:5.1f}")


if __name__ == "__main__":
    main()
