"""Time from the outside world: the wall, and the clock that goes on while the computer sleeps.

The oven cooks on while a laptop sleeps, so a cook is measured on the clock that counts sleep
(`Instant.awake`); the wall clock (`Instant.utc`) is for showing and for the record, because it
may be set at any moment. Everything below this floor gets its time handed in.
"""

import ctypes
import sys
import time
import uuid
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta, tzinfo
from datetime import time as time_of_day
from pathlib import Path
from typing import Literal, Protocol

from passbell.units import ClockTime

SLIP = 2.0
"""How far two clocks may part, in seconds, before the cook is told."""

SLEW = 500e-6
"""How fast a wall clock is steered without being set: 500 parts in a million (RFC 5905, 11.3)."""

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_BOOT_ID = Path("/proc/sys/kernel/random/boot_id")
_PROCESS = uuid.uuid4().hex
_CLOCK_BOOTTIME = 7  # its number on Linux, where some Pythons are built without the name


@dataclass(frozen=True, slots=True)
class Instant:
    """One moment on every clock of the computer.

    Attributes:
        utc: wall clock, seconds since 1970-01-01 UTC.
        awake: seconds on the clock that counts sleep and that nobody can set.
        boot: which run of that clock; two `awake` compare only when these are equal.
        running: seconds on the clock that stands still in sleep. Only `Drift` reads it, and an
            instant read back from a record may leave it out.
    """

    utc: float
    awake: float
    boot: str
    running: float = 0.0


class Clock(Protocol):
    """Whatever tells the time: the system, a faster one for rehearsals, one moved by hand."""

    def now(self) -> Instant:
        """This moment."""


def elapsed(start: Instant, now: Instant) -> float:
    """Seconds from `start` to `now`, sleep included, never negative.

    After a restart of the computer the clock that counts sleep has begun anew; then only the
    wall clock knows.
    """
    if start.boot == now.boot:
        return max(0.0, now.awake - start.awake)
    return max(0.0, now.utc - start.utc)


class SystemClock:
    """The computer's own clocks."""

    def __init__(self) -> None:
        self._awake, self._running = _counters(sys.platform)
        self._boot = _boot_id()

    def now(self) -> Instant:
        """This moment on the computer's clocks."""
        return Instant(time.time(), self._awake(), self._boot, self._running())


class SpeedClock:
    """A clock that runs `factor` times as fast as another from its start; for rehearsals.

    Args:
        factor: how many seconds pass in one; more than 0.
        base: the clock it follows.
        start: where both agree. Default: now. A rehearsal taken up again gives the start of its
            first session, and goes on as if it had never stopped.
    """

    def __init__(self, factor: float, base: Clock, start: Instant | None = None) -> None:
        if factor <= 0:
            raise ValueError("a clock needs a speed above 0")
        self.factor = factor
        self._base = base
        self._start = start or base.now()

    def now(self) -> Instant:
        """This moment, the time since the start multiplied."""
        return _later(self._start, elapsed(self._start, self._base.now()) * self.factor)


class ShiftedClock:
    """A clock whose wall shows another time; what it counts is unchanged.

    Args:
        base: the clock it follows.
        seconds: how far its wall is ahead.
    """

    def __init__(self, base: Clock, seconds: float) -> None:
        self._base = base
        self._seconds = seconds

    def now(self) -> Instant:
        """This moment, the wall moved."""
        instant = self._base.now()
        return replace(instant, utc=instant.utc + self._seconds)


