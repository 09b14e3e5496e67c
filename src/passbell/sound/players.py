"""What can play a sound, the best first; each proves itself with a silent sound before it is used.

Only the sound process loads this: a player may crash its process or hold it for half a minute.
"""

import sys
from collections.abc import Callable
from typing import Protocol

from passbell.sound.wavfile import Wav

NATIVE = "simpleaudio"
"""The name of the player that is a Python package; all others are programs of the system."""

PROGRAMS: dict[str, tuple[str, ...]] = {
    "paplay": (),
    "pw-play": (),
    "aplay": ("-q",),
    "afplay": (),
}
"""The programs of a system that play a file, the best first, with what they are told besides."""


class PlayerError(Exception):
    """A player that cannot play; its text is the reason, as half a sentence."""


class Player(Protocol):
    """One way to make a sound."""

    name: str

    def prove(self, silence: Wav) -> None:
        """Play a silent sound and see whether that works.

        Raises:
            PlayerError: when it does not.
        """

    def play(self, wav: Wav) -> None:
        """Start a sound, ending the one before; returns at once.

        Raises:
            PlayerError: when it cannot be started.
        """

    def check(self) -> None:
        """Look whether the last sound comes out.

        Raises:
            PlayerError: when it did not.
        """

    def stop(self) -> None:
        """End the sound that is playing, if one is."""


class NativePlayer:
    """The `simpleaudio` package, in this very process."""

    name = NATIVE

    def __init__(self) -> None:
        try:
            import simpleaudio  # noqa: PLC0415 - an extra: it may be missing
        except ImportError:
            raise PlayerError("it is not installed") from None
        except OSError as error:
            raise PlayerError(f"it does not load ({error})") from None
        self._module = simpleaudio

    def prove(self, silence: Wav) -> None:
        """See `Player`; opening the device is the proof."""
        self.play(silence)

    def play(self, wav: Wav) -> None:
        """See `Player`."""
        self.stop()
        try:
            self._module.play_buffer(wav.frames, wav.channels, wav.width, wav.rate)
        except Exception as error:  # noqa: BLE001 - its own error class is not public
            raise PlayerError(f"it has no sound device ({error})") from None

    def check(self) -> None:
        """See `Player`; it has no late failures."""

    def stop(self) -> None:
        """See `Player`."""
        self._module.stop_all()


class WindowsPlayer:
    """The player that comes with Python on Windows; untried on a real machine so far."""

    name = "winsound"

    def __init__(self) -> None:
        if sys.platform != "win32":
            raise PlayerError("this is not Windows")

    def prove(self, silence: Wav) -> None:
        """See `Player`."""
        self.play(silence)

    def play(self, wav: Wav) -> None:
        """See `Player`."""
        if sys.platform == "win32":
            import winsound  # noqa: PLC0415 - only there

            flags = winsound.SND_FILENAME | winsound.SND_ASYNC | winsound.SND_NODEFAULT
            try:
                winsound.PlaySound(str(wav.path), flags)
            except RuntimeError as error:
                raise PlayerError(f"it has no sound device ({error})") from None

    def check(self) -> None:
        """See `Player`; it has no late failures."""

    def stop(self) -> None:
        """See `Player`."""
        if sys.platform == "win32":
            import winsound  # noqa: PLC0415 - only there

            winsound.PlaySound(None, 0)


def player_makers() -> dict[str, Callable[[], Player]]:
    """What makes each player this system may have, the best first, by name.

    Making one raises PlayerError when it is not there.
    """
    if sys.platform == "win32":
        return {NATIVE: NativePlayer, WindowsPlayer.name: WindowsPlayer}
    return {NATIVE: NativePlayer, **{name: _maker(name) for name in PROGRAMS}}


def _maker(name: str) -> Callable[[], Player]:
    def make() -> Player:
        from passbell.sound.programs import ProgramPlayer  # noqa: PLC0415 - slow, seldom needed

        return ProgramPlayer(name, *PROGRAMS[name])

    return make
