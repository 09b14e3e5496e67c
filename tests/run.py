"""Runs every check of the project: `python3 tests/run.py`.

It makes an environment of its own (`.venv-test`), installs the project with its tests into it, and
runs the rules, the types, the layers and the tests; then the tests once more on the Python at the
other end of what is at hand, when there is one. With arguments it runs only pytest, with them:
`python3 tests/run.py tests/journal -k crash`.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
OLDEST = (3, 11)
NEWEST = (3, 14)
INSTALLED = "installed.txt"
WORKERS = "3"
"""On two cores: some tests wait for programs on a terminal, others work meanwhile."""
MISSING = """\
The tests could not be installed. They play sounds, so they compile one package, which needs
  Debian, Ubuntu:  apt-get install gcc python3-dev python3-venv libasound2-dev
  macOS:           xcode-select --install
and the package registry."""
CHECKS = (
    ("ruff", "check", "."),
    ("ruff", "format", "--check", "."),
    ("mypy",),
    ("lint-imports", "--no-cache"),
)
Version = tuple[int, int]


def main(arguments: Sequence[str]) -> int:
    """Run the checks; 0 when all hold, 1 when one does not, 2 when they cannot be run."""
    if os.name != "posix":
        print("The tests kill programs, fill disks and draw on terminals: run them on Linux or")
        print("macOS; on Windows, in a Linux subsystem.")
        return 2
    if sys.version_info[:2] < OLDEST:
        print(f"Python {sys.version.split()[0]} runs this; the project needs 3.11 or later.")
        print("Call this file with a later Python.")
        return 2
    here = environment(Path(sys.executable), ROOT / ".venv-test")
    if here is None:
        return 2
    if arguments:
        return run(here, ("pytest", *arguments))
    failed = [" ".join(check) for check in CHECKS if run(here, check)]
    failed += other_python()
    tests = "pytest"
    failed += [tests] if run(here, ("pytest", "-q", "-n", WORKERS)) else []
    for check in failed:
        print(f"FAILED: {check}", file=sys.stderr)
    return 1 if failed else 0


def other_python() -> list[str]:
    """Run the tests on the Python farthest from this one; returns what failed."""
    mine = sys.version_info[:2]
    found = {version: path for version, path in at_hand() if version != mine}
    if not found:
        return []
    version = max(found) if max(found) > mine else min(found)
    label = f"{version[0]}.{version[1]}"
    there = environment(found[version], ROOT / f".venv-test-{label}")
    if there is None or run(there, ("pytest", "-q", "-n", WORKERS)):
        return [f"the tests on Python {label}"]
    return []


def at_hand() -> Iterable[tuple[Version, Path]]:
    """The Pythons that can run the project, by version: on PATH, and kept by pyenv."""
    for minor in range(OLDEST[1], NEWEST[1] + 1):
        for path in candidates(f"3.{minor}"):
            if version_of(path) == (3, minor):
                yield (3, minor), path
                break


def candidates(label: str) -> Iterable[Path]:
    """Where a Python of that version may be."""
    named = shutil.which(f"python{label}")
    if named:
        yield Path(named)
    if shutil.which("pyenv"):
        asked = subprocess.run(["pyenv", "root"], capture_output=True, text=True, check=False)
        kept = Path(asked.stdout.strip() or "missing") / "versions"
        yield from sorted(kept.glob(f"{label}.*/bin/python"), reverse=True)


def version_of(path: Path) -> Version | None:
    """What a Python says it is; None when it does not run or can make no environment."""
    code = "import ensurepip, sys, venv; print(*sys.version_info[:2])"
    asked = subprocess.run([path, "-c", code], capture_output=True, text=True, check=False)
    said = asked.stdout.split()
    return (int(said[0]), int(said[1])) if asked.returncode == 0 else None


def environment(python: Path, folder: Path) -> Path | None:
    """An environment with the project and its tests, made when it is not there or is old."""
    wanted = hashlib.sha256((ROOT / "pyproject.toml").read_bytes()).hexdigest()
    stamp = f"{python}\n{folder}\n{wanted}\n"
    written = folder / INSTALLED
    if written.is_file() and written.read_text("utf-8") == stamp:
        return folder
    print(f"Installing into {folder.name} ...", flush=True)
    inside = str(folder / "bin" / "python")
    steps = (
        [str(python), "-m", "venv", "--clear", str(folder)],
        [inside, "-m", "pip", "install", "-q", "-e", ".[test,sound]"],
    )
    if any(subprocess.run(step, cwd=ROOT, check=False).returncode for step in steps):
        print(MISSING, file=sys.stderr)
        return None
    written.write_text(stamp, "utf-8")
    return folder


def run(folder: Path, command: Sequence[str]) -> int:
    """Run a tool of an environment; returns its exit code."""
    print(f"\n$ {' '.join(command)}  ({folder.name})", flush=True)
    tool, *arguments = command
    return subprocess.run(
        [str(folder / "bin" / tool), *arguments], cwd=ROOT, stdin=subprocess.DEVNULL, check=False
    ).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
