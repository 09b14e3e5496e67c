from dataclasses import replace
from typing import Any

import pytest
from textual.events import Paste

from passbell.tui.screens.after import AfterScreen
from passbell.tui.screens.before import BeforeScreen
from passbell.tui.screens.cook import CookScreen
from passbell.tui.screens.page import PageScreen
from passbell.tui.screens.plans import PlansScreen
from passbell.tui.views.before import BeforeView
from passbell.tui.views.plans import PlansView
from tests.tui.helpers import SIZES, again, press, resized, running, until
from tests.tui.sample_pages import (
    AFTER,
    BEFORE,
    HOSTILE_AFTER,
    HOSTILE_BEFORE,
    HOSTILE_PLANS,
    FakeAftermath,
    FakePreparation,
    FakeShelf,
)
from tests.tui.snapshots import check, text_of

PAGES: dict[str, Any] = {
    "plans": lambda: PlansScreen(FakeShelf()),
    "no_plans": lambda: PlansScreen(FakeShelf(PlansView((), ("your own folder",)))),
    "before": lambda: BeforeScreen(FakePreparation()),
    "after": lambda: AfterScreen(FakeAftermath()),
    "hostile_plans": lambda: PlansScreen(FakeShelf(HOSTILE_PLANS)),
    "hostile_before": lambda: BeforeScreen(FakePreparation(HOSTILE_BEFORE)),
    "hostile_after": lambda: AfterScreen(FakeAftermath(HOSTILE_AFTER)),
}


@pytest.mark.parametrize("name", sorted(PAGES))
async def test_it_looks_as_it_did_at_every_size(name: str) -> None:
    async with running(PAGES[name](), SIZES[0]) as (_app, pilot):
        for size in SIZES:
            await resized(pilot, size)
            await check(f"page_{name}_{size[0]}x{size[1]}", pilot)


async def test_a_plan_is_chosen_opened_and_left_again() -> None:
    shelf = FakeShelf()
    async with running(PlansScreen(shelf)) as (app, pilot):
        await press(pilot, "down")
        assert "Begin the potatoes 6 min earlier" in text_of(app)
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, BeforeScreen))
        assert shelf.opened == ["roast"]
        await press(pilot, "x")
        await until(pilot, lambda: isinstance(app.screen, PlansScreen))
        assert shelf.preparation.closed


async def test_escape_goes_back_and_never_out() -> None:
    async with running(PlansScreen(FakeShelf())) as (app, pilot):
        await press(pilot, "escape")
        assert isinstance(app.screen, PlansScreen)
        assert "x leaves" in text_of(app)
        await press(pilot, "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, BeforeScreen))
        await press(pilot, "p", "4", "escape")
        assert isinstance(app.screen, BeforeScreen), "only the question was closed"
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, PlansScreen))


async def test_every_page_shows_all_its_keys() -> None:
    async with running(BeforeScreen(FakePreparation())) as (app, pilot):
        await press(pilot, "f1")
        text = text_of(app)
        for words in ("KEYS", "m F4", "other mode", "PgUp PgDn", "F1 ?"):
            assert words in text
        await press(pilot, "escape")
        assert isinstance(app.screen, BeforeScreen)
        assert "PgUp PgDn" not in text_of(app)
        again(app.screen)
        await press(pilot, "?", "c")
        assert "PgUp PgDn" not in text_of(app), "a key closes the help and acts"


async def test_a_plan_that_cannot_be_read_stays_closed() -> None:
    shelf = FakeShelf()
    async with running(PlansScreen(shelf)) as (app, pilot):
        await press(pilot, "up", "enter")
        assert isinstance(app.screen, PlansScreen)
        assert "could be minutes or hours" in text_of(app)
        await press(pilot, "e")
        assert shelf.edited == ["broken"], "its file can be mended all the same"


async def test_an_unfinished_cook_is_taken_up_where_it_stood() -> None:
    async with running(PlansScreen(FakeShelf())) as (app, pilot):
        await press(pilot, "r")
        assert "There is no unfinished cook of this plan." in text_of(app)
        again(app.screen)
        await press(pilot, "down", "r")
        await until(pilot, lambda: isinstance(app.screen, CookScreen))


async def test_before_the_start_everything_can_be_asked_and_set() -> None:
    preparation = FakePreparation()
    async with running(BeforeScreen(preparation), (120, 40)) as (app, pilot):
        text = text_of(app)
        for words in ("READ BEFORE THE FIRST COOK", "No finish to the plate", "17:40, in 8:50",
                      "dish up 18:45", "TO GATHER 1 of 3", "preheat", "38 mm"):  # fmt: skip
            assert words in text
        await press(pilot, "down", "d", "c", "u", "e")
        assert preparation.asked == [
            ("tick", 1), ("press", "chart"), ("press", "unit"), ("edit",),
        ]  # fmt: skip
        for key, kind in (("v", "serve"), ("t", "thermometer")):
            again(app.screen)
            await press(pilot, key, "1", "9", "enter")
            assert preparation.asked[-1] == (kind, "19")


