"""How each role looks: dark, light, sixteen colours, none.

The colours are the eight of Okabe and Ito, "Color Universal Design" (University of Tokyo and
Jikei University, 2002), with neutral greys. Text on its ground keeps a contrast of 4.5:1 at
least, in Now 7:1 (W3C, Web Content Accessibility Guidelines 2.2, 1.4.3 and 1.4.6). A colour is
never alone: a word, a shape and a place say the same.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from rich.style import Style
from textual.theme import Theme

BLACK, ORANGE, SKY, GREEN = "#000000", "#E69F00", "#56B4E9", "#009E73"
YELLOW, BLUE, VERMILION, PURPLE = "#F0E442", "#0072B2", "#D55E00", "#CC79A7"
DEEP_ORANGE, DEEP_GREEN, DEEP_PURPLE, DEEP_VERMILION = "#8A5F00", "#006B4E", "#8E4A70", "#A34700"
"""Four of the colours darkened for text on white, hue kept; signs tell them apart as well."""

Look = Literal["dark", "light"]

_DARK: dict[str, str] = {
    "plain": "#E4E4E4 on #0B0B0B",
    "soft": "#A8A8A8 on #0B0B0B",
    "strong": "bold #FFFFFF on #0B0B0B",
    "head": "#E4E4E4 on #0B0B0B",
    "head.strong": "bold #FFFFFF on #0B0B0B",
    "now": "#F2F2F2 on #1B1B1B",
    "now.soft": "#BDBDBD on #1B1B1B",
    "now.strong": "bold #FFFFFF on #1B1B1B",
    "now.digits": "#FFFFFF on #1B1B1B",
    "now.letters": "#FFFFFF on #1B1B1B",
    "due.letters": f"{YELLOW} on #1B1B1B",
    "late.letters": f"{ORANGE} on #1B1B1B",
    "now.edge": f"{SKY} on #1B1B1B",
    "now.next": f"{SKY} on #1B1B1B",
    "due": f"bold {BLACK} on {YELLOW}",
    "due.digits": f"{YELLOW} on #1B1B1B",
    "late": f"bold {BLACK} on {ORANGE}",
    "late.digits": f"{ORANGE} on #1B1B1B",
    "now.change": f"bold {BLACK} on {SKY}",
    "now.by": f"{SKY} on #1B1B1B",
    "hot": f"{ORANGE} on #0B0B0B",
    "prep": f"{SKY} on #0B0B0B",
    "cook": f"{ORANGE} on #0B0B0B",
    "rest": f"{GREEN} on #0B0B0B",
    "hold": f"{PURPLE} on #0B0B0B",
    "finish": f"{YELLOW} on #0B0B0B",
    "preheat": f"{VERMILION} on #0B0B0B",
    "stage": f"{ORANGE} on #0B0B0B",
    "tick": "bold #FFFFFF on #0B0B0B",
    "nowline": "#C8C8C8 on #0B0B0B",
    "off": f"{YELLOW} on #0B0B0B",
    "alert": f"bold {BLACK} on {YELLOW}",
    "picked": f"bold {BLACK} on {SKY}",
    "raw": f"bold {BLACK} on {VERMILION}",
    "free": f"bold {GREEN} on #0B0B0B",
    "busy": f"bold {YELLOW} on #0B0B0B",
    "box": "#E4E4E4 on #161616",
    "box.soft": "#ACACAC on #161616",
    "box.strong": "bold #FFFFFF on #161616",
    "box.typed": f"bold {BLACK} on #F2F2F2",
    "met": f"bold {BLACK} on {GREEN}",
    "below": f"bold {BLACK} on {YELLOW}",
    "key": f"bold {SKY} on #0B0B0B",
    "key.name": "#B4B4B4 on #0B0B0B",
    "notice": f"{BLACK} on #D0D0D0",
    "fault": f"bold {BLACK} on {ORANGE}",
    "over": "#F2F2F2 on #222222",
    "over.soft": "#BDBDBD on #222222",
    "over.strong": "bold #FFFFFF on #222222",
    "over.key": f"bold {SKY} on #222222",
}

_LIGHT: dict[str, str] = {
    "plain": "#1A1A1A on #FFFFFF",
    "soft": "#595959 on #FFFFFF",
    "strong": "bold #000000 on #FFFFFF",
    "head": "#1A1A1A on #FFFFFF",
    "head.strong": "bold #000000 on #FFFFFF",
    "now": "#000000 on #F0F0F0",
    "now.soft": "#404040 on #F0F0F0",
    "now.strong": "bold #000000 on #F0F0F0",
    "now.digits": "#000000 on #F0F0F0",
    "now.letters": "#000000 on #F0F0F0",
    "due.letters": "#000000 on #F0F0F0",
    "late.letters": "#000000 on #F0F0F0",
    "now.edge": f"{BLACK} on #F0F0F0",
    "now.next": "bold #000000 on #F0F0F0",
    "due": f"bold {BLACK} on {YELLOW}",
    "due.digits": f"{BLACK} on {YELLOW}",
    "late": f"bold {BLACK} on {ORANGE}",
    "late.digits": f"{BLACK} on {ORANGE}",
    "now.change": f"bold {BLACK} on {SKY}",
    "now.by": f"{BLACK} on #F0F0F0",
    "hot": f"{DEEP_ORANGE} on #FFFFFF",
    "prep": f"{BLUE} on #FFFFFF",
    "cook": f"{DEEP_ORANGE} on #FFFFFF",
    "rest": f"{DEEP_GREEN} on #FFFFFF",
    "hold": f"{DEEP_PURPLE} on #FFFFFF",
    "finish": "#1A1A1A on #FFFFFF",
    "preheat": f"{DEEP_VERMILION} on #FFFFFF",
    "stage": f"{DEEP_ORANGE} on #FFFFFF",
    "tick": "bold #000000 on #FFFFFF",
    "nowline": "#404040 on #FFFFFF",
    "off": f"{BLACK} on {YELLOW}",
    "alert": f"bold {BLACK} on {YELLOW}",
    "picked": f"bold {BLACK} on {SKY}",
    "raw": f"bold {BLACK} on {VERMILION}",
    "free": f"bold {DEEP_GREEN} on #FFFFFF",
    "busy": f"bold {BLACK} on {YELLOW}",
    "box": "#1A1A1A on #F4F4F4",
    "box.soft": "#505050 on #F4F4F4",
    "box.strong": "bold #000000 on #F4F4F4",
    "box.typed": "bold #FFFFFF on #1A1A1A",
    "met": f"bold {BLACK} on {GREEN}",
    "below": f"bold {BLACK} on {YELLOW}",
    "key": f"bold {BLUE} on #FFFFFF",
    "key.name": "#505050 on #FFFFFF",
    "notice": "#FFFFFF on #404040",
    "fault": f"bold {BLACK} on {ORANGE}",
    "over": "#000000 on #EAEAEA",
    "over.soft": "#404040 on #EAEAEA",
    "over.strong": "bold #000000 on #EAEAEA",
    "over.key": "bold #000000 on #EAEAEA",
}

_STRONG = {"strong", "head.strong", "now.strong", "box.strong", "over.strong", "tick", "now.digits"}
_FILLED = {"due", "alert", "picked", "met", "below", "notice", "now.change", "box.typed"}
_WARNED = {"late", "raw", "fault"}
_TINTED = {"key": "bold bright_cyan", "over.key": "bold bright_cyan", "prep": "bright_cyan"}
_TINTED |= {"cook": "bright_yellow", "stage": "bright_yellow", "hot": "bright_yellow"}
_TINTED |= {"rest": "bright_green", "free": "bold bright_green", "hold": "bright_white"}
_TINTED |= {"due.digits": "bold bright_yellow", "late.digits": "bold bright_white"}
_TINTED |= {"due.letters": "bright_yellow", "late.letters": "bright_white"}
_TINTED |= {"now.edge": "bright_cyan", "now.by": "bright_cyan", "now.next": "bright_cyan"}
_TINTED |= {"busy": "bold bright_yellow"}


def _sixteen(role: str) -> str:
    """Bright on black, which every console keeps apart whatever its sixteen colours are."""
    if role in _FILLED:
        return (
            "bold black on bright_yellow"
            if role in {"due", "alert", "below"}
            else ("bold black on bright_white")
        )
    if role in _WARNED:
        return "bold underline black on bright_white"
    if role in _STRONG:
        return "bold bright_white on black"
    return f"{_TINTED.get(role, 'white')} on black"


def _colourless(role: str) -> str:
    """Weight, reverse and underline only, in the terminal's own two colours."""
    if role in _FILLED:
        return "bold reverse"
    if role in _WARNED:
        return "bold underline reverse"
    if role in _STRONG or role in {"key", "over.key", "due.digits", "late.digits", "busy"}:
        return "bold"
    return ""