class HandClock:
    """A clock for tests: it stands still until it is moved."""

    def __init__(self, utc: float = 0.0, awake: float = 0.0, boot: str = "hand") -> None:
        self._now = Instant(utc, awake, boot, awake)

    def now(self) -> Instant:
        """The moment it was last moved to."""
        return self._now

    def move(self, seconds: float) -> None:
        """Let time pass: every clock goes on."""
        self._now = _later(self._now, seconds)

    def sleep(self, seconds: float) -> None:
        """Let the computer sleep: all go on but the clock that stands still in sleep."""
        self._now = replace(_later(self._now, seconds), running=self._now.running)

    def set_wall(self, utc: float) -> None:
        """Let someone set the wall clock; no time passes."""
        self._now = replace(self._now, utc=utc)

    def restart(self, boot: str, awake: float = 0.0) -> None:
        """Let the computer start again: the counters begin anew, the wall goes on."""
        self._now = replace(self._now, boot=boot, awake=awake, running=awake)


@dataclass(frozen=True, slots=True)
class Slip:
    """Two clocks that parted.

    Attributes:
        kind: "slept" (the computer slept) or "wall_set" (someone set its clock).
        seconds: how long it slept; how far the wall clock went, backward below 0.
        text: a sentence for the cook.
    """

    kind: Literal["slept", "wall_set"]
    seconds: float
    text: str


class Drift:
    """Watches whether the computer slept or its wall clock was set; each is told once."""

    def __init__(self, first: Instant) -> None:
        self._last = first
        self._looked = first.awake

    def look(self, now: Instant) -> tuple[Slip, ...]:
        """What happened since the last look that told something (or since the first instant).

        A wall clock that is steered little by little is not set, however far it goes.
        """
        last = self._last
        if now.boot != last.boot:
            self._last, self._looked = now, now.awake
            return ()
        awake = now.awake - last.awake
        slept = awake - (now.running - last.running)
        wall = (now.utc - last.utc) - awake
        slips = (*_slept(slept), *_wall_set(wall))
        self._last = now if slips else _steered(last, now.awake - self._looked, wall)
        self._looked = now.awake
        return slips


def local_datetime(utc: float, zone: tzinfo | None = None) -> datetime:
    """An instant as an aware local date and time.

    Args:
        utc: seconds since 1970-01-01 UTC.
        zone: the zone to show; None is the computer's own.
    """
    return datetime.fromtimestamp(utc, UTC).astimezone(zone)


def local_time(utc: float, zone: tzinfo | None = None, *, seconds: bool = False) -> str:
    """An instant as the kitchen clock shows it: "18:45", or "18:45:30" with seconds."""
    return local_datetime(utc, zone).strftime("%H:%M:%S" if seconds else "%H:%M")


def local_day_time(utc: float, now: float, zone: tzinfo | None = None) -> str:
    """An instant as the kitchen clock shows it, with its day where that is not the day of now.

    "18:45", "Mon 18:45", and a week or more away "7 Dec 18:45".

    Args:
        utc: the instant, in seconds since 1970-01-01 UTC.
        now: the instant whose day goes without saying.
        zone: the zone to show; None is the computer's own.
    """
    there, here = local_datetime(utc, zone), local_datetime(now, zone)
    days = abs((there.date() - here.date()).days)
    if not days:
        return local_time(utc, zone)
    day = _DAYS[there.weekday()] if days < 7 else f"{there.day} {_MONTHS[there.month - 1]}"
    return f"{day} {local_time(utc, zone)}"


def next_local(clocktime: ClockTime, after: float, zone: tzinfo | None = None) -> float:
    """The next instant after `after` at which the kitchen clock shows `clocktime`.

    A time that is jumped over when the clocks go forward is counted with the offset from before
    the jump (02:30 is then shown as 03:30), and a time that comes twice when they go back means
    the first of the two that is still to come (RFC 5545, section 3.3.5, FORM #3).

    Args:
        clocktime: the time of day.
        after: seconds since 1970-01-01 UTC.
        zone: whose clock; None is the computer's own.

    Returns:
        Seconds since 1970-01-01 UTC.
    """
    moments = (moment for day in range(-1, 4) for moment in _moments(clocktime, after, zone, day))
    return min(moment for moment in moments if moment > after)


