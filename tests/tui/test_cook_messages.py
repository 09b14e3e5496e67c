"""What the cook screen says and for how long: notices, answers, faults, cautions, the bell."""

import logging
from dataclasses import replace

import pytest

from passbell.tui.screens.cook import CookScreen
from passbell.tui.widgets.rows import Rows
from tests.tui.helpers import cook, cooking, press, running
from tests.tui.sample import COMING, DUE, FakeDesk
from tests.tui.snapshots import text_of


async def test_a_fault_of_the_desk_is_a_line_and_the_screen_goes_on(
    caplog: pytest.LogCaptureFixture,
) -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        desk.fails = RuntimeError("the journal is full")
        with caplog.at_level(logging.ERROR):
            for _ in range(5):
                cook(app)._look()
        await pilot.pause()
        assert "Something failed in the cook: RuntimeError the journal is full" in text_of(app)
        assert "ADD green beans" in text_of(app)
        assert len([r for r in caplog.records if r.exc_info]) == 1
        desk.fails = None
        desk.view = DUE
        cook(app)._look()
        await pilot.pause()
        assert "DUE 0:40 ago" in text_of(app)


async def test_a_widget_that_cannot_draw_says_so_and_the_rest_goes_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fail(self: Rows, width: int, height: int) -> list[object]:
        raise ValueError("rows")

    monkeypatch.setattr(Rows, "lines", fail)
    async with cooking(FakeDesk()) as (app, _):
        assert "! not drawn, see the log" in text_of(app)
        assert "ADD green beans" in text_of(app)


async def test_notices_are_shown_once_in_place_of_a_key_line() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        desk.view = replace(COMING, notices=("The laptop slept 4:10.",))
        cook(app)._look()
        await pilot.pause()
        assert "The laptop slept 4:10." in text_of(app)
        cook(app)._said_enough("The laptop slept 4:10.")
        await pilot.pause()
        assert "The laptop slept" not in text_of(app)
        desk.view = replace(desk.view, at=1501)
        cook(app)._look()
        await pilot.pause()
        assert "The laptop slept" not in text_of(app)


async def test_an_answer_goes_with_the_next_key_and_a_message_stays() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        told = ("The laptop slept 4:10.", "the oven is hot already")
        desk.view = replace(COMING, notices=told, answers=told[1:])
        cook(app)._look()
        desk.view = replace(desk.view, notices=(), answers=())
        await pilot.pause()
        assert "The laptop slept 4:10. · the oven is hot already" in text_of(app)
        await press(pilot, "m")
        assert "the oven is hot" not in text_of(app)
        assert "The laptop slept 4:10." in text_of(app)
        await press(pilot, "w")
        assert "Said: the oven is hot already" in text_of(app)


async def test_each_message_goes_in_its_own_time() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        cook(app)._say("The laptop slept 4:10.")
        cook(app)._say("Someone set the clock.")
        cook(app)._said_enough("The laptop slept 4:10.")
        await pilot.pause()
        assert "Someone set the clock." in text_of(app)
        assert "The laptop slept" not in text_of(app)


async def test_no_message_is_lost_when_another_comes_soon() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        for words in ("The laptop slept 4:10.", "Someone set the clock.", "Someone set the clock."):
            desk.view = replace(desk.view, notices=(words,), at=desk.view.at + 1)
            cook(app)._look()
            desk.view = replace(desk.view, notices=())
            cook(app)._look()
        await pilot.pause()
        assert "Someone set the clock. · The laptop slept 4:10." in text_of(app)
        await press(pilot, "w")
        assert "Said: The laptop slept 4:10." in text_of(app)


async def test_the_bell_rings_as_often_as_it_is_owed(monkeypatch: pytest.MonkeyPatch) -> None:
    rung: list[int] = []
    desk = FakeDesk()
    async with cooking(desk) as (app, _):
        monkeypatch.setattr(app, "bell", lambda: rung.append(1))
        desk.rings = 3
        cook(app)._look()
        cook(app)._look()
        assert len(rung) == 3


async def test_a_notice_at_the_start() -> None:
    screen = CookScreen(FakeDesk(), 3600.0, notice="keys.toml: there is no function 'fly'.")
    async with running(screen) as (app, _):
        assert "there is no function 'fly'" in text_of(app)


async def test_the_help_ends_with_the_cautions() -> None:
    async with cooking(FakeDesk(), (80, 40)) as (app, pilot):
        await press(pilot, "f1")
        await press(pilot, *["down"] * 30)
        seen = " ".join(text_of(app).split())
        assert "Feeding the public?" in seen
        assert "Instructions on the package win" in seen


async def test_before_the_first_cook_the_cautions_stand_until_a_key() -> None:
    screen = CookScreen(FakeDesk(), 3600.0, first=True)
    async with running(screen, (80, 24)) as (app, pilot):
        assert "BEFORE THE FIRST COOK" in text_of(app)
        assert "Chart minimum reached at the spots you probed" in text_of(app)
        await press(pilot, "escape")
        assert "BEFORE THE FIRST COOK" not in text_of(app)
