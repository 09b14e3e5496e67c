"""When a plan starts and when it is wanted, across midnight and the nights of the clock change."""

import time
from argparse import Namespace
from collections.abc import Iterator
from datetime import datetime

import pytest

from passbell.cli.parser import CommandParser
from passbell.cli.times import Timing, add_time_options, timing
from passbell.clock import HandClock
from passbell.units import ClockTime

QUARTER_TO_SEVEN = ClockTime(18, 45)


@pytest.fixture(autouse=True)
def local_new_york(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "America/New_York")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


def parsed(*arguments: str) -> Namespace:
    parser = CommandParser(prog="passbell x")
    add_time_options(parser)
    return parser.parse_args(arguments)


def at(moment: str, *arguments: str, serve_at: ClockTime | None = None) -> Timing:
    clock = HandClock(datetime.fromisoformat(moment).timestamp(), awake=5000.0)
    return timing(parsed(*arguments), serve_at, clock)


NOON = "2026-11-25T12:00:00.750-05:00"


def test_the_start_is_the_whole_second_of_now() -> None:
    found = at(NOON)
    assert found.at_start.isoformat() == "2026-11-25T12:00:00-05:00"
    assert (found.start.utc, found.start.awake) == (found.at_start.timestamp(), 4999.25)
    assert found.clock.now().utc == found.start.utc + 0.75


@pytest.mark.parametrize(
    ("arguments", "serve"),
    [
        ((), 6 * 3600 + 45 * 60),
        (("--serve", "12:30"), 1800),
        (("--serve", "12:00:01"), 1),
        (("--serve-in", "90 min"), 5400),
        (("--serve-in", "0 min"), 0),
        (("--asap",), None),
    ],
)
def test_an_option_speaks_before_the_plan(arguments: tuple[str, ...], serve: int | None) -> None:
    assert at(NOON, *arguments, serve_at=QUARTER_TO_SEVEN).serve == serve


def test_without_any_wish_it_is_as_soon_as_possible() -> None:
    assert at(NOON).serve is None


def test_now_moves_the_wall_of_today_and_nothing_else() -> None:
    found = at(NOON, "--now", "17:40:30", serve_at=QUARTER_TO_SEVEN)
    assert found.at_start.isoformat() == "2026-11-25T17:40:30-05:00"
    assert found.serve == 64 * 60 + 30
    assert found.start.awake == 5000.0
    assert found.clock.now() == found.start
    assert at(NOON, "--now", "0:00").at_start.isoformat() == "2026-11-25T00:00:00-05:00"


def test_the_next_such_time_may_be_after_midnight() -> None:
    found = at("2026-12-31T23:40:00-05:00", "--serve", "0:10")
    assert (found.serve, found.notice) == (1800, None)


def test_a_time_gone_by_is_tomorrow_and_that_is_said() -> None:
    found = at("2026-11-25T18:45:00-05:00", serve_at=QUARTER_TO_SEVEN)
    assert found.serve == 24 * 3600
    assert found.notice == ("18:45 has gone by today: the meal is planned for 18:45 tomorrow.")
    assert at(NOON, serve_at=QUARTER_TO_SEVEN).notice is None
    assert at("2026-11-25T00:10:00-05:00", "--serve", "23:50").notice is None
    assert at(NOON, "--serve-in", "20 h", serve_at=QUARTER_TO_SEVEN).notice is None


def test_the_night_the_clocks_go_forward_is_an_hour_shorter() -> None:
    # U.S. Code, title 15, section 260a: 2 a.m. on the second Sunday of March, an hour forward.
    assert at("2026-03-07T20:00:00-05:00", "--serve", "7:00").serve == 10 * 3600
    # RFC 5545, 3.3.5: a time jumped over is read with the offset from before.
    assert at("2026-03-08T01:00:00-05:00", "--serve", "2:30").serve == 90 * 60
    assert at("2026-03-08T01:00:00-05:00", "--now", "2:30").at_start.isoformat() == (
        "2026-03-08T03:30:00-04:00"
    )


def test_the_night_the_clocks_go_back_is_an_hour_longer() -> None:
    # The same section: 2 a.m. on the first Sunday of November, an hour back.
    assert at("2026-10-31T20:00:00-04:00", "--serve", "7:00").serve == 12 * 3600
    assert at("2026-11-01T01:15:00-04:00", "--serve", "1:30").serve == 15 * 60
    assert at("2026-11-01T01:45:00-04:00", "--serve", "1:30").serve == 45 * 60
    assert at("2026-11-01T01:15:00-05:00", "--serve", "1:30").serve == 15 * 60


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("--serve", "7pm"), "“7pm” is not a time of day"),
        (("--now", "24:00"), "“24:00” is not a time of day"),
        (("--serve-in", "90"), "“90” has no unit"),
        (("--serve-in", "1:30"), "“1:30” could be minutes or hours"),
        (("--serve", "18:45", "--asap"), "not allowed with argument --serve"),
        (("--serve", "18:45", "--serve-in", "5 min"), "not allowed with argument --serve"),
    ],
)
def test_a_mistake_is_named_with_its_mend(
    arguments: tuple[str, ...], message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as caught:
        parsed(*arguments)
    assert caught.value.code == 2
    err = capsys.readouterr().err
    assert message in err
    assert err.count("\n") == 1
