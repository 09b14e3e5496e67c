"""A journal in a folder of its own, and runs to write into it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from passbell.journal import Entry, Journal, RunMeta


def meta(title: str = "An invented supper", plan_file: str = "supper.toml") -> RunMeta:
    return RunMeta(
        *(title, plan_file, 'title = "An invented supper"\n' * 400, 1.7e9, "boot-a", 123.25),
        *("CET", 3600),
        rehearsal=False,
        version="0.1.0",
    )


def entry(seq: int, size: int = 40) -> Entry:
    events = (f'{{"event":{seq}}}', f'"{"x" * size}"')
    return Entry(seq, seq * 7, 1.7e9 + seq * 7 + 0.25, "seen", f'{{"seen":{seq}}}', events)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "data" / "passbell"


@pytest.fixture
def journal(folder: Path) -> Iterator[Journal]:
    with Journal.open(folder) as opened:
        yield opened
