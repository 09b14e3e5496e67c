"""Make the sounds that ship: `python -m passbell.sound.make FOLDER`.

Four kinds, each at three speeds, told apart by rhythm within the first half second:

* soon: one soft pulse
* do_it: long, short
* probe: two, and one
* late: short, short, long; twice

A rhythm is written in beats. The beat is short even at the slow speed, so that the rhythm is
recognised at once; the speed is how many pulses come in a second over the whole sound, its
closing rest included: 1.5, 3 or 6. A quicker *do it* or *probe* repeats its figure for as long
as the slow one lasts; *late* is always two figures.

No rhythm is three or four equal pulses and a pause. Those mean fire and carbon monoxide (the
temporal-three signal of ISO 8201, and its four-pulse sister).
"""

import math
import sys
import wave
from array import array
from dataclasses import dataclass
from pathlib import Path

from passbell.sound.pattern import KINDS, SPEEDS, Kind

RATE = 44_100
"""Samples a second."""

RAMP = 0.025
"""Seconds in which a pulse swells and dies away: shorter ones click."""

PULSES_PER_SECOND = {1: 1.5, 2: 3.0, 3: 6.0}
"""Pulses a second at each speed, over the whole sound."""

_BEAT = {1: 0.15, 2: 0.12, 3: 0.09}  # seconds
_GAP = 1 / 3  # of a beat, the silence at the end of every pulse
_TOP = 3000.0  # Hz; an old ear and a fan leave little above it
_SILENCE = 0.05  # seconds


@dataclass(frozen=True, slots=True)
class Figure:
    """One rhythm.

    Attributes:
        pulses: (first beat, beats) of each pulse.
        period: samples in one period of the tone, a whole number so that a pulse can be cut from
            a table; the fundamental is RATE / period, all above 500 Hz.
        peak: loudest sample, 0 to 1.
        repeats: figures in a sound, for each speed.
    """

    pulses: tuple[tuple[int, int], ...]
    period: int
    peak: float
    repeats: tuple[int, int, int]

    def samples(self, speed: int) -> int:
        """Length of one figure at this speed, in samples, its closing rest included."""
        return round(RATE * len(self.pulses) / PULSES_PER_SECOND[speed])


FIGURES: dict[Kind, Figure] = {
    "soon": Figure(((0, 2),), 84, 0.3, (1, 1, 1)),
    "do_it": Figure(((0, 2), (2, 1)), 75, 0.8, (1, 2, 4)),
    "probe": Figure(((0, 1), (1, 1), (3, 1)), 63, 0.8, (1, 2, 4)),
    "late": Figure(((0, 1), (1, 1), (2, 3)), 50, 0.8, (2, 2, 2)),
}
"""The rhythm of each kind."""


def sound(kind: Kind, speed: int) -> "array[int]":
    """The samples of one sound, 16-bit mono at `RATE`."""
    figure = FIGURES[kind]
    tone = _tone(figure.period, figure.peak)
    once = array("h", bytes(2 * figure.samples(speed)))
    for first, beats in figure.pulses:
        start = round(RATE * first * _BEAT[speed])
        pulse = _pulse(tone, round(RATE * (beats - _GAP) * _BEAT[speed]))
        once[start : start + len(pulse)] = pulse
    return once * figure.repeats[speed - 1]


def write_all(folder: Path) -> tuple[Path, ...]:
    """Write every sound, and the silence that a player proves itself with, into a folder.

    Raises:
        OSError: when the folder cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    sounds = {f"{kind}_{speed}": sound(kind, speed) for kind in KINDS for speed in SPEEDS}
    sounds["silence"] = array("h", bytes(2 * round(RATE * _SILENCE)))
    return tuple(_write(folder / f"{name}.wav", samples) for name, samples in sounds.items())


def _tone(period: int, peak: float) -> tuple[float, ...]:
    """One period: the fundamental and its harmonics up to 3000 Hz, each 1/n as strong."""
    harmonics = [n for n in range(1, period) if n * RATE / period < _TOP]
    curve = [sum(math.sin(math.tau * n * i / period) / n for n in harmonics) for i in range(period)]
    loudest = max(curve)
    return tuple(peak * 32767 * value / loudest for value in curve)


def _pulse(tone: tuple[float, ...], length: int) -> "array[int]":
    ramp = round(RATE * RAMP)
    swell = [math.sin(math.pi * i / (2 * ramp)) ** 2 for i in range(ramp)]
    shape = swell + [1.0] * (length - 2 * ramp) + swell[::-1]
    return array("h", (round(tone[i % len(tone)] * loud) for i, loud in enumerate(shape)))


def _write(path: Path, samples: "array[int]") -> Path:
    if sys.byteorder == "big":
        samples.byteswap()
    with wave.open(str(path), "wb") as file:
        file.setparams((1, 2, RATE, len(samples), "NONE", ""))
        file.writeframes(samples.tobytes())
    return path


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Say where to: python -m passbell.sound.make FOLDER")
    write_all(Path(sys.argv[1]))
