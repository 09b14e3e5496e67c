import re

import pytest
from rich.color import Color as RichColor
from rich.color import ColorSystem
from rich.style import Style
from rich.terminal_theme import (
    DEFAULT_TERMINAL_THEME,
    MONOKAI,
    TerminalTheme,
)

from passbell.tui.screens.after import AfterScreen
from passbell.tui.screens.before import BeforeScreen
from passbell.tui.screens.cook import CookScreen
from passbell.tui.screens.plans import PlansScreen
from passbell.tui.theme import COLOURLESS, DARK, LIGHT, SIXTEEN, Look, Palette, palette
from passbell.tui.widgets.now import NowPanel
from tests.tui.helpers import cooking, running
from tests.tui.sample import VIEWS, FakeDesk
from tests.tui.sample_pages import FakeAftermath, FakePreparation, FakeShelf
from tests.tui.snapshots import cells_of, text_of

# Okabe and Ito, "Color Universal Design" (2002), the palette's eight colours.
OKABE_ITO = {"#000000", "#E69F00", "#56B4E9", "#009E73", "#F0E442", "#0072B2", "#D55E00", "#CC79A7"}
# The sixteen colours of a graphics adapter in text mode, from memory.
TEXT_MODE = TerminalTheme(
    (0, 0, 0),
    (170, 170, 170),
    [(0, 0, 0), (170, 0, 0), (0, 170, 0), (170, 85, 0), (0, 0, 170), (170, 0, 170), (0, 170, 170),
     (170, 170, 170)],
    [(85, 85, 85), (255, 85, 85), (85, 255, 85), (255, 255, 85), (85, 85, 255), (255, 85, 255),
     (85, 255, 255), (255, 255, 255)],
)  # fmt: skip
DARKENED = {"#8A5F00", "#006B4E", "#8E4A70", "#A34700"}


