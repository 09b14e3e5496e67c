"""Sounds played softer: their samples made smaller, in memory and in a file beside it.

Players of the system are given a file and know no common word for loudness, so the file itself is
made softer. The sound process loads this.
"""

import sys
import wave
from array import array
from pathlib import Path

from passbell.sound.wavfile import Wav

LOUDEST = 4
"""The volume as the sounds are made."""

SHARES = {1: 0.125, 2: 0.25, 3: 0.5, LOUDEST: 1.0}
"""For each volume the share of the samples: a step is 6 dB."""


class Softer:
    """Every sound at the volume that is set.

    Attributes:
        volume: from 1, soft, to `LOUDEST`.
    """

    def __init__(self) -> None:
        self.volume = LOUDEST
        self._made: dict[tuple[str, int], Wav] = {}
        self._folder: Path | None = None

    def of(self, wav: Wav) -> Wav:
        """A sound at this volume; as it is where no softer file can be written."""
        if self.volume == LOUDEST:
            return wav
        known = self._made.get((wav.name, self.volume))
        if known is None:
            try:
                known = self._written(wav)
            except OSError:
                return wav
            self._made[wav.name, self.volume] = known
        return known

    def close(self) -> None:
        """Remove the files."""
        if self._folder is not None:
            import shutil  # noqa: PLC0415 - slow, seldom needed

            shutil.rmtree(self._folder, ignore_errors=True)
            self._folder = None

    def _written(self, wav: Wav) -> Wav:
        if self._folder is None:
            import tempfile  # noqa: PLC0415 - slow, seldom needed

            self._folder = Path(tempfile.mkdtemp(prefix="passbell-"))
        path = self._folder / f"{wav.name}-{self.volume}.wav"
        soft = softer(wav, SHARES[self.volume])._replace(path=path)
        with path.open("wb") as raw, wave.open(raw, "wb") as file:
            file.setnchannels(wav.channels)
            file.setsampwidth(wav.width)
            file.setframerate(wav.rate)
            file.writeframes(soft.frames)
        return soft


def softer(wav: Wav, share: float) -> Wav:
    """The sound with every sample made smaller; its file is still the one it came from.

    Args:
        wav: the sound.
        share: what is left of each sample, 0 to 1.
    """
    if wav.width == 1:  # samples of one byte have no sign: 128 is silence
        frames = bytes(128 + round((byte - 128) * share) for byte in wav.frames)
    elif wav.width == 2:
        samples = _native(array("h", wav.frames))
        frames = _native(array("h", [round(sample * share) for sample in samples])).tobytes()
    else:
        parts = (wav.frames[at : at + wav.width] for at in range(0, len(wav.frames), wav.width))
        values = (round(int.from_bytes(part, "little", signed=True) * share) for part in parts)
        frames = b"".join(value.to_bytes(wav.width, "little", signed=True) for value in values)
    return wav._replace(frames=frames)


def _native(samples: "array[int]") -> "array[int]":
    """Little-endian samples as this machine counts them, and back."""
    if sys.byteorder == "big":
        samples.byteswap()
    return samples
