"""The forecast in sentences a cook reads. It says when to look, never that food is done."""

from collections.abc import Iterator

from passbell.cook.outlook import Outlook
from passbell.cook.wording import minutes, spoken
from passbell.heat import NoForecast
from passbell.units import Temperature

SAID_REASONS = ("no_until", "no_size", "no_air")
"""Reasons for which the plan's countdown stands without a word."""


TOO_HOT = ("hotter", "jumping", "impossible")
"""What is odd about a reading that shows more than can well be."""

ONE_LOOK = 120
"""Readings within this time, in seconds, were taken at one look."""


def about(seconds: int) -> str:
    """A time as it may be trusted: "9 min", below five minutes "3½ min"."""
    if seconds >= 300:
        return spoken(round(seconds / 60) * 60)
    halves = max(1, round(seconds / 30))
    whole = str(halves // 2) if halves >= 2 else ""
    return f"{whole}{'½' if halves % 2 else ''} min"


def bounds(found: Outlook, now: int) -> str:
    """The interval: "7 to 12 min", "7 min or more"."""
    low = max(0, found.low - now)
    if found.high is None:
        return f"{about(low)} or more: it may stall"
    first, last = about(low), about(max(found.high - now, 30))
    return f"{first.removesuffix(' min')} to {last}" if low else f"up to {last}"


def rise(found: Outlook) -> Temperature:
    """How far the core still rises once it is out, in the unit of its `until`."""
    factor = 1.8 if found.until.scale == "F" else 1.0
    return Temperature(float(round(found.forecast.rise_c * factor)), found.until.scale)


def expected(found: Outlook, now: int, look_at: int | None) -> str:
    """When it is expected there and when to look: the first line of the forecast.

    Args:
        found: the forecast of food on the heat.
        now: the engine instant.
        look_at: when the cook is asked to look next, which may be another reason's instant.
    """
    left = found.at - now
    pieces = f", piece {found.forecast.piece} last" if found.readings > 1 else ""
    within = bounds(found, now).removesuffix(" min")
    when = f"in about {about(left)} ({within}){pieces}" if left > 15 else "by now"
    look = found.look_at if look_at is None else look_at
    then = f"look in {minutes(look - now)}" if look > now else "probe now"
    if look > now and any(odd.at_s >= found.forecast.from_s for odd in found.forecast.odd):
        then += ", the last reading was odd"
    return f"{found.until} expected {when}: {then}."


def expected_short(found: Outlook, now: int) -> str:
    """The same for a narrow row: "~9 min"."""
    left = found.at - now
    return f"~{about(left)}" if left > 15 else "probe now"


def expected_row(found: Outlook, now: int) -> str:
    """The same for a wide row: "63 °C in ~9 min (7 to 12)"."""
    left = found.at - now
    if left <= 15:
        return f"{found.until} by now: probe"
    return f"{found.until} in ~{about(left)} ({_short_bounds(found, now)})"


def _short_bounds(found: Outlook, now: int) -> str:
    """The interval in figures: "7–12", "7–?" where it may stall."""
    low, high = max(0, found.low - now), found.high
    last = "?" if high is None else f"{max(1, round((high - now) / 60))}"
    return f"{round(low / 60)}–{last}"


def doubted(found: Outlook) -> bool:
    """Whether a reading of the last look showed more than can well be: a minimum met by it is odd.

    The verdict stands as the chart gives it; what is said beside it is to read again.
    """
    since = found.forecast.from_s - ONE_LOOK
    return any(odd.kind in TOO_HOT and odd.at_s >= since for odd in found.forecast.odd)


def odd_line(found: Outlook) -> str:
    """The last implausible reading, named; empty: there is none."""
    odd = found.forecast.odd
    last = [one for one in odd if one.at_s == odd[-1].at_s]
    return f"Odd: {last[0].sentence}" if last else ""


def more_lines(found: Outlook, now: int) -> Iterator[str]:
    """What else belongs to a forecast, most important first."""
    if found.forecast.uncertain and found.readings:
        yield "The forecast is too uncertain to trust: probe."
    elif not found.readings:
        yield "No reading yet: a rough guess from the plan's own time."
    if found.readings:  # the plan alone knows too little of how uneven the heat in the piece is
        yield once_out(found)
    if found.turned:
        yield "Reckoned with the oven as you set it."
    if found.stopped:
        yield "The heat was off: the forecast is less sure, look earlier."


def once_out(found: Outlook) -> str:
    """What the core does when the food leaves the heat."""
    return f"Once out the core rises about {rise(found).value:.0f} °{found.until.scale} more, " \
           f"highest after {about(found.forecast.rise_peak_s)}: probe again then. " \
           "Only readings on the heat count."  # fmt: skip


def still_rising(found: Outlook, now: int) -> str:
    """What the core of food off the heat does; empty: it has had its highest."""
    if found.out is None:
        return ""
    left = found.out + found.forecast.rise_peak_s - now
    if left <= 0 or not found.readings:
        return ""
    return f"the core may still rise about {rise(found).value:.0f} °{found.until.scale}, " \
           f"highest in {minutes(left)}: probe again then"  # fmt: skip


def none_words(found: NoForecast) -> str:
    """Why there is no forecast, where that is worth a line; empty: it is not."""
    return "" if found.reason in SAID_REASONS else found.sentence
