"""The sounds and the player of the sound process, and what it says to its program."""

import os
import sys
from collections.abc import Iterable
from pathlib import Path

from passbell.sound.chain import NOBODY, Chain
from passbell.sound.pattern import SPEEDS
from passbell.sound.softer import SHARES, Softer
from passbell.sound.wavfile import SILENCE, Wav, load_sounds

PAUSE = 0.3
"""Seconds of silence after a sound before the next, so that two rhythms stay two."""


class Voice:
    """What the process says: to its program while there is one, then to nobody.

    Args:
        out: the file descriptor to say it on.
    """

    def __init__(self, out: int) -> None:
        self._out = out
        if sys.platform != "win32":
            os.set_blocking(self._out, False)

    def say(self, line: str) -> None:
        """Say one line. A program that is gone or does not listen must not hold the bell."""
        try:
            os.write(self._out, f"{' '.join(line.split())}\n".encode("utf-8", "backslashreplace"))
        except OSError:
            return

    def news(self, text: str) -> None:
        """Tell something that was not asked for."""
        self.say(f"news {text}")


class Bell:
    """The sounds, the player in use, and the sound that is coming out of it."""

    def __init__(self, folders: list[Path], skip: list[str], voice: Voice) -> None:
        voice.news(f"hello {os.getpid()}")
        self._sounds = load_sounds(folders, lambda text: voice.news(f"broken {text}"))
        self._voice = voice
        self._softer = Softer()
        self._ids: set[str] = set()
        self.busy_until = 0.0
        silence = self._sounds.get(SILENCE)
        self._chain = Chain(silence, skip, voice.news) if silence else None

    @property
    def works(self) -> bool:
        """Whether some player is left."""
        return self._chain is not None and self._chain.player is not None

    def prove(self) -> None:
        """Find the player to use."""
        if self._chain:
            self._chain.advance()
        else:
            self._voice.news(f"player {NOBODY}")

    def play(self, name: str, ids: Iterable[str], now: float) -> bool:
        """Start a sound that rings for these alarms; whether it could be started."""
        wav = self._find(name)
        if wav is None or self._chain is None or not self._chain.play(self._softer.of(wav)):
            return False
        self._ids = set(ids)
        self.busy_until = now + wav.seconds + PAUSE
        return True

    def set_volume(self, volume: int) -> None:
        """Play every sound from now on at this volume.

        Raises:
            ValueError: when there is no such volume.
        """
        if volume not in SHARES:
            raise ValueError(f"{volume} is no volume")
        self._softer.volume = volume

    def close(self) -> None:
        """Fall silent, and leave no file behind."""
        self.stop()
        self._softer.close()

    def check(self) -> None:
        """See whether the sound comes out."""
        if self._chain:
            self._chain.check()

    def acknowledge(self, alarm_id: str) -> None:
        """End the sound that is coming out if it rings for nothing but this alarm."""
        if self._ids == {alarm_id}:
            self.stop()
        self._ids.discard(alarm_id)

    def stop(self) -> None:
        """End the sound that is coming out."""
        if self._chain:
            self._chain.stop()
        self._ids.clear()
        self.busy_until = 0.0

    def _find(self, name: str) -> Wav | None:
        """The sound, or when it is in no folder another speed of its kind."""
        kind = name.rpartition("_")[0]
        names = (name, *(f"{kind}_{speed}" for speed in SPEEDS))
        return next((self._sounds[other] for other in names if other in self._sounds), None)
