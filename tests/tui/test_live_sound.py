"""The sound of a real cook: volume, speech and silence, with the real sound process."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from passbell.clock import HandClock
from passbell.session import CookSession
from passbell.sound.board import SoundBoard
from passbell.sound.speech import Speaker
from passbell.sound.ticks import ticks
from passbell.tui.live import LiveDesk
from tests.cook.meals import TRAY, plan_of
from tests.sound.helpers import until, write_player

FAKE = '/bin/cat >> "${0%/*}/heard"'


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A path with a player and a speech program of paper, and nothing else."""
    modules = tmp_path / "modules"
    modules.mkdir()
    (modules / "simpleaudio.py").write_text("raise ImportError('not here')\n")
    monkeypatch.setenv("PYTHONPATH", str(modules), prepend=":")
    monkeypatch.setenv("PATH", str(tmp_path))
    write_player(tmp_path, "paplay", 'echo "$1" >> "${0%/*}/played"')
    write_player(tmp_path, "espeak-ng", FAKE)
    return tmp_path


class Ringing:
    """A desk with a real board on the real clock, its cook begun a moment ago."""

    def __init__(self, *, on: bool) -> None:
        self.board = SoundBoard(ticks)
        session = CookSession.begin(plan_of(TRAY), HandClock(utc=1.8e9, awake=ticks()))
        self.desk = LiveDesk(session, self.board, ticks, None, Speaker(ticks, on=on))
        self.board.start()

    def until(self, path: Path, words: str) -> bool:
        """Look again and again until a file says that."""

        def look() -> bool:
            self.desk.tick()
            return path.exists() and words in path.read_text()

        return until(look)


@pytest.fixture
def ringing(programs: Path, request: pytest.FixtureRequest) -> Iterator[Ringing]:
    made = Ringing(on=request.param)
    yield made
    made.desk.close()


@pytest.mark.parametrize("ringing", [True], indirect=True)
def test_what_has_rung_is_spoken_after_its_sound(ringing: Ringing, programs: Path) -> None:
    assert ringing.until(programs / "heard", "prepare carrots, peel, due now")
    assert "soon_1.wav" in (programs / "played").read_text()
    assert ringing.desk.tick().volume == "sound 4/4, spoken"


@pytest.mark.parametrize("ringing", [False], indirect=True)
def test_keys_for_speech_and_volume(ringing: Ringing, programs: Path) -> None:
    assert until(lambda: ringing.desk.tick().volume == "sound 4/4")
    assert not (programs / "heard").exists()
    ringing.desk.press("speak")
    assert "spoken by espeak-ng" in ringing.desk.tick().notices[-1]
    assert ringing.until(programs / "heard", "prepare carrots, peel, due now")
    ringing.desk.press("speak")
    for volume in (3, 2, 1):
        ringing.desk.press("volume")
        assert ringing.desk.tick().volume == f"sound {volume}/4"
        assert ringing.until(programs / "played", f"soon_1-{volume}.wav")
    ringing.desk.press("volume")
    assert ringing.desk.tick().volume == "sound 4/4"


def test_without_sound_the_keys_say_so() -> None:
    session = CookSession.begin(plan_of(TRAY), HandClock(utc=1.8e9, awake=0.0))
    desk = LiveDesk(session, None, lambda: 0.0)
    for action, says in (("volume", "no sound whose volume"), ("speak", "nothing is spoken")):
        desk.press(action)  # type: ignore[arg-type]
        assert says in desk.tick().notices[-1]
    assert desk.tick().sound == "sound: none"


def test_without_a_speech_program_the_key_says_so(
    programs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (programs / "espeak-ng").unlink()
    session = CookSession.begin(plan_of(TRAY), HandClock(utc=1.8e9, awake=0.0))
    desk = LiveDesk(session, SoundBoard(ticks), ticks, None, Speaker(ticks))
    desk.press("speak")
    assert "no speech program is installed" in desk.tick().notices[-1]


@pytest.mark.parametrize("ringing", [False], indirect=True)
def test_a_bell_has_no_volume_to_be_set(ringing: Ringing, programs: Path) -> None:
    (programs / "paplay").unlink()
    ringing.desk.close()
    ringing.board.start()
    assert until(lambda: ringing.desk.tick().sound == "sound: bell only")
    ringing.desk.press("volume")
    assert any("bell of the terminal" in text for text in ringing.desk.tick().notices)
    assert ringing.board.volume == 4
