"""Whatever the clocks of the computer do, food is timed to the second and the cook is told once."""

import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import pytest

from passbell.clock import HandClock, Instant
from passbell.cook.commands import Done
from passbell.cook.cues import cues
from passbell.plan.model import Plan
from passbell.plan.read import read_plan
from passbell.session import CookSession
from passbell.tui.live import LiveDesk
from passbell.tui.views.model import CookView
from passbell.units import ClockTime
from tests.cook.meals import TRAY, plan_of
from tests.terminal import PATIENCE

HOUR = 3600
START = 1_800_000_000.0


class Night:
    """A cook on a clock that anything may happen to."""

    def __init__(self, utc: float = START, serve: int | None = None) -> None:
        self.clock = HandClock(utc=utc, awake=100.0)
        plan: Plan = plan_of(TRAY)
        self.session = CookSession.begin(plan, self.clock, serve=serve)
        self.desk = LiveDesk(self.session, None, lambda: self.clock.now().awake)
        self.gone = 0.0

    def pass_by(self, seconds: float) -> CookView:
        self.clock.move(seconds)
        self.gone += seconds
        return self.desk.tick()

    def countdowns(self, view: CookView) -> list[int]:
        """Until when each row waits, in engine seconds."""
        return [row.left + view.at for row in view.rows if row.left is not None]


@pytest.fixture
def new_york(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "America/New_York")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize("seed", range(2))
def test_after_any_night_the_cook_is_where_the_counting_clock_says(seed: int) -> None:
    dice, night = random.Random(seed), Night()
    told = 0
    for _ in range(15):
        kind = dice.choice(["move", "sleep", "set", "both"])
        seconds = dice.choice([0.3, 7.7, 61.0, 1800.5])
        if kind in ("sleep", "both"):
            night.clock.sleep(seconds)
            night.gone += seconds
        if kind in ("set", "both"):
            night.clock.set_wall(night.clock.now().utc + dice.choice([-2, 2]) * HOUR)
        view = night.pass_by(dice.choice([0.25, 5.0]))
        assert view.at == int(night.gone)
        assert night.session.awake_at(view.at) == 100.0 + view.at
        slept = kind in ("sleep", "both") and seconds > 2
        said = [n for n in view.notices if n.startswith(("The computer", "passbell stood"))]
        told += len(said)
        assert len([n for n in said if "slept" in n]) == slept
        assert len([n for n in said if "was set" in n]) == (kind in ("set", "both"))
    assert told


@pytest.mark.parametrize("jump", [2 * HOUR, -2 * HOUR])
def test_a_wall_clock_that_jumps_moves_no_countdown_and_is_told_once(jump: int) -> None:
    night = Night()
    before = night.countdowns(night.pass_by(30))
    night.clock.set_wall(night.clock.now().utc + jump)
    view = night.pass_by(1)
    assert night.countdowns(view) == before
    assert [n for n in view.notices if "was set 2:00:00" in n]
    assert night.session.utc_at(view.at) == pytest.approx(START + 31 + jump)
    for _ in range(100):
        assert night.pass_by(0.25).notices == ()


def test_what_fell_due_in_a_sleep_is_listed_oldest_first_after_one_message() -> None:
    night = Night()
    night.pass_by(1)
    for text in ("SWITCH ON", "PREPARE carrots"):
        cue = next(c for c in cues(night.session.state) if text in c.text)
        night.session.tell(Done(cue=cue.key.id))
    night.clock.sleep(1200)
    view = night.pass_by(0.25)
    first, *fallen = view.notices
    assert first == "The computer slept 20:00; the timers have counted it."
    ages = [notice.split("fell due ")[1].split(" ago")[0] for notice in fallen]
    since = [known.since for _, known in night.session.state.cues]
    assert len(fallen) >= 2
    assert view.at == 1201
    assert ages == sorted(ages, key=lambda age: -_seconds(age))
    assert {_seconds(age) for age in ages} <= {view.at - each for each in since}
    assert night.pass_by(0.25).notices == ()


def _seconds(words: str) -> int:
    if ":" in words:
        minutes, seconds = words.split(":")
        return int(minutes) * 60 + int(seconds)
    number, unit = words.split()[:2]
    return int(number) * (60 if unit == "min" else 1)


def test_a_wall_clock_that_is_steered_is_not_told_and_a_set_one_still_is() -> None:
    # RFC 5905, section 11.3: a clock is steered by at most 500 parts in a million.
    night = Night()
    for _ in range(50):
        view = night.pass_by(600)
        night.clock.set_wall(night.clock.now().utc + 600 * 500e-6)
        assert not [n for n in view.notices if "clock" in n], view.at
    assert view.at == 30000
    assert night.clock.now().utc == pytest.approx(START + 30000 + 15)
    night.clock.set_wall(night.clock.now().utc - 5)
    assert any("was set 0:05 back" in n for n in night.pass_by(1).notices)


