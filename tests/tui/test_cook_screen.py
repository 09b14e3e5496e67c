"""How the cook screen looks at every size and after keys; it draws no more than it must."""

from dataclasses import replace

import pytest
from textual.geometry import Region
from textual.widget import Widget

from passbell.tui.screens.cook import CookScreen
from passbell.tui.views.model import Effect, Pending
from passbell.tui.widgets.now import NowPanel
from tests.tui.helpers import SIZES, cook, cooking, press, resized, running, until
from tests.tui.sample import COMING, DUE, FORTY, LATE, PENDING, VIEWS, FakeDesk
from tests.tui.snapshots import check, text_of


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
    for words in (*(row.name for row in COMING.rows), "oven", "hob", "timer 9:41", "PROBE",
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
            text_of(app).split("taken as shown in")[1].split("oven convection")[0].split()
        )
        assert "dish 1, dish 2, dish 3" in told
        await resized(pilot, (120, 40))
        await until(pilot, lambda: "dish 1, dish 2" not in text_of(app))


async def test_with_two_cards_what_was_interrupted_stands_beneath_them() -> None:
    view = replace(VIEWS["two_cards"], interruption=("back", "you were: TOSS carrots, 2:10 ago"))
    async with cooking(FakeDesk(view)) as (app, _pilot):
        assert "you were: TOSS carrots, 2:10 ago" in text_of(app)


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


async def test_any_size_while_it_runs() -> None:
    async with cooking(FakeDesk(VIEWS["hostile"])) as (app, pilot):
        for size in ((1, 1), (10, 3), (20, 5), (40, 12), (79, 23), (250, 80), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
            assert len(text_of(app).splitlines()) <= size[1]
            assert "not drawn" not in text_of(app)


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
