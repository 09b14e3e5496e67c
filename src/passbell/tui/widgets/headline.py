"""The top line: clock, dish-up time, title, and what must be known about the sound."""

from typing import NamedTuple

from passbell.tui.paint import Line, Run, crop, cut, minutes_off, span, spread, width_of
from passbell.tui.views.model import CookView, DishUp
from passbell.tui.widgets.painted import Painted


class HeadPart(NamedTuple):
    """What the top line shows of the whole view."""

    title: str
    clock: str
    dish_up: DishUp
    sound: str
    volume: str
    quiet: int | None
    rehearsal: float | None
    odds: str


def head_part(view: CookView) -> HeadPart:
    """The part of the view that the top line shows."""
    return HeadPart(
        view.title,
        view.clock,
        view.dish_up,
        view.sound,
        view.volume,
        view.quiet,
        view.rehearsal,
        view.odds[0] if view.odds else "",
    )


class HeadLine(Painted):
    """Clock, dish-up time and title."""

    def __init__(self) -> None:
        super().__init__("head")
        self._part: HeadPart | None = None

    def show(self, part: HeadPart) -> None:
        """Show this part of the view."""
        if part != self._part:
            self._part = part
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The one line."""
        return [draw_head(self._part, width)] if self._part else []


def draw_head(part: HeadPart, width: int) -> Line:
    """Clock, flags and dish-up time at the left, the title at the right where there is room."""
    if width < 60:
        expected = (Run(part.dish_up.expected, "head.strong"), Run(" ", "head"))
        return spread(_clock(part, _flags(part)), expected, width, "head")
    left = _left(part, width - 1)
    room = width - width_of(left) - 3
    volume = part.volume if len(part.volume) <= room else ""
    room -= len(volume) + 2 if volume else 0
    title = (Run(f"{cut(part.title, room)} ", "head"),) if room >= 8 else ()
    loud = (Run(f" {volume} ", "soft", "key:volume"),) if volume else ()
    return spread(left, (*title, *loud), width, "head")


def _clock(part: HeadPart, flags: list[str]) -> Line:
    return (
        Run("   ", "head"),
        Run(part.clock, "head.strong"),
        Run("  ", "head"),
        *(run for flag in flags for run in (Run(f" {flag} ", "picked"), Run("  ", "head"))),
    )


def _left(part: HeadPart, width: int) -> Line:
    """Clock, flags and dish-up time: the flags are shortened before the time is cut."""
    flags = _flags(part)
    short = [flag.removeprefix("rehearsal ").removeprefix("sound: ") for flag in flags]
    dish_up = _short_dish_up(part.dish_up)
    odds = (Run(f", {part.odds}", "head"),) if part.odds else ()
    if width_of((*_clock(part, flags), *dish_up, *odds)) <= width:
        return (*_clock(part, flags), *dish_up, *odds)
    for clock in (_clock(part, flags), _clock(part, short)):
        if width_of((*clock, *dish_up[:3])) <= width:
            return crop((*clock, *dish_up), width)
    return (*_clock(part, short), *_least_dish_up(part.dish_up))


def _least_dish_up(dish: DishUp) -> Line:
    off = (Run(f" {_off(dish)}", "off"),) if dish.minutes else ()
    return (Run("dish up ", "head"), Run(dish.expected, "head.strong"), *off)


def _off(dish: DishUp) -> str:
    """How far off the plan, by the times shown."""
    return minutes_off(dish.minutes * 60)


def _flags(part: HeadPart) -> list[str]:
    flags = [] if part.rehearsal is None else [f"rehearsal ×{part.rehearsal:g}"]
    if part.quiet is not None:
        flags.append(f"quiet {span(part.quiet)}")
    return [*flags, *([part.sound] if part.sound else [])]


def _short_dish_up(dish: DishUp) -> Line:
    if not dish.minutes:
        return (Run(f"dish up {dish.planned} as planned", "head"),)
    reason = f": {dish.reason}" if dish.reason else ""
    return (
        Run(f"dish up {dish.planned}, {'served' if dish.served else 'now'} ", "head"),
        Run(dish.expected, "head.strong"),
        Run(f" {_off(dish)}", "off"),
        Run(reason, "head"),
    )


class DishUpLine(Painted):
    """The dish-up time at length, and the last acts, where there is room."""

    def __init__(self) -> None:
        super().__init__("side")
        self._shown: tuple[DishUp, tuple[str, ...], tuple[str, ...]] | None = None

    def show(self, dish: DishUp, steps_back: tuple[str, ...], odds: tuple[str, ...] = ()) -> None:
        """Show this dish-up time, these acts, newest first, and the odds in lines."""
        if (dish, steps_back, odds) != self._shown:
            self._shown = (dish, steps_back, odds)
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room."""
        if self._shown is None:
            return []
        dish, acts, odds = self._shown
        return draw_side(dish, acts, odds, width, height)


def draw_side(
    dish: DishUp,
    steps_back: tuple[str, ...],
    odds: tuple[str, ...],
    width: int,
    height: int,
) -> list[Line]:
    """Dish-up time, then the acts that can be taken back; the odds stand in for the oldest.

    Args:
        dish: the dish-up time.
        steps_back: the acts, newest first.
        odds: the texts of the odds; may be none.
        width: how many cells a line has.
        height: how many lines there are.
    """
    off = (Run(f"  {_off(dish)}", "off" if dish.minutes else "soft"),)
    lines: list[Line] = [
        (Run(" "), Run("DISH UP ", "soft"), Run(dish.expected, "strong"),
         Run(f", in {span(dish.expected_in)}" if dish.expected_in > 0 else ""), *off),
    ]  # fmt: skip
    lines.append((Run(f"         planned {dish.planned}", "soft"),
                  Run(f", {dish.reason}" if dish.reason else "", "plain")))  # fmt: skip
    last = _odds_lines(odds, width)
    last = last if height > len(lines) + len(last) else []
    room = max(0, height - len(lines) - len(last))
    lines += _marked("LAST", steps_back[:room])
    lines += [(Run(""),)] * (height - len(lines) - len(last)) if last else []
    return [*lines, *last]


def _odds_lines(odds: tuple[str, ...], width: int) -> list[Line]:
    if not odds:
        return []
    chance, late, hangs, *_ = odds
    texts = (f"{chance}, {late}" if late else chance, hangs)
    return _marked("ODDS", tuple(cut(text, max(1, width - 10)) for text in texts))


def _marked(mark: str, texts: tuple[str, ...]) -> list[Line]:
    marks = [f"    {mark} ", *(["         "] * len(texts))]
    return [(Run(m, "soft"), Run(t, "plain")) for m, t in zip(marks, texts, strict=False)]
