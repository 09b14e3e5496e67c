"""Fixtures of the screens' tests."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.tui.live_kitchen import Kitchen
from tests.tui.pseudo_terminal import Terminal


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Callable[..., Terminal]]:
    """Start programs in terminals of their own, which are ended with the test."""
    started: list[Terminal] = []

    def start(size: tuple[int, int] = (80, 24), **env: str) -> Terminal:
        started.append(Terminal(tmp_path / f"record{len(started)}", size, **env))
        return started[-1]

    yield start
    for each in started:
        each.close()


@pytest.fixture
def kitchen() -> Kitchen:
    """A desk over the tray supper, just begun."""
    return Kitchen()
