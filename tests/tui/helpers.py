"""Running the screens in tests."""

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from typing import Any

from textual.pilot import Pilot
from textual.screen import Screen

from passbell.tui.app import PassbellApp
from passbell.tui.guard import CHORD, REPEAT
from passbell.tui.screens.cook import CookScreen
from passbell.tui.theme import Look
from tests.tui.sample import FakeDesk

Size = tuple[int, int]
SIZES: tuple[Size, ...] = ((80, 24), (120, 40), (40, 12), (20, 5))


@asynccontextmanager
async def running(
    screen: Screen[Any], size: Size = (80, 24), look: Look = "dark", **settings: Any
) -> AsyncIterator[tuple[PassbellApp, Pilot[None]]]:
    """The application with this screen, drawn once."""
    app = PassbellApp(look=look, env=settings.pop("env", {}),
                      colours=settings.pop("colours", "truecolor"), **settings)  # fmt: skip
    app.start_with(screen)
    async with app.run_test(size=size, notifications=True, tooltips=True) as pilot:
        await pilot.pause()
        yield app, pilot


@asynccontextmanager
async def cooking(
    desk: FakeDesk, size: Size = (80, 24), look: Look = "dark", **settings: Any
) -> AsyncIterator[tuple[PassbellApp, Pilot[None]]]:
    """The cook screen on a fake desk, which is looked at only when a test says so."""
    far = settings.pop("far", False)
    async with running(CookScreen(desk, 3600.0, far), size, look, **settings) as both:
        yield both


async def resized(pilot: Pilot[None], size: Size) -> None:
    """Give the terminal another size, and wait until all is drawn for it."""
    if pilot.app.size != size:
        await pilot.resize_terminal(*size)
        await pilot.pause()
        await pilot.pause()


async def until(pilot: Pilot[None], true: Callable[[], bool]) -> None:
    """Wait for something to become true; it never waits for a fixed time."""
    for _ in range(300):
        if true():
            return
        await pilot.pause(0.01)
    raise AssertionError("it never became true")


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys far enough apart to be meant, and wait for what they do."""
    for key in keys:
        await pilot.press(key)
        await pilot.pause(CHORD + 0.03)


def again(screen: Screen[Any]) -> None:
    """Forget when keys were last pressed: as if a while had gone by."""
    holder: Any = getattr(screen, "_listener", screen)
    guard = holder._guard
    guard._last.clear()
    guard._latest -= REPEAT


def cook(app: object) -> CookScreen:
    """The cook screen the application is on."""
    screen = app.screen  # type: ignore[attr-defined]
    assert isinstance(screen, CookScreen)
    return screen
