"""`passbell sound-test`: play each sound, and say what plays it."""

import argparse
import sys
import time
from collections.abc import Callable

from passbell.cli.parser import say
from passbell.sound.board import SoundBoard
from passbell.sound.chain import NOBODY
from passbell.sound.choices import load_choices
from passbell.sound.folders import own_sounds, users_settings, users_sounds
from passbell.sound.pattern import SPEEDS, Kind
from passbell.sound.softer import LOUDEST
from passbell.sound.speech import LONGEST, Speaker
from passbell.sound.ticks import ticks
from passbell.sound.wavfile import load_sounds

SAMPLES: dict[Kind, str] = {
    "soon": "soon: one soft pulse, a minute before",
    "do_it": "do it: long, short",
    "probe": "probe or check: two, and one",
    "late": "late by a minute: short, short, long; twice",
}
"""What each kind sounds like and means, in the order they are played."""

SPOKEN = "probe chicken, thickest part, due now"
"""What is spoken as a sample (an invented cue)."""

_PACES = {1: "slow", 2: "quicker", 3: "quickest"}
_PAUSE = 0.6  # seconds between two sounds
_STEP = 0.05  # seconds between two looks at the sound process
_PATIENCE = 15.0  # seconds until some player must have proved itself, or none
_NO_PLAYER = (
    "no sound player works here, only the bell of the terminal is left, and it rings now; for the "
    "sounds install passbell with its extra: pip install 'passbell[sound]', or a system player "
    "(paplay, pw-play or aplay)"
)


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `sound-test` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "sound-test",
        help="play each sound, and say what plays it",
        description="Play each sound at its three speeds, and say what plays it. Asks nothing.",
        epilog=f"Sounds of your own go into {users_sounds()}, each named like the one it replaces "
        f"in {own_sounds()}. Exit code 0: some player works; 1: only the bell of the terminal.",
    )
    parser.set_defaults(func=_run)


def play_all(board: SoundBoard, rest: Callable[[float], None]) -> int:
    """Play every sound on a board that is not yet started.

    Args:
        board: the board; the caller closes it.
        rest: waits so many seconds, with the board polled.

    Returns:
        The exit code: 0 when a player worked to the end, 1 when only the bell is left.
    """
    board.start()
    waited = 0.0
    while board.player is None and waited < _PATIENCE:
        rest(_STEP)
        waited += _STEP
    if _silent(board):
        return _bell_only(board)
    print(f"Player: {board.player}, volume {board.volume} of {LOUDEST}", flush=True)
    sounds = load_sounds((users_sounds(), own_sounds()), lambda _: None)
    for kind, text in SAMPLES.items():
        for speed in SPEEDS:
            print(f"  {text} ({_PACES[speed]})", flush=True)
            board.ring_now(kind, speed)
            wav = sounds.get(f"{kind}_{speed}")
            rest(_PAUSE + (wav.seconds if wav else 0.0))
    if _silent(board):
        return _bell_only(board)
    _tell(board)
    return 0


def speak(speaker: Speaker, rest: Callable[[float], None]) -> None:
    """Say a sample, or say why nothing is spoken.

    Args:
        speaker: the speech program, if the system has one.
        rest: waits so many seconds.
    """
    if speaker.program is None:
        print("Speech: no speech program is installed, such as espeak-ng", flush=True)
    elif not speaker.on:
        print(f"Speech: {speaker.program}, off; speak = true in sound.toml turns it on", flush=True)
    else:
        print(f"Speech: {speaker.program}", flush=True)
        speaker.say(SPOKEN)
        waited = 0.0
        while speaker.busy and waited < LONGEST:
            rest(_STEP)
            waited += _STEP
        print(speaker.take_fault(), end="", flush=True)


def _run(args: argparse.Namespace) -> int:
    choices, complaint = load_choices(users_settings() / "sound.toml")
    if complaint:
        say(complaint)
    board = SoundBoard(ticks, (users_sounds(),))
    board.set_volume(choices.volume)
    speaker = Speaker(ticks, on=choices.speak)

    def rest(seconds: float) -> None:
        end = time.perf_counter() + seconds
        while time.perf_counter() < end:
            board.poll()
            speaker.poll()
            time.sleep(_STEP)

    try:
        code = play_all(board, rest)
        speak(speaker, rest)
    finally:
        speaker.close()
        board.close()
    return code


def _silent(board: SoundBoard) -> bool:
    return board.player in {None, NOBODY}


def _bell_only(board: SoundBoard) -> int:
    _tell(board)
    print("\a", end="", file=sys.stderr, flush=True)
    say(_NO_PLAYER)
    return 1


def _tell(board: SoundBoard) -> None:
    while reason := board.take_reason():
        say(reason)