@dataclass(frozen=True)
class Palette:
    """The looks of all roles.

    Attributes:
        name: "dark", "light", "sixteen" or "none".
        looks: a style for each role, as text.
        coloured: whether it uses colours at all.
    """

    name: str
    looks: Mapping[str, str]
    coloured: bool = True

    @cached_property
    def styles(self) -> dict[str, Style]:
        """The looks, parsed."""
        return {role: Style.parse(look or "default") for role, look in self.looks.items()}

    def style(self, role: str) -> Style:
        """The look of a role; an unknown one looks plain."""
        return self.styles.get(role, self.styles["plain"])


DARK = Palette("dark", _DARK)
LIGHT = Palette("light", _LIGHT)
SIXTEEN = Palette("sixteen", {role: _sixteen(role) for role in _DARK})
COLOURLESS = Palette("none", {role: _colourless(role) for role in _DARK}, coloured=False)


def palette(look: Look, colours: str | None, no_colour: str | None) -> Palette:
    """The palette for a terminal.

    Args:
        look: the cook's choice.
        colours: the terminal's colours as rich names them ("standard", "256", "truecolor");
            None: it has none.
        no_colour: the value of NO_COLOR; it counts when set and not empty (no-color.org).
    """
    if no_colour or colours is None:
        return COLOURLESS
    if colours in ("standard", "windows"):
        return SIXTEEN
    return DARK if look == "dark" else LIGHT


def _theme(look: Look, looks: Mapping[str, str]) -> Theme:
    text, ground = looks["plain"].split(" on ")
    return Theme(
        name=f"passbell-{look}",
        primary=BLUE,
        secondary=SKY,
        warning=ORANGE,
        error=VERMILION,
        success=GREEN,
        accent=YELLOW,
        foreground=text,
        background=ground,
        surface=ground,
        panel=ground,
        dark=look == "dark",
    )


THEMES = {"dark": _theme("dark", _DARK), "light": _theme("light", _LIGHT)}
"""Textual's own two themes, for the ground between our widgets."""
