"""What keys, the mouse and pasted text do on the cook screen, and how it is left."""

import re

import pytest
from textual.events import Key, MouseScrollDown, Paste

from passbell.tui.widgets.foot import Foot
from passbell.tui.widgets.now import NowPanel
from passbell.tui.widgets.rows import Rows
from tests.tui.helpers import again, cook, cooking, press, until
from tests.tui.sample import FORTY, PENDING, FakeDesk
from tests.tui.snapshots import text_of


async def test_a_fault_behind_a_key_is_a_line_and_the_screen_goes_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fail(self: FakeDesk, action: str) -> None:
        raise KeyError(action)

    monkeypatch.setattr(FakeDesk, "press", fail)
    async with cooking(FakeDesk()) as (app, pilot):
        await press(pilot, "enter", "t")
        await until(pilot, lambda: "KeyError" in text_of(app))
        assert app.is_running


async def test_keys_reach_the_desk() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        await press(pilot, "enter", "t", "l")
        assert desk.asked == [("press", "done"), ("press", "take_out"), ("press", "longer")]
        again(app.screen)
        await press(pilot, "1", "5", "2", "enter")
        assert desk.asked[-1] == ("enter", "152")


async def test_a_cloth_skips_no_cue() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        for key in ("d", "f", "enter", "t", "h"):
            app.screen.post_message(Key(key, key if len(key) == 1 else None))
        await until(pilot, lambda: "Several keys at once" in text_of(app))
        assert desk.asked == []


async def test_the_mouse_can_do_everything_shown() -> None:
    desk = FakeDesk(PENDING)
    async with cooking(desk) as (app, pilot):
        rows = app.screen.query_one(Rows)
        foot = app.screen.query_one(Foot)
        await pilot.click(rows, offset=(5, 2))
        await pilot.click(foot, offset=(6, 1))
        await pilot.click(NowPanel, offset=(5, 0))
        assert desk.asked == [("select", 2), ("choose", 2), ("press", "done")]


async def test_the_keys_shown_can_be_clicked() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        lines = text_of(app).splitlines()
        y = next(i for i, line in enumerate(lines) if "put off" in line)
        await pilot.click(offset=(lines[y].index("put off"), y))
        assert desk.asked == [("press", "put_off")]
        y = next(i for i, line in enumerate(lines) if "F1 help" in line)
        await pilot.click(offset=(lines[y].index("F1"), y))
        await until(pilot, lambda: "KEYS" in text_of(app))
        assert "ADD green beans" in text_of(app)


async def test_forty_components_are_all_in_reach() -> None:
    desk = FakeDesk(FORTY)
    async with cooking(desk) as (app, pilot):
        assert "now wanted: dish 37" in text_of(app)
        seen = set()
        for _ in range(40):
            cook(app)._listener.key("down", None, 0.0)
            cook(app)._look()
            await pilot.pause()
            seen |= set(re.findall(r"▸[ ◂] (dish \d+)", text_of(app)))
        assert len(seen) == 40
        await pilot.press("pageup", "pageup")
        await pilot.pause()
        assert "▲" in text_of(app)
        assert desk.asked[-1] == ("select", 39)


async def test_rows_scroll_by_the_wheel() -> None:
    async with cooking(FakeDesk(FORTY)) as (app, pilot):
        rows = app.screen.query_one(Rows)
        await pilot._post_mouse_events([MouseScrollDown], rows)
        await until(pilot, lambda: "▲ 1 above" in text_of(app))


async def test_leaving_asks_in_place_and_now_stays_in_sight() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        await pilot.press("ctrl+q")
        await until(pilot, lambda: "Leave all the same?" in text_of(app))
        assert "ADD green beans" in text_of(app)
        assert app.is_running
        await press(pilot, "2")
        assert "Leave all the same?" not in text_of(app)
        again(app.screen)
        await press(pilot, "x")
        await until(pilot, lambda: "Leave all the same?" in text_of(app))
        again(app.screen)
        await press(pilot, "1")
        await until(pilot, lambda: desk.closed)
    assert app.return_code == 0


async def test_light_and_dark_by_a_key() -> None:
    async with cooking(FakeDesk()) as (app, pilot):
        await press(pilot, "k")
        await until(pilot, lambda: app.look == "light")
        assert app.looks.name == "light"
        assert app.theme == "passbell-light"


async def test_far_by_a_key_and_back() -> None:
    async with cooking(FakeDesk()) as (app, pilot):
        before = text_of(app)
        await press(pilot, "z")
        await until(pilot, lambda: "hob" not in text_of(app))
        again(app.screen)
        await press(pilot, "backslash")
        await until(pilot, lambda: text_of(app) == before)


async def test_pasted_text_goes_into_the_open_box_only() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        app.screen.post_message(Paste("999\n" * 1000))
        await pilot.pause()
        assert desk.asked == []
        await press(pilot, "i")
        app.screen.post_message(Paste("chicken 152\n\x1b[2J"))
        await pilot.pause()
        assert "chicken 152 [2J" in text_of(app)
