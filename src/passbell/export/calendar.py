"""What is still to do as a calendar for the phone: iCalendar, RFC 5545.

A backup in the pocket, not a second clock: it knows nothing of what changes later in the cook, so
export it again after a change. An entry keeps its UID, and its SEQUENCE rises.
"""

import hashlib
from datetime import UTC, datetime, timedelta

from icalendar import Alarm, Calendar, Event

from passbell import __version__
from passbell.cook.cue import Cue
from passbell.cook.state import CookState
from passbell.safety.cautions import WASH_HANDS

MINUTE = 60


def icalendar(
    state: CookState, cues: tuple[Cue, ...], start: tuple[float, float], now: tuple[float, int]
) -> bytes:
    """One entry a cue, each with an alarm that rings at its instant.

    Args:
        state: the cook.
        cues: those to export; silent ones are left out.
        start: wall clock (UTC seconds) at engine second 0, and seconds of the cook in a real one.
        now: wall clock of the export (UTC seconds), and the sequence number.
    """
    calendar = Calendar()
    calendar.add("prodid", f"-//passbell//passbell {__version__}//EN")
    calendar.add("version", "2.0")
    for cue in cues:
        if not cue.silent:
            calendar.add_component(_event(state, cue, start, now))
    return bytes(calendar.to_ical())


def _event(state: CookState, cue: Cue, start: tuple[float, float], now: tuple[float, int]) -> Event:
    summary = imperative(cue)
    event = Event()
    event.add("uid", uid(state, cue))
    event.add("sequence", now[1])
    event.add("dtstamp", _utc(now[0]))
    event.add("dtstart", _utc(start[0] + cue.at / start[1]))
    event.add("duration", timedelta(seconds=_lasts(state, cue)))
    event.add("summary", summary)
    event.add("description", f"{state.plan.title}. A backup: the screen has the last word.")
    event.add("transp", "TRANSPARENT")
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", summary)
    alarm.add("trigger", timedelta(0))
    event.add_component(alarm)
    return event


def _utc(seconds: float) -> datetime:
    return datetime.fromtimestamp(round(seconds), UTC)


def _lasts(state: CookState, cue: Cue) -> int:
    """Hands-on work lasts as long as it is planned to, anything else a minute."""
    if cue.key.kind not in ("prep", "finish"):
        return MINUTE
    return max(MINUTE, state.component(cue.key.owner).steps[cue.key.item].hands_time)


def uid(state: CookState, cue: Cue) -> str:
    """An identity that a plan's cue keeps whenever it is exported.

    It is made of names, not of places in the file, so a component more in the plan changes no
    other; the letters are a digest because a title may hold anything.
    """
    key = cue.key
    parts = (state.plan.title, cue.what, key.kind, str(key.item), key.part, str(key.n))
    return f"{hashlib.sha256(chr(0).join(parts).encode()).hexdigest()[:32]}@passbell"


def imperative(cue: Cue) -> str:
    """A cue as a request: "Add green beans: left side of the tray"."""
    what = cue.what if cue.key.kind != "dish_up" else ""
    how = cue.how.replace(WASH_HANDS, "wash your hands")
    if cue.key.kind == "ready":
        return f"Look at {what}: {how}"
    if cue.key.kind == "rest_over":
        return f"End the rest of {what}" + (f": {how}" if how else "")
    verb = cue.verb.capitalize()
    head = f"{verb} {what}".strip()
    return f"{head}: {how}" if how else head
