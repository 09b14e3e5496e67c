"""Which alarms are to be heard, as a function of the state: the sound room carries them out."""

from collections.abc import Callable
from dataclasses import replace

from passbell.cook.cards import Card, cards, place_of, waits_for_heat
from passbell.cook.cue import Cue, CueKey
from passbell.cook.state import CookState
from passbell.sound.choices import SOON
from passbell.sound.pattern import LATE_AFTER, REPEAT, Alarm, Kind

SOON_BEFORE = 60
"""How long before its cue *soon* is heard, in seconds."""

SOON_GAP = 90
"""No *soon* for a cue that follows another within this time, in seconds."""

HORIZON = 3600
"""Cues further away than this, in seconds, are not armed yet."""

_HERALDED = ("add", "mode", "take_out", "dish_up")
_LOOKS = ("probe", "check")


def alarms(
    state: CookState,
    now: int,
    awake_at: Callable[[int], float],
    silent: frozenset[str] = frozenset(),
) -> dict[str, Alarm]:
    """The alarms to arm, by id.

    Args:
        state: the cook.
        now: the engine instant.
        awake_at: from an engine instant to seconds on the clock of the alarms.
        silent: kinds of cue that the cook wants to hear only when they are late, and "soon".
    """
    found: dict[str, Alarm] = {}
    table = cards(state)
    for card in table:
        for place, cue in enumerate(card.lines):
            if cue.at - now <= HORIZON and not _silenced(state, cue):
                wanted = _of_cue(_held(state, cue), card, first=place == 0, table=table)
                for alarm in _without(wanted, cue, silent):
                    if alarm.at >= now - SOON_BEFORE or alarm.kind != "soon":
                        found[alarm.id] = Alarm(alarm.id, alarm.kind, awake_at(int(alarm.at)))
    return found


def _silenced(state: CookState, cue: Cue) -> bool:
    known = state.cue(cue.key.id)
    if waits_for_heat(state, cue):
        return True
    return cue.silent or (known is not None and known.seen and known.until is None)


def _held(state: CookState, cue: Cue) -> Cue:
    """A cue of an opening that the cook is just working through: it does not ring at once."""
    act = state.last_act
    if act is None or cue.at > act.noted or place_of(state, CueKey.read(act.cue)) != cue.place:
        return cue
    return replace(cue, at=act.noted + int(REPEAT))


def _of_cue(cue: Cue, card: Card, *, first: bool, table: tuple[Card, ...]) -> list[Alarm]:
    """The alarms of one cue, `at` in engine seconds; one opening rings once, for its first line."""
    name = cue.key.id
    if not first:
        return [Alarm(name, "late", cue.at + int(LATE_AFTER))]
    if cue.key.kind == "prep":
        late = Alarm(f"{name}/late", "late", cue.at + int(LATE_AFTER))
        return [Alarm(name, "soon", cue.at), late]
    kind: Kind = "probe" if cue.key.kind in _LOOKS else "do_it"
    found = [Alarm(name, kind, cue.at)]
    if cue.key.kind in _HERALDED and not _crowded(card, table):
        found.append(Alarm(f"{name}/soon", "soon", cue.at - SOON_BEFORE))
    return found


def _without(wanted: list[Alarm], cue: Cue, silent: frozenset[str]) -> list[Alarm]:
    """The alarms of a cue without those the cook does not want; once late, a cue always sounds."""
    if cue.key.kind in silent:
        late = [alarm for alarm in wanted if alarm.kind == "late"]
        return late or [Alarm(cue.key.id, "late", cue.at + int(LATE_AFTER))]
    return [alarm for alarm in wanted if alarm.kind != "soon" or SOON not in silent]


def _crowded(card: Card, table: tuple[Card, ...]) -> bool:
    return any(other is not card and 0 <= card.at - other.at < SOON_GAP for other in table)
