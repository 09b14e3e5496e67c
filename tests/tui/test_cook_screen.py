import logging
import re
from dataclasses import replace

import pytest
from textual.events import Key, MouseScrollDown, Paste
from textual.geometry import Region
from textual.widget import Widget

from passbell.tui.screens.cook import CookScreen
from passbell.tui.views.model import Effect, Pending
from passbell.tui.widgets.foot import Foot
from passbell.tui.widgets.now import NowPanel
from passbell.tui.widgets.rows import Rows
from tests.tui.helpers import SIZES, again, cooking, press, resized, running, until
from tests.tui.sample import COMING, DUE, FORTY, LATE, PENDING, VIEWS, FakeDesk
from tests.tui.snapshots import check, text_of


def cook(app: object) -> CookScreen:
    screen = app.screen  # type: ignore[attr-defined]
    assert isinstance(screen, CookScreen)
    return screen


@pytest.mark.parametrize("name", sorted(VIEWS))
async def test_it_looks_as_it_did_at_every_size(name: str) -> None:
    async with cooking(FakeDesk(VIEWS[name]), SIZES[0]) as (_app, pilot):
        for size in SIZES:
            await resized(pilot, size)
            await check(f"{name}_{size[0]}x{size[1]}", pilot)


@pytest.mark.parametrize(
    ("name", "size", "keys"),
    [
        ("coming", (80, 24), ["f1"]),
        ("coming", (40, 12), ["f1"]),
        ("coming", (80, 24), ["w"]),
        ("coming", (80, 24), ["1", "5"]),
        ("coming", (120, 40), ["1", "5"]),
        ("coming", (20, 5), ["1", "5"]),
        ("coming", (80, 24), ["x"]),
        ("coming", (80, 24), ["b"]),
        ("coming", (80, 24), ["v", "1", "9"]),
        ("coming", (80, 24), ["down", "down"]),
        ("forty", (80, 24), ["up"]),
        ("below", (80, 24), ["1", "5", "enter"]),
        ("coming", (200, 60), []),
        ("two_cards", (200, 60), []),
    ],
)
async def test_it_looks_as_it_did_after_keys(
    name: str, size: tuple[int, int], keys: list[str]
) -> None:
    async with cooking(FakeDesk(VIEWS[name]), size) as (_app, pilot):
        await press(pilot, *keys)
        await check(f"{name}_{size[0]}x{size[1]}_{'_'.join(keys)}", pilot)


@pytest.mark.parametrize("name", ["coming", "two_cards", "opening"])
async def test_far_is_now_and_what_follows(name: str) -> None:
    async with cooking(FakeDesk(VIEWS[name]), (80, 24), far=True) as (_app, pilot):
        for size in ((80, 24), (120, 40)):
            await resized(pilot, size)
            await check(f"{name}_{size[0]}x{size[1]}_far", pilot)


async def test_eighty_by_twenty_four_shows_everything_for_six_components() -> None:
    async with cooking(FakeDesk()) as (app, _):
        text = text_of(app)
    for words in (*(row.name for row in COMING.rows), "oven", "hob", "reads 9:41", "PROBE",
                  "FREE 4:10", "165 °F", "18:12:05", "dish up 18:45", "Enter done"):  # fmt: skip
        assert words in text


async def test_twenty_by_five_shows_what_and_when() -> None:
    async with cooking(FakeDesk(), (20, 5)) as (app, _):
        text = text_of(app)
    assert "ADD green beans" in text
    assert "in 4:10" in text


async def test_nothing_moves_when_a_cue_comes_falls_due_and_is_late() -> None:
    desk = FakeDesk()
    async with cooking(desk) as (app, pilot):
        before = {w.id: w.region for w in app.screen.query(Widget)}
        for view in (DUE, LATE, VIEWS["opening"], VIEWS["two_cards"]):
            desk.view = view
            cook(app)._look()
            await pilot.pause()
            assert {w.id: w.region for w in app.screen.query(Widget)} == before


async def test_an_equal_view_costs_no_repaint(monkeypatch: pytest.MonkeyPatch) -> None:
    desk = FakeDesk()
    painted: list[tuple[str | None, tuple[Region, ...]]] = []
    async with cooking(desk) as (app, pilot):
        stock = Widget.refresh

        def refresh(self: Widget, *regions: Region, **settings: bool) -> Widget:
            painted.append((self.id, regions))
            return stock(self, *regions, **settings)

        monkeypatch.setattr(Widget, "refresh", refresh)
        for _ in range(3):
            desk.view = replace(COMING)
            cook(app)._look()
            await pilot.pause()
        assert painted == []
        rows = (replace(COMING.rows[0], left=419), *COMING.rows[1:])
        desk.view = replace(COMING, rows=rows)
        cook(app)._look()
        await pilot.pause()
        assert [name for name, _ in painted] == ["rows-tail"]
        assert sum(region.area for _, regions in painted for region in regions) < 10


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


