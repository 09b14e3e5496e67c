"""The sounds that ship, analysed as a listener without our source would."""

import itertools
import subprocess
import sys
import wave
from pathlib import Path
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pytest

from passbell.sound.folders import own_sounds
from passbell.sound.make import write_all
from passbell.sound.pattern import KINDS, SPEEDS, Kind
from passbell.sound.wavfile import NAMES, SILENCE

RATE = 44_100
SOUNDS = [(kind, speed) for kind in KINDS for speed in SPEEDS]


class Heard(NamedTuple):
    """One pulse as heard: when it begins and how long it lasts, in seconds."""

    start: float
    length: float


def samples(kind: str, speed: int) -> npt.NDArray[np.float64]:
    with wave.open(str(own_sounds() / f"{kind}_{speed}.wav"), "rb") as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE)
        raw = np.frombuffer(file.readframes(file.getnframes()), dtype="<i2")
    return raw.astype(np.float64) / 32768


def loudness(sound: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """The root mean square over some 4 ms, 1 where it is greatest."""
    window = np.hanning(round(0.008 * RATE))  # a bell shape, or the ear would hear its edges
    power = np.convolve(sound**2, window / window.sum(), mode="same")
    return np.asarray(np.sqrt(power / power.max()))


def pulses(sound: npt.NDArray[np.float64]) -> list[Heard]:
    """Where the sound is above half its loudness."""
    edges = np.diff((loudness(sound) > 0.5).astype(int), prepend=0, append=0)
    starts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    return [
        Heard(float(start) / RATE, float(end - start) / RATE)
        for start, end in zip(starts, ends, strict=True)
    ]


def recognised(kind: Kind, speed: int) -> str:
    """What a listener takes a sound for who hears its first half second only."""
    begun = [pulse for pulse in pulses(samples(kind, speed)) if pulse.start < 0.5]
    heard = [Heard(start, min(length, 0.5 - start)) for start, length in begun]
    if len(heard) == 1:
        return "soon" if heard[0].length < 0.3 else "a long tone"
    first, second, *others = heard
    if first.length > 1.8 * second.length:
        return "do_it"
    beat = second.start - first.start
    third = others[0] if others else Heard(0.5, 0.0)
    if first.length > 1.2 * second.length or third.start - second.start < 0.8 * beat:
        return "no rhythm"
    if third.start - second.start > 1.5 * beat:
        return "probe"
    return "late" if third.length > 1.8 * second.length else "three equal pulses"


@pytest.mark.parametrize(("kind", "speed"), SOUNDS)
def test_energy_lies_where_a_kitchen_lets_it_through(kind: Kind, speed: int) -> None:
    sound = samples(kind, speed)
    power = np.abs(np.fft.rfft(sound)) ** 2
    hertz = np.fft.rfftfreq(len(sound), 1 / RATE)
    inside = power[(hertz >= 500) & (hertz <= 3000)].sum() / power.sum()
    assert inside > 0.99


@pytest.mark.parametrize(("kind", "speed"), SOUNDS)
def test_a_tone_has_harmonics(kind: Kind, speed: int) -> None:
    """Two more lines at least, none 20 dB below the strongest: a bare sine is hard to place."""
    sound = samples(kind, speed)
    begin = round(0.02 * RATE)
    part = sound[begin : begin + 2048] * np.hanning(2048)
    power = np.abs(np.fft.rfft(part)) ** 2
    peaks = (power[1:-1] > power[:-2]) & (power[1:-1] > power[2:])
    assert (peaks & (power[1:-1] > 0.01 * power.max())).sum() >= 3


@pytest.mark.parametrize(("kind", "speed"), SOUNDS)
def test_pulses_swell_and_die_away_within_25_ms(kind: Kind, speed: int) -> None:
    level = loudness(samples(kind, speed))
    for start, length in pulses(samples(kind, speed)):
        middle = level[round((start + length / 2) * RATE)]
        for edge, way in ((start, 1), (start + length, -1)):
            quarter = round(0.0125 * RATE)  # half loudness is the middle of the ramp
            at = round(edge * RATE)
            before, after = level[max(at - way * quarter, 0)], level[at + way * quarter]
            assert before < 0.2 * middle
            assert 0.85 * middle < after
            assert level[at] == pytest.approx(0.5, abs=0.03)


@pytest.mark.parametrize(("kind", "speed"), SOUNDS)
def test_no_sound_is_a_continuous_tone_or_clips(kind: Kind, speed: int) -> None:
    sound = samples(kind, speed)
    heard = pulses(sound)
    assert max(length for _, length in heard) < 0.5
    assert np.abs(sound).max() < 0.95
    assert sound[0] == 0
    assert np.abs(sound[-200:]).max() < 0.01


@pytest.mark.parametrize(("kind", "speed"), SOUNDS)
def test_urgency_is_pulses_a_second(kind: Kind, speed: int) -> None:
    sound = samples(kind, speed)
    per_second = len(pulses(sound)) / (len(sound) / RATE)
    assert per_second == pytest.approx({1: 1.5, 2: 3, 3: 6}[speed], rel=0.001)


@pytest.mark.parametrize("speed", SPEEDS)
def test_whole_rhythms(speed: int) -> None:
    counts = {kind: len(pulses(samples(kind, speed))) for kind in KINDS}
    again = {1: 1, 2: 2, 3: 4}[speed]
    assert counts == {"soon": 1, "do_it": 2 * again, "probe": 3 * again, "late": 6}


@pytest.mark.parametrize(("kind", "speed"), SOUNDS)
def test_each_kind_is_recognised_within_half_a_second(kind: Kind, speed: int) -> None:
    assert recognised(kind, speed) == kind


def test_soon_is_soft() -> None:
    loud = {kind: np.abs(samples(kind, 1)).max() for kind in KINDS}
    assert all(loud["soon"] < 0.5 * loud[kind] for kind in KINDS if kind != "soon")


def groups(heard: list[Heard]) -> list[list[Heard]]:
    """The pulses between pauses: a pause is longer than 1.5 times the shortest interval."""
    starts = [pulse.start for pulse in heard]
    shortest = min(np.diff(starts), default=0)
    found = [[heard[0]]]
    for before, pulse in itertools.pairwise(heard):
        if pulse.start - before.start > 1.5 * shortest and len(heard) > 1:
            found.append([])
        found[-1].append(pulse)
    return found


@pytest.mark.parametrize(("kind", "speed"), SOUNDS)
def test_none_can_be_taken_for_an_alarm_of_fire_gas_or_a_sick_bed(kind: Kind, speed: int) -> None:
    """No group of three, four or five equal pulses, which is what those alarms are made of.

    Three equal pulses and a pause: ISO 8201, the emergency evacuation signal. Four: carbon
    monoxide alarms. Three, or five as three and two: the medical bursts of IEC 60601-1-8. All
    three from memory.
    """
    for group in groups(pulses(samples(kind, speed))):
        lengths = [pulse.length for pulse in group]
        equal = max(lengths) < 1.5 * min(lengths)
        assert not (equal and len(group) in {3, 4, 5}), group


def test_the_script_writes_the_shipped_files_byte_for_byte(tmp_path: Path) -> None:
    write_all(tmp_path / "made")
    made = {path.name: path.read_bytes() for path in (tmp_path / "made").iterdir()}
    shipped = {path.name: path.read_bytes() for path in own_sounds().iterdir()}
    assert made == shipped
    assert set(made) == {f"{name}.wav" for name in NAMES}


def test_the_script_runs_as_a_program(tmp_path: Path) -> None:
    program = [sys.executable, "-m", "passbell.sound.make"]
    subprocess.run([*program, str(tmp_path)], check=True)
    assert (tmp_path / f"{SILENCE}.wav").exists()
    refused = subprocess.run(program, capture_output=True, text=True, check=False)
    assert refused.returncode == 1
    assert "FOLDER" in refused.stderr


def test_the_files_are_small_and_silence_is_silent() -> None:
    files = list(own_sounds().iterdir())
    assert sum(path.stat().st_size for path in files) < 2_000_000
    with wave.open(str(own_sounds() / f"{SILENCE}.wav"), "rb") as file:
        assert not any(file.readframes(file.getnframes()))
