"""Speech through a program that the system has: a fake one on the path, real processes."""

import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median

import pytest

from passbell.sound.speech import LONGEST, SPEAKERS, Speaker, find_speaker, said
from tests.sound.helpers import alive, until, write_player

HEAR = '/bin/echo "$@" > "${0%/*}/told"; /bin/cat > "${0%/*}/heard.part"; '
HEAR += '/bin/mv "${0%/*}/heard.part" "${0%/*}/heard"'
"""A speech program that writes down what it was told and what it was given to say."""


class Clock:
    """A clock moved by hand."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def speak(clock: Clock) -> Iterator[Callable[..., Speaker]]:
    """Make speakers that are closed at the end."""
    made: list[Speaker] = []

    def make(*, on: bool = True) -> Speaker:
        made.append(Speaker(clock, on=on))
        return made[-1]

    yield make
    for speaker in made:
        speaker.close()


def heard(programs: Path) -> str:
    """What the fake program was given to say."""
    assert until((programs / "heard").exists)
    return (programs / "heard").read_text(encoding="utf-8")


def finished(speaker: Speaker) -> bool:
    def over() -> bool:
        speaker.poll()
        return not speaker.busy

    return until(over)


def test_a_line_is_said_by_the_program_on_the_path(
    programs: Path, speak: Callable[..., Speaker]
) -> None:
    write_player(programs, "espeak-ng", HEAR)
    speaker = speak()
    speaker.percent = 50
    assert speaker.program == "espeak-ng"
    speaker.say("add green beans, left side of the tray, due now")
    assert heard(programs) == "add green beans, left side of the tray, due now\n"
    assert (programs / "told").read_text(encoding="utf-8") == "--stdin -a 50\n"
    assert finished(speaker)
    assert speaker.take_fault() == ""


@pytest.mark.parametrize("name", SPEAKERS)
def test_each_program_is_found_and_reads_the_line_from_its_input(
    programs: Path, speak: Callable[..., Speaker], name: str
) -> None:
    write_player(programs, name, HEAR)
    speaker = speak()
    speaker.say("turn the carrots")
    assert heard(programs) == "turn the carrots\n"
    assert "turn" not in (programs / "told").read_text(encoding="utf-8")
    assert finished(speaker)


def test_the_text_is_data_and_no_order_to_a_shell_or_to_the_voice(
    programs: Path, speak: Callable[..., Speaker]
) -> None:
    write_player(programs, "espeak-ng", HEAR)
    speaker = speak()
    nasty = '$(touch {0}/a) `touch {0}/b`; touch {0}/c\n--version [[slnc 9999]] <audio src="x">\x07'
    speaker.say(nasty.format(programs))
    text = heard(programs)
    assert not {"a", "b", "c"} & {path.name for path in programs.iterdir()}
    assert text.count("\n") == 1
    assert "$(touch" in text
    assert not set("[]<>\x07") & set(text)


def test_an_endless_line_is_cut() -> None:
    assert len(said("stir " * 5000)) <= 300
    assert said(" \x1b[2J ") == "2J"
    assert said("\n\t") == ""


def test_it_is_silent_until_it_is_switched_on(
    programs: Path, speak: Callable[..., Speaker]
) -> None:
    write_player(programs, "espeak-ng", HEAR)
    speaker = speak(on=False)
    speaker.say("not to be heard")
    assert not speaker.busy
    speaker.on = True
    speaker.say("heard")
    assert heard(programs) == "heard\n"
    speaker.stop()


def test_without_a_speech_program_nothing_happens(
    programs: Path, speak: Callable[..., Speaker]
) -> None:
    assert find_speaker() is None
    speaker = speak()
    assert speaker.program is None
    assert not speaker.on
    speaker.say("nobody hears")
    speaker.poll()
    assert not speaker.busy


def test_a_line_waits_for_its_sound_and_the_newest_is_said(
    programs: Path, clock: Clock, speak: Callable[..., Speaker]
) -> None:
    write_player(programs, "espeak-ng", HEAR)
    speaker = speak()
    speaker.say("the older", after=2.0)
    speaker.say("the newer", after=2.0)
    clock.now += 1.9
    speaker.poll()
    assert not (programs / "told").exists()
    clock.now += 0.2
    speaker.poll()
    assert heard(programs) == "the newer\n"
    assert finished(speaker)


def test_a_program_that_hangs_stalls_nothing_and_is_ended(
    programs: Path, clock: Clock, speak: Callable[..., Speaker]
) -> None:
    """It reads nothing either: not even writing to it may wait."""
    write_player(programs, "espeak-ng", 'echo $$ > "${0%/*}/pid"; /bin/sleep 60 & wait')
    speaker = speak()
    began = time.perf_counter()
    speaker.say("x " * 150)
    assert until(lambda: (programs / "pid").exists() and (programs / "pid").read_text().strip())
    pid = int((programs / "pid").read_text())
    calls = []
    for _ in range(20):
        clock.now += 0.25
        before = time.perf_counter()
        speaker.say("another line meanwhile")
        calls.append(time.perf_counter() - before)
    assert median(calls) < 0.05
    assert time.perf_counter() - began < 20.0
    clock.now += LONGEST
    speaker.poll()
    assert until(lambda: not alive(pid))
    assert not speaker.on
    assert "did not end and was stopped" in speaker.take_fault()
    assert speaker.take_fault() == ""


def test_any_key_silences_it_at_once(programs: Path, speak: Callable[..., Speaker]) -> None:
    write_player(programs, "espeak-ng", 'echo $$ > "${0%/*}/pid"; /bin/sleep 60')
    speaker = speak()
    speaker.say("a long line")
    assert until(lambda: (programs / "pid").exists() and (programs / "pid").read_text().strip())
    pid = int((programs / "pid").read_text())
    speaker.stop()
    assert until(lambda: not alive(pid))
    assert speaker.on
    assert not speaker.busy
    assert speaker.take_fault() == ""
    speaker.poll()


@pytest.mark.parametrize("script", ["exit 3", ""])
def test_a_program_that_fails_is_told_once_and_not_tried_again(
    programs: Path, speak: Callable[..., Speaker], script: str
) -> None:
    write_player(programs, "espeak-ng", script)
    if not script:
        (programs / "espeak-ng").write_bytes(b"\x00 no program at all")
    speaker = speak()
    speaker.say("not to be heard")
    assert finished(speaker)
    assert "espeak-ng" in speaker.take_fault()
    assert not speaker.on
