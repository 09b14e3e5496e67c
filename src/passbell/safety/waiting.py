"""Food that waits: out of the fridge, off the heat, held hot. Instants are whole seconds."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from passbell.safety.exact import exact
from passbell.safety.shipped import table
from passbell.units import Duration, Temperature

State = Literal["fine", "ask", "warn", "over"]


@dataclass(frozen=True, slots=True)
class Waiting:
    """How long perishable food has waited.

    Attributes:
        since: when it left the fridge or the heat.
        waited: seconds since then; a pause stops nothing.
        left: seconds to the limit; negative past it.
        state: "fine", "warn" shortly before the limit, "over" at and past it; "ask" while that
            depends on whether the room, which is not known, is a hot one.
        words: a sentence for the cook; empty while it is fine.
    """

    since: int
    waited: int
    left: int
    state: State
    words: str


def waiting_limit(room: Temperature | None = None) -> int:
    """Seconds perishable food may wait: two hours, one in a room over 90 °F / 32 °C.

    Source: FSIS and FoodSafety.gov. A room whose temperature is not known counts as cool.
    """
    limits = table().handling
    hot = room is not None and room.value > (
        limits.one_hour_above_f if room.scale == "F" else limits.one_hour_above_c
    )
    return 60 * (limits.one_hour_limit_min if hot else limits.two_hour_limit_min)


def warn_at(since: int, room: Temperature | None = None) -> int:
    """The instant at which to warn: a quarter of an hour (ours) before the limit."""
    return since + waiting_limit(room) - 60 * table().handling.warn_before_min


def waiting(since: int, now: int, room: Temperature | None = None) -> Waiting:
    """How perishable food stands that has waited since an instant.

    Args:
        since: when it left the fridge or the heat, the later of the two.
        now: the present instant.
        room: the temperature of the room; None: not known.
    """
    limit = waiting_limit(room)
    waited = now - since
    state: State = "over" if waited >= limit else "warn" if now >= warn_at(since, room) else "fine"
    words = _words(state, waited, limit)
    if state == "fine" and room is None:
        words = _words_if_hot(waited)
        state = "ask" if words else "fine"
    return Waiting(since, waited, limit - waited, state, words)


def _words_if_hot(waited: int) -> str:
    """What to say of food that has waited long for a hot room, where nobody knows the room."""
    limits = table().handling
    limit, hot = 60 * limits.one_hour_limit_min, f"{limits.one_hour_above_f:g} °F"
    if waited < limit - 60 * limits.warn_before_min:
        return ""
    room = f"Room over {hot} / {limits.one_hour_above_c:g} °C?"
    if waited >= limit:
        return f"{room} Throw it away."
    left = Duration(-(-(limit - waited) // 60) * 60)
    return f"{room} {left} left."


def _words(state: State, waited: int, limit: int) -> str:
    allowed = Duration(limit)
    if state == "over":
        return f"Throw it away: out for {allowed} or longer."
    if state == "warn":
        left = Duration(-(-(limit - waited) // 60) * 60)
        return f"Chill or heat it: {left} left of {allowed}."
    return ""


def stood_words(waited: int) -> str:
    """What the record says of food that had waited so long when it was served; empty: nothing.

    Args:
        waited: seconds out of the fridge and off the heat.
    """
    limits = table().handling
    most, hot = 60 * limits.two_hour_limit_min, 60 * limits.one_hour_limit_min
    stood = f"stood {Duration(waited // 60 * 60)} off the heat and out of the fridge"
    if waited >= most:
        return f"{stood}: {Duration(most)} or longer, throw it away"
    if waited >= hot:
        room = f"{limits.one_hour_above_f:g} °F / {limits.one_hour_above_c:g} °C"
        return f"{stood}: if the room was over {room}, throw it away"
    return ""


def waits_since(left_fridge: int | None, went_on: int | None, left_heat: int | None) -> int | None:
    """From when food counts as waiting; None: it is in the fridge or on the heat.

    Args:
        left_fridge: when it last left the fridge; None: it has not.
        went_on: when it last went on the heat; None: it has not.
        left_heat: when it last left the heat; None: it has not.
    """
    if went_on is None:
        return left_fridge
    if left_heat is None or left_heat < went_on:
        return None
    return left_heat if left_fridge is None else max(left_heat, left_fridge)


def fridge_until(prep_end: int, heat_start: int) -> int | None:
    """Until when prepared raw meat goes back into the fridge; None: the gap is short.

    A gap of more than 15 minutes (ours) between the end of its prep and the heat is long.
    """
    gap = heat_start - prep_end
    return heat_start if gap > 60 * table().handling.raw_gap_min else None


def fridge_words(clock: str) -> str:
    """The instruction for raw meat that has to wait: "into the fridge until 18:20"."""
    return f"into the fridge until {clock}"


def keeping_words() -> str:
    """How cold leftovers belong and how long they keep (FSIS and FoodSafety.gov)."""
    limits = table().handling
    shortest, longest = limits.leftover_days
    cold = f"{limits.refrigerate_f:g} °F / {limits.refrigerate_c:g} °C"
    return f"at {cold} or colder they keep {shortest} to {longest} days"


def holding_words(reading: Temperature | None) -> str:
    """What to say of food held hot: 140 °F / 60 °C or above (FSIS), or that nobody knows."""
    if reading is None:
        return "hold: temperature not known"
    limits = table().handling
    least = limits.hot_hold_f if reading.scale == "F" else limits.hot_hold_c
    if reading.value >= least:
        return f"hold: {reading}"
    return f"hold: {reading} is under {least:g} °{reading.scale}, and its waiting time counts"


def oven_note(oven: Temperature) -> str:
    """The note for meat roasted in air under 325 °F; empty at or above it."""
    least = exact(table().handling.oven_floor_f)
    value = exact(oven.value)
    fahrenheit = value if oven.scale == "F" else value * Fraction(9, 5) + 32
    if fahrenheit >= least:
        return ""
    return (
        f"{oven}: the US advice is not to roast meat or poultry in an oven under 325 °F (163 °C)."
    )
