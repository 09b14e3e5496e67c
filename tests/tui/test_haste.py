"""What a key need not wait for, and what need not be kept."""

from typing import Any

import pytest
from rich.cells import cached_cell_len, cell_len

from passbell.tui.app import _KEPT, _tidy
from passbell.tui.guard import CHORD
from passbell.tui.listen import SETTLE, settles_in
from passbell.tui.widgets.painted import Painted
from tests.tui.helpers import cooking, press
from tests.tui.sample import FakeDesk
from tests.tui.snapshots import text_of


def test_a_key_that_comes_late_waits_only_for_the_rest() -> None:
    assert settles_in(10.0, 10.0) == SETTLE
    assert settles_in(10.0, 10.02) == pytest.approx(SETTLE - 0.02)


def test_a_key_that_comes_very_late_still_waits_for_what_came_with_it() -> None:
    assert 0 < settles_in(10.0, 13.0) < CHORD


def test_a_clock_that_disagrees_keeps_no_key_for_long() -> None:
    assert settles_in(1000.0, 10.0) == SETTLE


async def test_the_clock_is_passed_over_once_while_a_key_waits() -> None:
    desk = FakeDesk()
    looks = 0
    tick = desk.tick

    def counted() -> Any:
        nonlocal looks
        looks += 1
        return tick()

    desk.tick = counted  # type: ignore[method-assign]
    async with cooking(desk) as (app, _pilot):
        screen: Any = app.screen
        screen._listener._guard.press("d", 1.0)
        before = looks
        screen._look_again()
        assert looks == before
        screen._look_again()
        assert looks == before + 1, "a key that is never settled must not stop the clock"
        screen._listener.settle(2.0)
        screen._look_again()
        assert looks == before + 2


async def test_the_box_opens_and_closes_without_drawing_the_rest_anew(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    drawn: list[str | None] = []
    look_anew = Painted.look_anew

    def noted(widget: Painted) -> None:
        drawn.append(widget.id)
        look_anew(widget)

    async with cooking(FakeDesk()) as (app, pilot):
        before = text_of(app)
        monkeypatch.setattr(Painted, "look_anew", noted)
        await press(pilot, "1", "5")
        assert "15▏" in text_of(app)
        await press(pilot, "escape")
        await pilot.pause()
        assert text_of(app) == before
    assert set(drawn) == {"foot", "keys"}


def test_widths_that_were_measured_do_not_pile_up() -> None:
    cached_cell_len.cache_clear()
    for n in range(_KEPT):
        cell_len(f"{n} é")
    _tidy()
    assert cached_cell_len.cache_info().currsize == _KEPT, "few are kept"
    assert cell_len("汉 é") == 4
    _tidy()
    assert cached_cell_len.cache_info().currsize == 0
