"""The calendar, read by vobject: a reader that shares nothing with the library that wrote it."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from hypothesis import given, settings

from passbell.cook.cues import cues
from passbell.cook.state import CookState
from passbell.export.calendar import icalendar, imperative, uid
from passbell.export.files import EPOCH, next_sequence
from tests.cook.meals import TRAY
from tests.export.meals import START, hostile, state_of
from tests.export.readers import events


def written(state: CookState, sequence: int = 1) -> bytes:
    return icalendar(state, cues(state), (START, 1.0), (START, sequence))


def test_one_entry_a_cue_at_its_instant_in_utc() -> None:
    state = state_of(TRAY)
    found = events(written(state))
    loud = [cue for cue in cues(state) if not cue.silent]
    assert [e.dtstart.value for e in found] == [
        datetime.fromtimestamp(START + cue.at, UTC) for cue in loud
    ]
    summaries = [e.summary.value for e in found]
    assert summaries == [imperative(cue) for cue in loud]
    assert "Add green beans: left side" in summaries
    assert "Switch oven: air fry 375 °F, set 17 min" in summaries
    assert summaries[-1] == "Dish up"
    assert b"DTSTART:20270115T" in written(state)


def test_the_alarm_is_shown_at_the_start_and_stands_last() -> None:
    data = written(state_of(TRAY))
    for event in events(data):
        (alarm,) = event.valarm_list
        assert alarm.action.value == "DISPLAY"
        assert alarm.trigger.value.total_seconds() == 0
        assert alarm.description.value == event.summary.value
    for block in data.split(b"BEGIN:VEVENT")[1:]:
        assert block.split(b"END:VEVENT")[0].rstrip().endswith(b"END:VALARM")


def test_lines_are_folded_and_end_as_rfc_5545_has_them() -> None:
    lines = written(state_of(TRAY)).split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert not any(b"\n" in line for line in lines)


def test_an_identity_stays_and_is_its_own() -> None:
    state = state_of(TRAY)
    ids = [uid(state, cue) for cue in cues(state)]
    assert len(set(ids)) == len(ids)
    more = {**TRAY, "component": [{"name": "butter", "steps": [{"finish": "x", "time": "0 min"}]},
                                  *TRAY["component"]]}  # fmt: skip
    other = state_of(more)
    assert set(ids) <= {uid(other, cue) for cue in cues(other)}


def test_the_sequence_rises_with_every_export(tmp_path: Path) -> None:
    now = EPOCH + 1000.0
    first = next_sequence(tmp_path / "new", "a", now)
    assert first == 1000
    assert next_sequence(tmp_path / "new", "a", now) == 1001
    assert next_sequence(tmp_path / "new", "a", now - 500) == 1002
    assert next_sequence(tmp_path / "new", "b", now + 0.5) == 1000
    assert next_sequence(tmp_path / "new", "a", now + 60) == 1060
    (tmp_path / "new" / "calendars.json").write_text("{damaged")
    assert next_sequence(tmp_path / "new", "a", now + 61) == 1061
    assert (tmp_path / "new" / "calendars.json").stat().st_mode & 0o777 == 0o600


def test_the_sequence_needs_no_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    assert next_sequence(tmp_path / "file", "a", EPOCH + 5.0) == 5


@settings(max_examples=6)
@given(hostile)
def test_hostile_names_come_back_as_typed(data: dict[str, Any]) -> None:
    state = state_of(data)
    found = [event.summary.value for event in events(written(state))]
    assert found == [imperative(cue) for cue in cues(state) if not cue.silent]
