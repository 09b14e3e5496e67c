"""The clocks: what counts sleep, what the wall says, and the nights on which it is changed."""

import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

import passbell.clock as clock_module
from passbell.clock import (
    Drift,
    HandClock,
    Instant,
    ShiftedClock,
    SpeedClock,
    SystemClock,
    elapsed,
    local_datetime,
    local_day_time,
    local_time,
    next_local,
    same_day,
)
from passbell.units import ClockTime

NEW_YORK = ZoneInfo("America/New_York")
SECONDS = st.floats(0, 1e6)


def utc(text: str) -> float:
    return datetime.fromisoformat(text).astimezone(UTC).timestamp()


@pytest.fixture
def local_new_york(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "America/New_York")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


def test_system_clock_agrees_with_the_operating_system() -> None:
    instant = SystemClock().now()
    assert abs(instant.utc - datetime.now(UTC).timestamp()) < 5
    assert abs(instant.running - time.monotonic()) < 5
    if sys.platform == "linux":
        # proc(5): the first figure of /proc/uptime is the time since boot, sleep included.
        uptime = float(Path("/proc/uptime").read_text().split()[0])
        assert abs(instant.awake - uptime) < 1
        assert instant.boot == Path("/proc/sys/kernel/random/boot_id").read_text().strip()


def test_system_clock_never_goes_back() -> None:
    system = SystemClock()
    instants = [system.now() for _ in range(200)]
    assert sorted(i.awake for i in instants) == [i.awake for i in instants]
    assert len({i.boot for i in instants}) == 1


