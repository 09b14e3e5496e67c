"""What the forecast is asked and what it answers. Plain frozen values, seconds and °C."""

from dataclasses import dataclass, field
from typing import Literal

ModeKey = Literal["bake", "convection", "air_fry", "rest"]
"""Kinds of surroundings a forecast can be made for; `rest` is room air."""

NoReason = Literal[
    "no_until", "no_size", "no_air", "one_sided", "bones", "stuffing", "foil", "frozen",
    "beyond_reach", "does_not_fit",
]  # fmt: skip
"""Why there is no forecast."""

OddKind = Literal["falling", "jumping", "flat", "outside", "hotter", "slip", "impossible"]
"""What is odd about a reading."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of food.

    Attributes:
        shape: index of the shape: 0 slab, 1 cylinder, 2 sphere, or a real number between.
        half_mm: half of its thickness or diameter, mm.
        food_key: key of the temperature chart or name of a vegetable; sets the properties.
        start_c: its temperature when it goes in, °C.
    """

    shape: float
    half_mm: float
    food_key: str = "general"
    start_c: float = 4.0


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of one setting.

    Attributes:
        at_s: when it begins, in seconds from the moment the food goes in.
        air_c: the set temperature, °C (of the room for `rest`).
        mode: the kind of surroundings.
    """

    at_s: float
    air_c: float
    mode: ModeKey


@dataclass(frozen=True, slots=True)
class Exposure:
    """What a piece meets, from going in at 0 on; the last segment goes on for ever.

    Attributes:
        segments: in order of time, the first at 0.
        doors_s: when the door was opened; going in opens it too and is not listed.
        start_air_c: oven air when the food goes in; None: it has reached its set temperature.
        room_c: the room, °C.
    """

    segments: tuple[Segment, ...]
    doors_s: tuple[float, ...] = ()
    start_air_c: float | None = None
    room_c: float = 22.0


@dataclass(frozen=True, slots=True)
class Reading:
    """One probe reading.

    Attributes:
        at_s: seconds from going in.
        temp_c: what the thermometer showed, °C, corrected by its check.
        piece: which piece, by number or name.
    """

    at_s: float
    temp_c: float
    piece: str = "1"


@dataclass(frozen=True, slots=True)
class PlanTime:
    """The plan's own tested time, which calibrates the model.

    Attributes:
        time_s: after how many seconds the core reached the target in the plan's test.
        exposure: what the plan's piece met; None: the same as this one.
        target_c: what it was tested to, °C; None: the temperature waited for.
    """

    time_s: float
    exposure: Exposure | None = None
    target_c: float | None = None


@dataclass(frozen=True, slots=True)
class Odd:
    """An implausible reading, named.

    Attributes:
        kind: what is odd.
        at_s: when it was taken.
        sentence: what to think and do about it.
    """

    kind: OddKind
    at_s: float
    sentence: str


@dataclass(frozen=True, slots=True)
class NoForecast:
    """There is no forecast, only the countdown.

    Attributes:
        reason: why, for a program.
        sentence: why, for the cook.
    """

    reason: NoReason
    sentence: str


@dataclass(frozen=True, slots=True)
class Forecast:
    """When the coldest point is expected to reach the target. Never that food is done.

    Seconds count from `from_s`, the last reading (0, going in, without one).

    Attributes:
        target_c: the temperature waited for, °C.
        from_s: where the seconds below begin, in seconds from going in.
        eta_s, eta_low_s, eta_high_s: time to the target with its 80 % interval; the high end is
            None when it may stall below the target.
        look_again_s: when to probe next.
        rise_c: how far the core still rises when it is taken out at the target.
        rise_peak_s: how long after taking out it peaks.
        piece: the piece that governs, the slowest.
        uncertain: the interval is wider than 40 % of what remains: probe, do not trust it.
        odd: implausible readings, named.
    """

    target_c: float
    from_s: float
    eta_s: int
    eta_low_s: int
    eta_high_s: int | None
    look_again_s: int
    rise_c: float
    rise_peak_s: int
    piece: str = "1"
    uncertain: bool = False
    odd: tuple[Odd, ...] = field(default=())