async def test_a_widget_that_cannot_draw_says_so_and_the_rest_goes_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fail(self: Rows, width: int, height: int) -> list[object]:
        raise ValueError("rows")

    monkeypatch.setattr(Rows, "lines", fail)
    async with cooking(FakeDesk()) as (app, _):
        assert "! not drawn, see the log" in text_of(app)
        assert "ADD green beans" in text_of(app)


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


async def test_what_a_change_covers_in_now_is_said_beside_the_hands() -> None:
    view = replace(PENDING, cards=VIEWS["two_cards"].cards)
    async with cooking(FakeDesk(view)) as (app, _):
        shown = text_of(app)
        assert "oven stage roast: +3 min" in shown
        assert "also DUE: STIR rice +0:05" in shown


async def test_with_more_components_than_lines_the_change_tells_of_all_of_them() -> None:
    effects = tuple(Effect(r.name, 60, "1 min later") for r in FORTY.rows[:12])
    change = Pending("oven: +1 min", effects, left=8, by=60, dish_up="18:46")
    view = replace(FORTY, rows=FORTY.rows[:12], pending=change)
    async with cooking(FakeDesk(view)) as (app, pilot):
        told = " ".join(
            text_of(app).split("takes itself in")[1].split("oven convection")[0].split()
        )
        assert "dish 1, dish 2, dish 3" in told
        await resized(pilot, (120, 40))
        await until(pilot, lambda: "dish 1, dish 2" not in text_of(app))


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


async def test_with_two_cards_what_was_interrupted_stands_beneath_them() -> None:
    view = replace(VIEWS["two_cards"], interruption=("back", "you were: TOSS carrots, 2:10 ago"))
    async with cooking(FakeDesk(view)) as (app, _pilot):
        assert "you were: TOSS carrots, 2:10 ago" in text_of(app)


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


async def test_the_symbol_flashes_once_a_second_and_only_while_it_is_wanted() -> None:
    # W3C, WCAG 2.2, 2.3.1: at most three flashes a second.
    desk = FakeDesk(LATE)
    async with cooking(desk) as (app, pilot):
        now = app.screen.query_one(NowPanel)
        shown = []
        for _ in range(4):
            cook(app)._blink()
            await pilot.pause()
            shown.append(text_of(app).splitlines()[1][:3])
        assert shown[0] == shown[2] != shown[1] == shown[3]
        desk.view = COMING
        cook(app)._look()
        cook(app)._blink()
        await pilot.pause()
        assert not now._lit
        assert text_of(app).splitlines()[1].startswith("▏")


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


async def test_any_size_while_it_runs() -> None:
    async with cooking(FakeDesk(VIEWS["hostile"])) as (app, pilot):
        for size in ((1, 1), (10, 3), (20, 5), (40, 12), (79, 23), (250, 80), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
            assert len(text_of(app).splitlines()) <= size[1]
            assert "not drawn" not in text_of(app)


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


async def test_a_notice_at_the_start() -> None:
    screen = CookScreen(FakeDesk(), 3600.0, notice="keys.toml: there is no function 'fly'.")
    async with running(screen) as (app, _):
        assert "there is no function 'fly'" in text_of(app)


async def test_it_ticks_by_itself() -> None:
    desk = FakeDesk()
    async with running(CookScreen(desk, 0.01)) as (app, pilot):
        desk.view = DUE
        await until(pilot, lambda: "DUE 0:40 ago" in text_of(app))


async def test_all_of_it_goes_on_with_the_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """It may be left open: what stood there a while ago must not be taken for now."""
    desk = FakeDesk(COMING)
    async with cooking(desk) as (app, pilot):
        await press(pilot, "w")
        monkeypatch.setattr(FakeDesk, "everything", lambda self: ("in 0:10: ADD carrots",))
        assert "in 0:10: ADD carrots" not in text_of(app)
        desk.view = replace(COMING, at=COMING.at + 1)
        screen = app.screen
        assert isinstance(screen, CookScreen)
        screen._look()
        await pilot.pause()
        assert "in 0:10: ADD carrots" in text_of(app)
        assert "ALL OF IT" in text_of(app)


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