def luminance(color: RichColor) -> float:
    """Relative luminance: W3C, Web Content Accessibility Guidelines 2.2, definition."""

    def linear(part: int) -> float:
        share = part / 255
        return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)

    red, green, blue = (linear(part) for part in color.get_truecolor())
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(style: Style) -> float:
    """Contrast ratio: W3C, Web Content Accessibility Guidelines 2.2, definition."""
    assert style.color is not None
    assert style.bgcolor is not None
    front, ground = style.color, style.bgcolor
    if style.reverse:
        front, ground = ground, front
    high, low = sorted((luminance(front), luminance(ground)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_formula_on_the_published_ends() -> None:
    # W3C, WCAG 2.2: contrast goes from 1:1 (no difference) to 21:1 (black on white).
    assert contrast(Style.parse("#000000 on #ffffff")) == pytest.approx(21.0)
    assert contrast(Style.parse("#777777 on #777777")) == pytest.approx(1.0)
    # W3C, "Understanding 1.4.3": #767676 on white is the lightest grey that passes 4.5:1.
    assert contrast(Style.parse("#767676 on #ffffff")) == pytest.approx(4.54, abs=0.01)


def shown(text: str) -> bool:
    return bool(text.strip())


@pytest.mark.parametrize("look", ["dark", "light"])
async def test_contrast_of_every_cell_of_the_cook_screen(look: Look) -> None:
    desk = FakeDesk()
    async with cooking(desk, (120, 40), look) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, CookScreen)
        for desk.view in VIEWS.values():
            screen._look()
            await pilot.pause()
            for text, style in cells_of(app):
                if shown(text):
                    assert contrast(style) >= 4.5, (text, str(style))
            now = app.screen.query_one(NowPanel)
            for y in range(now.size.height):
                for segment in now.render_line(y):
                    if shown(segment.text) and segment.style is not None:
                        assert contrast(segment.style) >= 7.0, (segment.text, str(segment.style))


@pytest.mark.parametrize("look", ["dark", "light"])
async def test_no_cell_is_left_in_the_colours_of_another_look(look: Look) -> None:
    palette_of = {"dark": DARK, "light": LIGHT}[look]
    grounds = {style.bgcolor for style in palette_of.styles.values()}
    async with cooking(FakeDesk(VIEWS["below"]), (120, 40), look) as (app, pilot):
        assert {style.bgcolor for _, style in cells_of(app)} <= grounds
        await pilot.press("k")
        await pilot.pause(0.2)
        other = {"dark": LIGHT, "light": DARK}[look]
        after = {style.bgcolor for _, style in cells_of(app)}
        assert after <= {style.bgcolor for style in other.styles.values()}


@pytest.mark.parametrize("look", ["dark", "light"])
async def test_contrast_of_the_pages(look: Look) -> None:
    for screen in (
        PlansScreen(FakeShelf()),
        BeforeScreen(FakePreparation()),
        AfterScreen(FakeAftermath()),
    ):
        async with running(screen, (120, 40), look) as (app, pilot):
            await pilot.press("f8")
            await pilot.pause(0.1)
            for text, style in cells_of(app):
                assert not shown(text) or contrast(style) >= 4.5, (text, str(style))


@pytest.mark.parametrize("looks", [DARK, LIGHT])
def test_every_role_keeps_its_contrast(looks: Palette) -> None:
    for role, style in looks.styles.items():
        of_now = role.startswith("now") and role != "nowline"
        need = 7.0 if of_now or role.split(".")[0] in {"due", "late"} else 4.5
        assert contrast(style) >= need, role


def test_all_palettes_know_the_same_roles() -> None:
    assert set(DARK.looks) == set(LIGHT.looks) == set(SIXTEEN.looks) == set(COLOURLESS.looks)


def test_the_colours_are_okabe_and_ito_and_greys() -> None:
    for looks in (DARK, LIGHT):
        for colour in re.findall(r"#\w{6}", " ".join(looks.looks.values())):
            red, green, blue = colour[1:3], colour[3:5], colour[5:7]
            assert colour in OKABE_ITO | DARKENED or red == green == blue, colour


@pytest.mark.parametrize("theme", [DEFAULT_TERMINAL_THEME, MONOKAI, TEXT_MODE])
def test_sixteen_colours_keep_their_contrast_on_common_consoles(theme: TerminalTheme) -> None:
    # A console's own colours vary; two tables that rich ships, and that of the text mode.
    for role, style in SIXTEEN.styles.items():
        assert style.color is not None
        assert style.bgcolor is not None
        assert {style.color.type.name, style.bgcolor.type.name} == {"STANDARD"}
        front = RichColor.from_triplet(style.color.get_truecolor(theme))
        ground = RichColor.from_triplet(style.bgcolor.get_truecolor(theme, foreground=False))
        pair = Style.from_color(front, ground)
        assert contrast(pair) >= 4.5, (role, theme)


def test_which_palette_a_terminal_gets() -> None:
    assert palette("dark", "truecolor", None) is DARK
    assert palette("light", "256", None) is LIGHT
    assert palette("light", "standard", None) is SIXTEEN
    assert palette("dark", "truecolor", "1") is COLOURLESS
    assert palette("dark", "truecolor", "") is DARK
    assert palette("dark", None, None) is COLOURLESS


async def test_no_colour_sends_not_one_colour() -> None:
    async with cooking(FakeDesk(VIEWS["below"]), env={"NO_COLOR": "1"}) as (app, _):
        for _, style in cells_of(app):
            assert style.color is None or style.color.is_default
            assert style.bgcolor is None or style.bgcolor.is_default
            codes = style.render("x", color_system=ColorSystem.TRUECOLOR)
            assert not re.search(r"\x1b\[[0-9;]*[34][0-8]", codes)
        assert app.looks is COLOURLESS


async def test_an_empty_no_color_counts_for_nothing() -> None:
    async with cooking(FakeDesk(), env={"NO_COLOR": ""}) as (app, _):
        assert app.looks is DARK


async def test_sixteen_colour_terminals_get_their_own_codes() -> None:
    async with cooking(FakeDesk(VIEWS["late"]), colours="standard") as (app, _):
        assert app.looks is SIXTEEN
        kinds = {s.color.type.name for t, s in cells_of(app) if shown(t) and s.color is not None}
        assert kinds <= {"STANDARD", "DEFAULT"}


@pytest.mark.parametrize("name", ["coming", "due", "late", "below", "resting", "pending", "away"])
async def test_words_and_signs_carry_all_without_colour(name: str) -> None:
    async with cooking(FakeDesk(VIEWS[name]), env={"NO_COLOR": "1"}) as (app, _):
        text = text_of(app)
    words = {
        "coming": ["ADD green beans", "in 4:10", "FREE 4:10"],
        "due": ["DUE 0:40 ago, seen", "BUSY"],
        "late": ["DUE 1:40 ago, LATE"],
        "below": ["▼ BELOW", "▸!"],
        "resting": ["▲ MET", "rest 2:10 more"],
        "pending": ["oven stage roast: +3 min", "! lengthens crisp"],
        "away": ["AWAY, gone 1:35", "you were: trimming"],
    }[name]
    for word in words:
        assert word in text