async def test_a_refused_answer_stays_to_be_mended() -> None:
    preparation = FakePreparation(
        replace(BEFORE, message="19 is no time; write 19:00"), takes=False
    )
    async with running(BeforeScreen(preparation)) as (app, pilot):
        await press(pilot, "v", "1", "9", "enter")
        assert "serve  19▏" in text_of(app)
        assert "19 is no time; write 19:00" in text_of(app)
        await press(pilot, "escape")
        assert "19▏" not in text_of(app)


async def test_the_cook_starts_once_and_takes_the_place_of_the_page() -> None:
    preparation = FakePreparation()
    async with running(BeforeScreen(preparation)) as (app, pilot):
        await pilot.press("enter")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, CookScreen))
        assert preparation.asked == [("start",)]


async def test_a_cook_that_cannot_start_leaves_the_page() -> None:
    async with running(BeforeScreen(FakePreparation(starts=False))) as (app, pilot):
        await press(pilot, "f5")
        assert isinstance(app.screen, BeforeScreen)


async def test_the_record_is_written_down() -> None:
    aftermath = FakeAftermath()
    async with running(AfterScreen(aftermath)) as (app, pilot):
        text = text_of(app)
        for words in ("just right", "MET, 168 °F", "carrots 4 min earlier", "never", "+4 min",
                      "leftovers cold by 20:44"):  # fmt: skip
            assert words in text
        await press(pilot, "down", "o", "n", "h", "o", "t", "enter")
        assert aftermath.asked == [("judge", 1, "over"), ("note", "hot", 1)]
        for key, kind in (("c", "change"), ("y", "yield"), ("l", "leftovers")):
            again(app.screen)
            await press(pilot, key, "2", "enter")
            assert aftermath.asked[-1] == (kind, "2", None)
        await press(pilot, "x")
        await until(pilot, lambda: aftermath.closed)
    assert app.return_code == 0


async def test_without_letters_the_function_keys_do() -> None:
    aftermath = FakeAftermath()
    async with running(AfterScreen(aftermath, letters=False)) as (app, pilot):
        await press(pilot, "u", "f6")
        assert aftermath.asked == [("judge", 0, "under")]
        assert "F6 under" in text_of(app)


@pytest.mark.parametrize("make", [PlansScreen, BeforeScreen, AfterScreen])
def test_every_function_of_a_page_has_a_key_that_is_no_letter(make: type[PageScreen]) -> None:
    keys = [key for function in make.KEYS for key in function.keys]
    assert len(keys) == len(set(keys))
    for function in make.KEYS:
        assert any(len(key) > 1 for key in function.keys if key != "space") or "]" in function.keys


async def test_a_click_ticks_off_and_chooses() -> None:
    preparation = FakePreparation()
    async with running(BeforeScreen(preparation), (120, 40)) as (app, pilot):
        lines = text_of(app).splitlines()
        y = next(i for i, line in enumerate(lines) if "600 g carrots" in line)
        await pilot.click(offset=(lines[y].index("600 g"), y))
        assert preparation.asked == [("tick", 1)]
        y = next(i for i, line in enumerate(lines) if "v serve at" in line)
        await pilot.click(offset=(lines[y].index("serve at"), y))
        await until(pilot, lambda: "serve  ▏" in text_of(app))


async def test_a_long_page_scrolls_by_keys_and_wheel() -> None:
    view = replace(BEFORE, table=BEFORE.table * 6)
    async with running(BeforeScreen(FakePreparation(view))) as (app, pilot):
        assert "more lines: PgDn" in text_of(app)
        await press(pilot, *["pagedown"] * 6)
        assert "more lines: PgDn" not in text_of(app)
        assert "more lines: PgUp" in text_of(app)
        assert "Tray supper (invented)" in text_of(app)
        await press(pilot, *["pageup"] * 6)
        assert "READ BEFORE" in text_of(app)