def same_day(clocktime: ClockTime, day: float, zone: tzinfo | None = None) -> float:
    """The instant at which the kitchen clock shows `clocktime` on the local day of an instant.

    Args:
        clocktime: the time of day; jumped over or twice, it is read as `next_local` does.
        day: seconds since 1970-01-01 UTC.
        zone: whose clock; None is the computer's own.

    Returns:
        Seconds since 1970-01-01 UTC.
    """
    return _moments(clocktime, day, zone)[0]


def _moments(
    clocktime: ClockTime, about: float, zone: tzinfo | None, days: int = 0
) -> tuple[float, ...]:
    day = local_datetime(about, zone).date() + timedelta(days=days)
    face = datetime.combine(day, time_of_day(clocktime.hour, clocktime.minute, clocktime.second))
    first, second = (face.replace(fold=fold, tzinfo=zone).timestamp() for fold in (0, 1))
    shown = local_datetime(second, zone).replace(tzinfo=None, fold=0)
    return (first, second) if shown == face else (first,)


def _later(instant: Instant, seconds: float) -> Instant:
    return Instant(
        instant.utc + seconds,
        instant.awake + seconds,
        instant.boot,
        instant.running + seconds,
    )


def _steered(last: Instant, passed: float, wall: float) -> Instant:
    """The instant to compare with, its wall moved as far as steering can have moved it."""
    most = SLEW * max(0.0, passed)
    return replace(last, utc=last.utc + max(-most, min(most, wall)))


def _slept(seconds: float) -> tuple[Slip, ...]:
    if seconds <= SLIP:
        return ()
    text = f"The computer slept {_minutes(seconds)}; the timers have counted it."
    return (Slip("slept", seconds, text),)


def _wall_set(seconds: float) -> tuple[Slip, ...]:
    if abs(seconds) <= SLIP:
        return ()
    way = "forward" if seconds > 0 else "back"
    text = (
        f"The computer's clock was set {_minutes(abs(seconds))} {way}; the timers go on as before."
    )
    return (Slip("wall_set", seconds, text),)


def _minutes(seconds: float) -> str:
    whole = round(seconds)
    hours, rest = divmod(whole, 3600)
    tail = f"{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"
    return f"{hours}:{tail}" if hours else tail


def _counters(platform: str) -> tuple[Callable[[], float], Callable[[], float]]:
    """The clock that counts sleep and the one that does not, for a platform.

    Linux: CLOCK_BOOTTIME and CLOCK_MONOTONIC (clock_gettime(2)). macOS: CLOCK_MONOTONIC goes on
    in sleep and mach time, which Python's monotonic reads, does not (clock_gettime(3) there).
    Windows: GetTickCount64 and QueryUnbiasedInterruptTime (their reference pages).
    """
    if platform == "linux":
        return (lambda: time.clock_gettime(_CLOCK_BOOTTIME)), time.monotonic
    if platform == "darwin":
        return (lambda: time.clock_gettime(time.CLOCK_MONOTONIC)), time.monotonic
    if platform == "win32":
        return _windows_ticks, _windows_running
    return time.monotonic, time.monotonic


def _windows_ticks() -> float:
    kernel = ctypes.WinDLL("kernel32")  # type: ignore[attr-defined,unused-ignore]
    kernel.GetTickCount64.restype = ctypes.c_uint64
    return float(kernel.GetTickCount64()) / 1e3


def _windows_running() -> float:
    ticks = ctypes.c_uint64()
    kernel = ctypes.WinDLL("kernel32")  # type: ignore[attr-defined,unused-ignore]
    kernel.QueryUnbiasedInterruptTime(ctypes.byref(ticks))
    return ticks.value / 1e7


def _boot_id() -> str:
    """The id of this run of the computer; elsewhere than on Linux, of this process."""
    try:
        return _BOOT_ID.read_text("ascii").strip() or _PROCESS
    except (OSError, ValueError):
        return _PROCESS