@pytest.mark.usefixtures("new_york")
@pytest.mark.parametrize(
    ("begun", "shown"),
    [
        # U.S. Code, title 15, section 260a: 2 a.m. on the second Sunday of March, and on the
        # first of November; in 2027 these are March 14 and November 7.
        ("2027-03-14T06:30:00Z", "03:30:00"),  # 01:30 EST and an hour
        ("2027-11-07T05:30:00Z", "01:30:00"),  # 01:30 EDT and an hour
    ],
)
def test_a_night_of_daylight_saving_changes_what_is_shown_and_no_countdown(
    begun: str, shown: str
) -> None:
    from datetime import datetime

    night = Night(datetime.fromisoformat(begun).timestamp())
    first = night.countdowns(night.pass_by(10))
    view = night.pass_by(50)
    assert set(night.countdowns(view)) & set(first)
    view = night.pass_by(HOUR - 60)
    assert (view.at, view.clock) == (HOUR, shown)
    assert not [n for n in view.notices if "was set" in n]


@pytest.mark.usefixtures("new_york")
def test_serving_across_midnight_and_across_the_lost_hour() -> None:
    from datetime import datetime

    night = Night(datetime.fromisoformat("2027-03-14T04:30:00Z").timestamp())  # 23:30 EST
    assert night.session.serve_in(ClockTime(0, 15)) == 45 * 60
    assert night.session.serve_in(ClockTime(3, 0)) == 2 * HOUR + 1800  # two o'clock is left out
    night = Night(night.clock.now().utc, serve=night.session.serve_in(ClockTime(0, 30)))
    view = night.pass_by(5)
    assert view.dish_up.planned == "00:30"
    assert view.dish_up.expected_in == HOUR - 5
    view = night.pass_by(40 * 60)
    assert (view.clock, view.at) == ("00:10:05", 40 * 60 + 5)


_SKIM = ", ".join(f'{{ at = "{minutes} min", do = "skim" }}' for minutes in range(4, 100, 4))
REMINDED = f"""
title = "Invented broth, looked at again and again"
serves = 2
[[appliance]]
name = "pot"
[[component]]
name = "broth"
food = "plant"
[[component.steps]]
cook = "simmer"
on = "pot"
time = "100 min"
during = [{_SKIM}]
"""
"""Something falls due every four minutes, whatever was done before."""


class Stopping(HandClock):
    """The clock of a program that is stopped for five minutes after so many readings more."""

    readings = 0

    def now(self) -> Instant:
        found = super().now()
        self.readings -= 1
        if not self.readings:
            self.move(300)
        return found


@pytest.mark.parametrize("readings", [1, 2, 3])
def test_a_stop_between_two_readings_of_the_clock_is_noticed(readings: int) -> None:
    clock = Stopping(utc=START, awake=100.0)
    session = CookSession.begin(read_plan(REMINDED, "broth.toml"), clock, serve=None)
    session.tick()
    assert session.tell(Done(cue=cues(session.state)[0].key.id)) is None
    clock.readings = readings
    for _ in range(6):
        session.tick()
    assert [n for n in session.notices if n.startswith("passbell stood still 5 min")]
    assert [n for n in session.notices if "SKIM broth" in n and "fell due" in n]


def _until(said: IO[str], words: str) -> str:
    """All that a program says up to a line with those words."""
    lines: list[str] = []
    while words not in (line := said.readline()):
        assert line, f"it ended without {words!r}: {lines}"
        lines.append(line)
    return "".join([*lines, line])


def test_a_program_that_was_stopped_lists_what_fell_due(tmp_path: Path) -> None:
    """SIGSTOP in a rehearsal at 120: two and a half seconds are five minutes of the cook."""
    (tmp_path / "broth.toml").write_text(REMINDED, encoding="utf-8")
    environment = os.environ | {"PASSBELL_HOME": str(tmp_path), "TZ": "UTC"}
    words = ("cook", str(tmp_path / "broth.toml"), "--asap", "--plain", "--speed", "120")
    with subprocess.Popen(
        [sys.executable, "-c", "from passbell.cli.main import run; run()", *words],
        env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    ) as program:  # fmt: skip
        assert program.stdin is not None
        assert program.stdout is not None
        patience = threading.Timer(PATIENCE, program.kill)
        patience.daemon = True
        patience.start()
        _until(program.stdout, "ADD broth")
        program.stdin.write("done\n")
        program.stdin.flush()
        _until(program.stdout, "done: ADD broth")
        program.send_signal(signal.SIGSTOP)
        time.sleep(2.5)
        program.send_signal(signal.SIGCONT)
        _until(program.stdout, "passbell stood still")
        program.stdin.write("quit\n")
        program.stdin.flush()
        said = program.stdout.read()
        patience.cancel()
    assert [line for line in said.splitlines() if "fell due" in line and "SKIM broth" in line]
    assert program.returncode == 0
