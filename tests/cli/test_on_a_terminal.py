"""The dashboard on a real terminal: cooked by keys, killed, resumed, hung up on."""

import os
import signal
import sys
import time
from pathlib import Path

import pytest

from passbell.cook.fold import fold
from passbell.cook.prepare import prepared
from passbell.cook.state import CookState
from passbell.journal import Journal
from passbell.plan.read import read_plan
from passbell.session.record import read_events
from tests.terminal import PATIENCE, Terminal

COOK = ("cook", "tray-supper", "--asap", "--mute")


def recorded(home: Path, run: int = 1) -> CookState:
    """The cook as the journal has it."""
    with Journal.open(home) as journal:
        meta = journal.run(run).meta
        events = read_events(journal.entries(run))
    return fold(prepared(read_plan(meta.plan_text, meta.plan_file)), events)


def typed(terminal: Terminal, *keys: str) -> None:
    """Type with a hand's pace: keys in one burst count as a dropped cloth."""
    for key in keys:
        terminal.type(key)
        terminal.read(0.4)


def switched_on(terminal: Terminal, home: Path) -> None:
    """Press Done until the journal has it: what is shown next stands there before."""
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        terminal.type("\r")
        terminal.read(1.0)
        if recorded(home).appliances[0].on is not None:
            return
    raise AssertionError(f"Done was not taken:\n{terminal.text}")


def test_killed_in_mid_cook_it_goes_on_where_the_clock_says(tmp_path: Path) -> None:
    with Terminal(COOK, tmp_path) as first:
        first.wait_for("SWITCH ON")
        switched_on(first, tmp_path)
        typed(first, "n", "hot kitchen", "\r")
        until = time.monotonic() + PATIENCE
        while not recorded(tmp_path).remarks and time.monotonic() < until:
            first.read(0.2)
        first.kill(signal.SIGKILL)
    before = recorded(tmp_path)
    assert before.appliances[0].on is not None
    assert [remark.text for remark in before.remarks] == ["hot kitchen"]
    with Terminal(COOK, tmp_path) as second:
        second.wait_for("is not finished. Go on with it?")
        second.type("\r")
        second.wait_for("PREPARE potatoes")
        second.type("x")
        second.wait_for("can be gone on with")
        assert second.end() == 0
    after = recorded(tmp_path)
    assert after.appliances[0].on == before.appliances[0].on
    assert after.log[: len(before.log)] == before.log


def test_a_second_program_on_one_cook_is_told(tmp_path: Path) -> None:
    with Terminal(COOK, tmp_path) as first:
        first.wait_for("SWITCH ON")
        with Terminal(COOK, tmp_path) as second:
            second.wait_for("Go on with it?")
            second.type("\r")
            second.wait_for("Another passbell")
            assert second.end() == 2


@pytest.mark.parametrize(("number", "code"), [(signal.SIGTERM, 143), (signal.SIGHUP, 129)])
def test_told_to_end_it_leaves_the_terminal_and_the_journal_clean(
    tmp_path: Path, number: int, code: int
) -> None:
    with Terminal(COOK, tmp_path) as terminal:
        terminal.wait_for("SWITCH ON")
        switched_on(terminal, tmp_path)
        os.kill(terminal.program.pid, number)
        assert terminal.end() == code
    assert recorded(tmp_path).appliances[0].on is not None


def test_bytes_that_mean_nothing_end_nothing(tmp_path: Path) -> None:
    with Terminal(COOK, tmp_path) as terminal:
        terminal.wait_for("SWITCH ON")
        terminal.type(b"\xff\xe9\x1b[99999999999u\x00\x9b")
        terminal.read(0.5)
        switched_on(terminal, tmp_path)


def test_a_reading_that_is_none_is_refused_with_its_mend(tmp_path: Path) -> None:
    with Terminal(COOK, tmp_path) as terminal:
        terminal.wait_for("SWITCH ON")
        typed(terminal, "1", "2abc", "\r")
        terminal.wait_for("no reading and no command")
    assert recorded(tmp_path).readings == ()


def test_the_plan_list_opens_a_plan_and_its_cook(tmp_path: Path) -> None:
    with Terminal((), tmp_path, size=(40, 120)) as terminal:
        terminal.wait_for("Lemon chicken thighs")
        terminal.type("\r")
        terminal.wait_for("TO GATHER")
        terminal.type("\r")
        terminal.wait_for("SWITCH ON")
    assert recorded(tmp_path).served is None


def test_a_folder_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder", encoding="utf-8")
    with Terminal(COOK, tmp_path / "file") as terminal:
        assert terminal.end() == 2
        assert "Traceback" not in terminal.text
        assert "passbell: " in terminal.text


def test_a_plan_is_edited_from_the_list_and_its_fault_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # An editor of several words, one of them with a space, that says where it stands and waits.
    script = "import sys; print('EDITING'); input(); p = sys.argv[1]; t = open(p).read(); " \
        "open(p, 'w').write(t.replace('serves = 3', 'serves = x'))"  # fmt: skip
    monkeypatch.delenv("VISUAL", raising=False)
    monkeypatch.setenv("EDITOR", f'{sys.executable} -c "{script}"')
    with Terminal([], tmp_path, (40, 120)) as terminal:
        terminal.wait_for("PLANS")
        terminal.type("e")
        terminal.wait_for("EDITING")
        terminal.type("\r")
        terminal.wait_for("cannot be read")
        terminal.wait_for("meatless-supper.toml:5")
        terminal.type("x")
        assert terminal.end() == 0
    assert "serves = x" in (tmp_path / "plans" / "meatless-supper.toml").read_text("utf-8")
