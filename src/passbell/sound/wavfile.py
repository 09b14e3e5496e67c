"""Sound files, read with the checks that keep a bad one from silencing the bell."""

import io
import wave
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import NamedTuple

from passbell.files import read_small
from passbell.sound.pattern import KINDS, SPEEDS

LONGEST = 10.0
"""Seconds a sound may last: a longer one would run into its own repetition."""

LARGEST = 12_000_000
"""The largest sound file that is read, in bytes: ten seconds of the finest kind."""

SILENCE = "silence"
"""The sound a player proves itself with."""

NAMES = (*(f"{kind}_{speed}" for kind in KINDS for speed in SPEEDS), SILENCE)
"""Every sound a complete folder holds, without ".wav"."""

_RATES = {8000, 11025, 16000, 22050, 32000, 44100, 48000, 88200, 96000, 192000}


class Wav(NamedTuple):
    """One sound: its file, and its samples as the file holds them.

    Attributes:
        name: which sound, without ".wav".
        path: its file.
        frames: the samples, little-endian, channels interleaved.
        channels: 1 or 2.
        width: bytes a sample, 1 to 3.
        rate: samples a second.
    """

    name: str
    path: Path
    frames: bytes
    channels: int
    width: int
    rate: int

    @property
    def seconds(self) -> float:
        """How long it sounds."""
        return len(self.frames) / (self.channels * self.width * self.rate)


def read_wav(path: Path) -> Wav:
    """Read one sound file.

    Raises:
        ValueError: when it cannot be played, with the reason as half a sentence.
        OSError: when it cannot be read, or is no ordinary file.
    """
    try:
        with wave.open(io.BytesIO(read_small(path, LARGEST)), "rb") as file:
            shape = file.getnchannels(), file.getsampwidth(), file.getframerate()
            count = file.getnframes()
            _check(*shape, count)
            frames = file.readframes(count)
    except (wave.Error, EOFError) as error:
        raise ValueError(f"it is no plain WAV file ({error or 'it is cut off'})") from None
    if len(frames) != count * shape[0] * shape[1]:
        raise ValueError("it is cut off")
    return Wav(path.stem, path, frames, *shape)


def load_sounds(folders: Iterable[Path], say: Callable[[str], None]) -> dict[str, Wav]:
    """Read every sound from the first of the folders that has a good one.

    Args:
        folders: where to look, the cook's own before ours.
        say: called with "NAME FOLDER: reason" for each file that is passed over, and with
            "NAME: reason" for a sound that no folder has.

    Returns:
        The sounds by name; one that is nowhere is left out.
    """
    found = {name: _first(name, tuple(folders), say) for name in NAMES}
    return {name: wav for name, wav in found.items() if wav}


def _first(name: str, folders: tuple[Path, ...], say: Callable[[str], None]) -> Wav | None:
    for folder in folders:
        try:
            return read_wav(folder / f"{name}.wav")
        except FileNotFoundError:
            continue
        except (OSError, ValueError) as error:
            say(f"{name} {folder}: {error}")
    say(f"{name}: it is in no folder")
    return None


def _check(channels: int, width: int, rate: int, count: int) -> None:
    if channels not in {1, 2} or width not in {1, 2, 3} or rate not in _RATES:
        raise ValueError(f"{channels} channels of {8 * width} bits at {rate} Hz cannot be played")
    if not 0 < count <= LONGEST * rate:
        raise ValueError(f"it lasts {count / rate:.1f} s, and a sound lasts up to {LONGEST:.0f} s")
