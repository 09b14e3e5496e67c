"""Fixtures of the sound's tests; every process they start is ended by its number."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from passbell.sound.board import SoundBoard
from passbell.sound.ticks import ticks
from tests.sound.helpers import (
    MakeTalk,
    Speaker,
    Talk,
    up,
)

MakeBoard = Callable[..., SoundBoard]


@pytest.fixture
def speaker(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Speaker:
    """The sound card of this test."""
    folder = tmp_path / "speaker"
    folder.mkdir()
    made = Speaker(folder)
    monkeypatch.setenv("ALSA_CONFIG_PATH", str(made.config))
    return made


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An otherwise empty PATH, and a Python in which simpleaudio is not installed."""
    path, modules = tmp_path / "programs", tmp_path / "modules"
    path.mkdir()
    modules.mkdir()
    (modules / "simpleaudio.py").write_text("raise ImportError('not here')\n")
    monkeypatch.setenv("PATH", str(path))
    monkeypatch.setenv("PYTHONPATH", str(modules), prepend=os.pathsep)
    return path


@pytest.fixture
def make_board() -> Iterator[MakeBoard]:
    """Make boards that are closed at the end."""
    boards: list[SoundBoard] = []

    def make(clock: Callable[[], float] = ticks, **settings: object) -> SoundBoard:
        board = SoundBoard(clock, **settings)  # type: ignore[arg-type]
        boards.append(board)
        return board

    yield make
    for board in boards:
        board.close()


@pytest.fixture
def talks() -> Iterator[MakeTalk]:
    """Start sound processes spoken to by hand; given are their arguments."""
    made: list[Talk] = []

    def make(*arguments: str) -> Talk:
        made.append(Talk(*arguments))
        made[-1].wait_for("player")
        return made[-1]

    yield make
    for talk in made:
        talk.end()


@pytest.fixture
def talk(speaker: Speaker, talks: MakeTalk) -> Talk:
    """One of them, on the sound card of this test."""
    return talks()


@pytest.fixture
def board(speaker: Speaker, make_board: MakeBoard, tmp_path: Path) -> SoundBoard:
    """A board that is up, on the sound card of this test."""
    made = make_board(pid_file=tmp_path / "sound.pid")
    made.start()
    assert up(made)
    return made
