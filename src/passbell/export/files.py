"""Writing what leaves the program, and counting how often a calendar did."""

import contextlib
import json
import os
from pathlib import Path

from passbell.files import read_small
from passbell.pen import PenError, replace_whole, write_over
from passbell.units import MendableError

SUFFIXES: dict[str, tuple[str, ...]] = {
    "card": (".md", ".markdown"),
    "jsonld": (".jsonld", ".json"),
    "ics": (".ics",),
    "vtt": (".vtt",),
    "chapters": (".txt",),
    "csv": (".csv",),
}
"""What a file of each kind is called; the first is the usual one."""

EPOCH = 1_767_225_600
"""2026-01-01 in seconds of UTC: sequence numbers fit RFC 5545's 32 bits from there for 68 years."""

_COUNTS = "calendars.json"
_MOST = 500


class ExportError(MendableError):
    """A file that is not written."""


def write_file(path: Path, data: bytes, kind: str) -> None:
    """Write an export whole or not at all; it is for sharing, so the usual permissions hold.

    A file that is there is replaced only where it has a name of this kind, so that no plan is
    lost to a slip of the pen.

    Args:
        path: where to.
        data: the whole file.
        kind: a key of `SUFFIXES`.

    Raises:
        ExportError: when another kind of file is there.
        OSError: when it cannot be written.
    """
    there = path.exists()
    if there and path.is_file() and path.suffix.casefold() not in SUFFIXES[kind]:
        usual = SUFFIXES[kind][0]
        mend = f"choose another name, such as {path.with_suffix(usual).name}"
        raise ExportError(f"{path} is there already and is no {usual} file", mend)
    if there and not path.is_file():
        with path.open("wb") as file:
            file.write(data)
        return
    replace_whole(path, data, 0o666 & ~_umask())


def _umask() -> int:
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def next_sequence(folder: Path, title: str, now: float) -> int:
    """The sequence number of a calendar: it rises with every export, on every machine.

    It is the clock in seconds, or one more than last time where that is not more (two exports in a
    second, a clock set back). Last time's is kept in a small file of the data folder; where that
    cannot be read or written, the clock alone counts.

    Args:
        folder: the data folder; it need not be there.
        title: whose calendar.
        now: wall clock, seconds since 1970-01-01 UTC.
    """
    path = folder / _COUNTS
    counts = _counts(path)
    number = max(int(now) - EPOCH, counts.pop(title, -1) + 1, 0)
    kept = dict([*counts.items(), (title, number)][-_MOST:])
    with contextlib.suppress(PenError):
        write_over(path, json.dumps(kept))
    return number


def _counts(path: Path) -> dict[str, int]:
    try:
        found = json.loads(read_small(path, 1_000_000))
    except (OSError, ValueError, RecursionError):
        return {}
    if not isinstance(found, dict):
        return {}
    return {k: v for k, v in found.items() if type(v) is int and 0 <= v < 2**31}
