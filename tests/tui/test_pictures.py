"""Every screen as a picture, and the four of the tour in the README: a real plan really cooked."""

import contextlib
import re
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from passbell.clock import HandClock
from passbell.journal import Journal
from passbell.planfiles import find_plan
from passbell.tui.live import LiveDesk
from passbell.tui.live_before import LivePreparation
from passbell.tui.screens.after import AfterScreen
from passbell.tui.screens.before import BeforeScreen
from passbell.tui.screens.cook import CookScreen
from passbell.tui.screens.plans import PlansScreen
from passbell.tui.screens.revise import ReviseScreen
from passbell.tui.screens.runs import RunsScreen
from tests.tui.helpers import press, resized, running
from tests.tui.pictures import FOLDER, check_picture
from tests.tui.real_cook import HALF_PAST_FIVE, RealCook
from tests.tui.sample import COMING, FakeDesk
from tests.tui.sample_pages import (
    FakeAftermath,
    FakePreparation,
    FakeRecords,
    FakeRevising,
    FakeShelf,
)

SCREENS: dict[str, Callable[[], Any]] = {
    "plans": lambda: PlansScreen(FakeShelf()),
    "before": lambda: BeforeScreen(FakePreparation()),
    "cook": lambda: CookScreen(FakeDesk(replace(COMING, volume="sound 4/4")), 3600.0),
    "after": lambda: AfterScreen(FakeAftermath()),
    "runs": lambda: RunsScreen(FakeRecords()),
    "revise": lambda: ReviseScreen(FakeRevising()),
}
README = Path(__file__).parents[2] / "README.md"


@pytest.fixture(autouse=True)
def _same_time_everywhere(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    with monkeypatch.context() as here:
        here.setenv("TZ", "UTC")
        time.tzset()
        yield
    time.tzset()


@pytest.mark.parametrize("name", SCREENS)
async def test_every_screen_is_the_picture_it_was(name: str) -> None:
    async with running(SCREENS[name](), (80, 24)) as (_, pilot):
        for size in ((80, 24), (120, 40)):
            await resized(pilot, size)
            await check_picture(f"{name}_{size[0]}x{size[1]}", pilot)


async def shown(cook: RealCook, name: str, *keys: str) -> None:
    """The cook screen of a real cook, after these keys."""
    screen = CookScreen(Quietly(cook.desk), 3600.0)
    async with running(screen, (80, 24)) as (_, pilot):
        await press(pilot, *keys)
        await check_picture(name, pilot)


class Quietly:
    """A real desk that has its sound: what the screen says when there is none is not the point."""

    def __init__(self, desk: LiveDesk) -> None:
        self._desk = desk

    def tick(self) -> Any:
        return replace(self._desk.tick(), sound="", volume="sound 4/4", notices=())

    def __getattr__(self, name: str) -> Any:
        return getattr(self._desk, name)


async def test_tour_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    with Journal.open() as journal:
        found = LivePreparation(find_plan("tray-supper"), journal, lambda session: FakeDesk())
        with contextlib.closing(found):
            monkeypatch.setattr(found, "_clock", HandClock(utc=HALF_PAST_FIVE))
            assert found.ask("serve", "18:45")
            view = replace(found.look(), cautions=(), problems=())
    async with running(BeforeScreen(FakePreparation(view)), (80, 24)) as (_, pilot):
        await check_picture("tour_before", pilot)


async def test_tour_now() -> None:
    await shown(RealCook().to(1760), "tour_now")


async def test_tour_longer() -> None:
    await shown(RealCook().to(2120), "tour_longer", "+")


async def test_tour_probe() -> None:
    cook = RealCook().to(2700, probing=False)
    await shown(cook, "tour_probe", *"1 158", "enter")


def test_the_readme_shows_four_pictures_that_are_here() -> None:
    linked = re.findall(r"\]\((tests/tui/pictures/[^)]+)\)", README.read_text(encoding="utf-8"))
    assert len(linked) == 4
    assert all((README.parent / path).is_file() for path in linked)


def test_a_picture_is_well_formed_and_asks_for_nothing_from_outside() -> None:
    pictures = sorted(FOLDER.glob("*.svg"))
    assert {path.stem.split("_")[0] for path in pictures} == {*SCREENS, "tour"}
    for path in pictures:
        text = path.read_text(encoding="utf-8")
        ET.fromstring(text)
        assert text.count("http") == 1, "the name of the format only"