@pytest.mark.parametrize("helping", [False, True])
async def test_the_end_of_a_page_is_its_end_and_never_closes_it(helping: bool) -> None:
    view = replace(BEFORE, table=BEFORE.table * 6)
    preparation = FakePreparation(view)
    async with running(BeforeScreen(preparation), (80, 16)) as (app, pilot):
        await press(pilot, *["f1"] * helping)
        first = text_of(app)
        assert "more lines: PgDn" in first
        await press(pilot, "end")
        assert "more lines: PgDn" not in text_of(app)
        assert "more lines: PgUp" in text_of(app)
        await press(pilot, "home")
        assert text_of(app) == first
        assert not preparation.closed
        await press(pilot, "f2")
        await until(pilot, lambda: preparation.closed)


async def test_in_a_question_home_and_end_move_in_what_is_typed() -> None:
    preparation = FakePreparation()
    async with running(BeforeScreen(preparation)) as (app, pilot):
        await press(pilot, "v", "8", "home", "1", "end", "5")
        assert "serve  185▏" in text_of(app)
        assert not preparation.closed


async def test_the_cautions_are_what_a_first_cook_sees_first() -> None:
    view = replace(BEFORE, gather=BEFORE.gather * 8)
    async with running(BeforeScreen(FakePreparation(view))) as (app, pilot):
        assert "READ BEFORE THE FIRST COOK" in text_of(app)
        await press(pilot, "down")
        assert "▸" in text_of(app)


async def test_what_an_answer_leads_to_is_in_sight_and_a_question_can_be_read_about() -> None:
    view = replace(BEFORE, gather=BEFORE.gather * 8)
    async with running(BeforeScreen(FakePreparation(view, takes=False))) as (app, pilot):
        await press(pilot, "down", "up", "up")
        assert "READ BEFORE" not in text_of(app)
        await press(pilot, "m", "1", "enter")
        assert "READ BEFORE THE FIRST COOK" in text_of(app)
        await press(pilot, "pagedown")
        assert "more lines: PgUp" in text_of(app)
        assert "other mode today  1▏" in text_of(app)


async def test_what_more_people_lead_to_is_in_sight_with_what_is_wrong_with_it() -> None:
    layer = "the tray of oven: 3413 cm² of squash at once, and it has 1485, more than one layer"
    ways = tuple(f"way {n}: on a second tray, swap the trays halfway" for n in (1, 2))
    view = replace(
        BEFORE,
        cautions=("A line to be read before the first cook.",) * 11,
        amounts=("Amounts are for 8 instead of 3.",),
        problems=(layer, *ways),
    )
    async with running(BeforeScreen(FakePreparation(view))) as (app, pilot):
        assert "way 2: on a second tray" not in text_of(app)
        await press(pilot, "p", "8", "enter")
        seen = text_of(app)
        assert "Amounts are for 8 instead of 3." in seen
        assert "more than one layer" in seen
        assert "way 2: on a second tray" in seen


async def test_the_thing_chosen_is_kept_in_sight() -> None:
    view = replace(BEFORE, gather=tuple(replace(BEFORE.gather[1], text=f"thing {n}")
                                        for n in range(40)))  # fmt: skip
    async with running(BeforeScreen(FakePreparation(view))) as (app, pilot):
        for n in (1, 2, 3):
            await press(pilot, "down")
            assert f"▸[ ] thing {n} " in text_of(app)
        await press(pilot, "up", "up", "up", "up")
        assert "▸[ ] thing 39 " in text_of(app)


async def test_a_fault_of_the_plan_is_a_line() -> None:
    class Failing(FakePreparation):
        def tick_off(self, item: int) -> None:
            raise OSError("no disk")

    async with running(BeforeScreen(Failing())) as (app, pilot):
        await press(pilot, "d")
        await until(pilot, lambda: "OSError no disk" in text_of(app))


async def test_pasted_text_goes_only_into_a_question() -> None:
    aftermath = FakeAftermath(AFTER)
    async with running(AfterScreen(aftermath)) as (app, pilot):
        app.screen.post_message(Paste("nothing"))
        await press(pilot, "n")
        app.screen.post_message(Paste("two\nlines"))
        await press(pilot, "enter")
        assert aftermath.asked == [("note", "two lines", 0)]


async def test_what_was_said_once_stands_until_the_next_key() -> None:
    class Once(FakePreparation):
        def look(self) -> BeforeView:
            said, self.view = self.view, replace(self.view, message="")
            return said

    preparation = Once(starts=False)
    async with running(BeforeScreen(preparation)) as (app, pilot):
        preparation.view = replace(BEFORE, message="The meal cannot be on the table by then.")
        screen = app.screen
        assert isinstance(screen, BeforeScreen)
        for _ in range(3):
            screen._look()
        await pilot.pause()
        assert "cannot be on the table by then" in text_of(app)
        await press(pilot, "down")
        assert "cannot be on the table by then" not in text_of(app)
