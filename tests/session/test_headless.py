"""A cook without a screen: the same engine, done the moment it is due."""

from typing import Any

import pytest

from passbell.clock import HandClock
from passbell.session import CookSession
from passbell.session.headless import Headless, ScriptError, read_script
from tests.cook.meals import CHOPS, TRAY, plan_of


def cooked(data: dict[str, Any], script: str = "") -> tuple[int, list[dict[str, Any]], Headless]:
    clock = HandClock(utc=1_800_000_000.0)
    session = CookSession.begin(plan_of(data), clock)
    heard: list[dict[str, Any]] = []
    headless = Headless(session, clock, read_script(script), heard.append)
    return headless.run(), heard, headless


def test_a_cook_without_words_serves_as_planned_and_says_what_was_not_probed() -> None:
    end, heard, _ = cooked(TRAY)
    assert end == 41 * 60
    assert heard[-1] == {"type": "end", "dish_up": 41 * 60}
    texts = [h["text"] for h in heard if h.get("kind") == "noted"]
    assert "chicken thighs: dished up with the verdict “incomplete”" in texts


def test_cues_come_in_order_of_time_and_each_once() -> None:
    _, heard, _ = cooked(TRAY)
    found = [h for h in heard if h["type"] == "cue"]
    assert [h["at"] for h in found] == sorted(h["at"] for h in found)
    assert [h["kind"] for h in found].count("mode") == 2
    add = next(h for h in found if h["kind"] == "add" and h["component"] == "green beans")
    assert add["at"] == 24 * 60
    assert add["data"]["display"] == 12 * 60 + 180


def test_a_script_probes_and_the_meat_waits_for_its_readings() -> None:
    end, heard, _ = cooked(TRAY, "2000 chicken 150\n2010 2 168F\n2400 chicken 1 170\n")
    out = next(
        h["at"] for h in heard if h.get("kind") == "acted" and h["data"]["act"] == "take_out"
    )
    assert out == 2400
    assert end == 2400 + 300


def test_what_the_engine_refuses_is_told() -> None:
    _, heard, headless = cooked(CHOPS, "5 back\n")
    assert headless.refused
    assert any(h.get("kind") == "refused" and "not away" in h["text"] for h in heard)


@pytest.mark.parametrize(
    ("script", "says"),
    [
        ("ten done", "line 1"),
        ("10", "line 1"),
        ("20 done\n10 done", "line 2: time goes backwards"),
        ("# a remark\n\n-5 done", "line 3"),
    ],
)
def test_a_script_that_cannot_be_followed_names_its_line(script: str, says: str) -> None:
    with pytest.raises(ScriptError, match=says):
        read_script(script)


def test_words_that_are_no_command_name_their_line() -> None:
    with pytest.raises(ScriptError, match="line 1: “dance”"):
        cooked(TRAY, "10 dance")


def test_what_came_out_unread_holds_nothing_up_that_is_to_come() -> None:
    """Nobody will read the pork: it rests, is sliced and served as planned, the record says so."""
    end, heard, _ = cooked(CHOPS)
    sliced = [h["at"] for h in heard if h.get("data", {}).get("act") == "finish"]
    assert len(sliced) == 2 + 2 + 2, "pork, rice and butter, each begun and ended"
    assert end <= 30 * 60
    texts = [h["text"] for h in heard if h.get("kind") == "noted"]
    assert any("pork chops: dished up with the verdict" in text for text in texts)