def test_without_a_boot_id_the_run_of_the_clock_is_that_of_the_process(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(clock_module, "_BOOT_ID", tmp_path / "none")
    assert SystemClock().now().boot == SystemClock().now().boot != ""


@pytest.mark.parametrize("platform", [sys.platform, "darwin", "freebsd14"])
def test_each_platform_has_two_counters_that_run(platform: str) -> None:
    awake, running = clock_module._counters(platform)
    first = awake(), running()
    time.sleep(0.02)
    assert awake() - first[0] == pytest.approx(running() - first[1], abs=2.0)
    assert awake() > first[0]


@given(SECONDS, SECONDS, st.floats(-1e6, 1e6))
def test_elapsed_ignores_the_wall_while_the_boot_is_the_same(
    start: float, gone: float, moved: float
) -> None:
    before = Instant(1e9, start, "a")
    assert elapsed(before, Instant(1e9 + moved, start + gone, "a")) == (start + gone) - start


@given(SECONDS, st.floats(-1e6, 1e6))
def test_elapsed_is_the_wall_after_a_restart_and_never_negative(start: float, moved: float) -> None:
    before, after = Instant(1e9, start, "a"), Instant(1e9 + moved, 5.0, "b")
    assert elapsed(before, after) == max(0.0, 1e9 + moved - 1e9)
    assert elapsed(after, Instant(1e9, 0.0, "b")) == 0.0


def test_a_laptop_that_slept_has_cooked_on() -> None:
    clock = HandClock(1e9, 50)
    start = clock.now()
    clock.move(60)
    clock.sleep(600)
    assert elapsed(start, clock.now()) == 660


def test_speed_clock_runs_faster_from_its_start_on_every_counter() -> None:
    base = HandClock(1e9, 100)
    fast = SpeedClock(60, base)
    assert fast.now() == base.now()
    base.move(10)
    assert fast.now() == Instant(1e9 + 600, 700, "hand", 700)


def test_speed_clock_taken_up_again_goes_on_as_if_it_never_stopped() -> None:
    base = HandClock(1e9, 100)
    start = base.now()
    base.move(10)
    base.restart("later")
    base.move(5)
    again = SpeedClock(60, base, start)
    assert elapsed(start, again.now()) == 900
    assert again.now().boot == start.boot


def test_a_shifted_clock_moves_only_the_wall() -> None:
    base = HandClock(1e9, 100)
    shifted = ShiftedClock(base, -3600)
    drift = Drift(shifted.now())
    base.move(10)
    assert shifted.now() == Instant(1e9 - 3590, 110, "hand", 110)
    assert drift.look(shifted.now()) == ()


@pytest.mark.parametrize("factor", [0, -1])
def test_speed_clock_refuses_to_stand_still_or_go_back(factor: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        SpeedClock(factor, HandClock())


def test_rehearsal_at_any_speed_is_no_drift() -> None:
    base = HandClock(1e9)
    fast = SpeedClock(60, base)
    drift = Drift(fast.now())
    base.move(100)
    assert drift.look(fast.now()) == ()


def test_drift_tells_of_sleep_once() -> None:
    clock = HandClock(1e9)
    drift = Drift(clock.now())
    clock.move(30)
    clock.sleep(750)
    (slip,) = drift.look(clock.now())
    assert (slip.kind, slip.seconds) == ("slept", 750)
    assert "slept 12:30" in slip.text
    clock.move(5)
    assert drift.look(clock.now()) == ()


@pytest.mark.parametrize(("moved", "words"), [(3600, "1:00:00 forward"), (-90, "1:30 back")])
def test_drift_tells_of_a_wall_clock_that_was_set_once(moved: float, words: str) -> None:
    clock = HandClock(1e9)
    drift = Drift(clock.now())
    clock.set_wall(1e9 + moved)
    (slip,) = drift.look(clock.now())
    assert (slip.kind, slip.seconds) == ("wall_set", moved)
    assert words in slip.text
    assert drift.look(clock.now()) == ()


def test_drift_tells_of_both_at_once() -> None:
    clock = HandClock(1e9)
    drift = Drift(clock.now())
    clock.sleep(60)
    clock.set_wall(clock.now().utc + 100)
    assert [slip.kind for slip in drift.look(clock.now())] == ["slept", "wall_set"]


def test_drift_adds_up_what_is_too_small_to_tell() -> None:
    clock = HandClock(1e9)
    drift = Drift(clock.now())
    told = []
    for _ in range(5):
        clock.move(60)
        clock.set_wall(clock.now().utc + 0.5)
        told.append(len(drift.look(clock.now())))
    assert told == [0, 0, 0, 0, 1]


def test_drift_compares_nothing_across_a_restart() -> None:
    clock = HandClock(1e9, 5000)
    drift = Drift(clock.now())
    clock.restart("other")
    assert drift.look(clock.now()) == ()
    clock.set_wall(2e9)
    assert len(drift.look(clock.now())) == 1


def test_local_time_follows_daylight_saving() -> None:
    # Directive 2000/84/EC: summer time begins at 01:00 UTC on the last Sunday of March.
    paris = ZoneInfo("Europe/Paris")
    assert local_time(utc("2026-03-29T00:59:59+00:00"), paris, seconds=True) == "01:59:59"
    assert local_time(utc("2026-03-29T01:00:00+00:00"), paris) == "03:00"
    assert local_datetime(utc("2026-11-25T16:40:00+00:00"), paris).isoformat() == (
        "2026-11-25T17:40:00+01:00"
    )


@pytest.mark.parametrize(
    ("there", "shown"),
    [
        ("2026-11-28T23:59:59", "23:59"),
        ("2026-11-29T00:00:00", "Sun 00:00"),
        ("2026-12-04T15:50:00", "Fri 15:50"),
        ("2026-12-05T15:50:00", "5 Dec 15:50"),
        ("2026-11-27T15:50:00", "Fri 15:50"),
    ],
)
def test_a_time_of_another_day_has_its_day(there: str, shown: str) -> None:
    now = utc("2026-11-28T09:50:00-05:00")
    assert local_day_time(utc(f"{there}-05:00"), now, NEW_YORK) == shown


def test_next_local_is_today_tomorrow_or_after_midnight() -> None:
    noon = utc("2026-11-25T12:00:00-05:00")
    for text, day in [("18:45", "25T18:45:00"), ("12:00", "26T12:00:00"), ("0:05", "26T00:05:00")]:
        found = next_local(ClockTime.parse(text), noon, NEW_YORK)
        assert local_datetime(found, NEW_YORK).isoformat() == f"2026-11-{day}-05:00"
    late = utc("2026-12-31T23:59:30-05:00")
    assert next_local(ClockTime(0, 0), late, NEW_YORK) - late == 30


def test_a_time_that_is_jumped_over_counts_from_before_the_jump() -> None:
    # RFC 5545, 3.3.5, FORM #3: 2007-03-11 02:30 in New York "indicates" 03:30 EDT (UTC-4).
    for zone in (NEW_YORK, ZoneInfo("America/Toronto")):
        found = next_local(ClockTime(2, 30), utc("2007-03-11T00:00:00-05:00"), zone)
        assert found == utc("2007-03-11T03:30:00-04:00")
        assert local_time(found, zone) == "03:30"


def test_a_time_that_comes_twice_is_the_first_still_to_come() -> None:
    # RFC 5545, 3.3.5, FORM #3: 2007-11-04 01:30 in New York "indicates" 01:30 EDT (UTC-4).
    first, second = utc("2007-11-04T01:30:00-04:00"), utc("2007-11-04T01:30:00-05:00")
    half_past = ClockTime(1, 30)
    assert next_local(half_past, utc("2007-11-03T20:00:00-04:00"), NEW_YORK) == first
    assert next_local(half_past, first, NEW_YORK) == second
    assert next_local(half_past, second, NEW_YORK) == utc("2007-11-05T01:30:00-05:00")


def test_a_time_on_the_same_day_may_be_before_or_after() -> None:
    noon = utc("2026-11-25T12:00:00-05:00")
    for text in ("00:00", "12:00", "23:59"):
        found = same_day(ClockTime.parse(text), noon, NEW_YORK)
        assert found == utc(f"2026-11-25T{text}:00-05:00")
    assert same_day(ClockTime(2, 30), utc("2007-03-11T12:00:00-04:00"), NEW_YORK) == utc(
        "2007-03-11T03:30:00-04:00"
    )


@pytest.mark.usefixtures("local_new_york")
def test_the_zone_of_the_computer_is_read_the_same_way() -> None:
    found = next_local(ClockTime(2, 30), utc("2007-03-11T00:00:00-05:00"))
    assert found == utc("2007-03-11T03:30:00-04:00")
    first = utc("2007-11-04T01:30:00-04:00")
    assert next_local(ClockTime(1, 30), first) == first + 3600
    assert local_time(first) == "01:30"
    assert local_datetime(first).utcoffset() == local_datetime(first, NEW_YORK).utcoffset()


@given(st.integers(0, 2_000_000_000), st.integers(0, 23), st.integers(0, 59))
def test_next_local_is_after_and_within_two_days_and_shows_the_time(
    after: int, hour: int, minute: int
) -> None:
    found = next_local(ClockTime(hour, minute), after, NEW_YORK)
    assert 0 < found - after <= 49 * 3600
    shown = local_datetime(found, NEW_YORK)
    gap = shown.dst() != local_datetime(found - 3 * 3600, NEW_YORK).dst()
    assert gap or (shown.hour, shown.minute) == (hour, minute)
