"""The hands: how long she may leave, and what to prepare meanwhile."""

from passbell.tui.paint import Line, Run, span, spread, squeezed, wrap
from passbell.tui.views.model import Hands
from passbell.tui.widgets.painted import Painted


class HandsLine(Painted):
    """One figure always: how long the hands are free."""

    def __init__(self) -> None:
        super().__init__("hands")
        self._hands: Hands | None = None

    def show(self, hands: Hands) -> None:
        """Show these hands."""
        if hands != self._hands:
            self._hands = hands
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room."""
        return draw_hands(self._hands, width, height) if self._hands else []


def draw_hands(hands: Hands, width: int, height: int) -> list[Line]:
    """The hands in so many cells: the figure first, then what to prepare, then the slack."""
    first = (Run("   "), Run("HANDS ", "soft"), *_figure(hands))
    slack: Line = (Run(f"slack {span(hands.slack)} ", "soft"),)
    prepare = _prepare(hands, width, max(1, height - 1))
    if width < 60:
        slack = ()
    if height == 1:
        line = (*first, Run("  "), *(prepare[0] if prepare else ()))
        return [spread(line, slack, width, "plain")]
    return [spread(first, slack, width, "plain"), *prepare]


def _figure(hands: Hands) -> Line:
    if hands.away is not None:
        wanted = f"  waiting: {hands.busy}" if hands.busy else ""
        return (Run(f" AWAY for {span(hands.away)} ", "busy"), Run(wanted))
    if hands.free is None:
        return (Run("FREE", "free"), Run(", nothing more to do"))
    if hands.free == 0:
        words = hands.busy or hands.until
        return (Run("BUSY", "busy"), Run(f" {words}" if words else ""))
    until = f", then {hands.until}" if hands.until else ""
    return (Run(f"FREE {span(hands.free)}", "free"), Run(until, "strong"))


def _prepare(hands: Hands, width: int, most: int) -> list[Line]:
    if not hands.prepare:
        return []
    fits = {True: "time for it", False: "no time before", None: ""}[hands.fits]
    text = "later" if hands.fits is False else "meanwhile"
    text += f" {hands.prepare}" + (f" ({fits})" if fits else "")
    role = "soft" if hands.fits is False else "plain"
    room = width - 10
    lines = wrap(text, room, most + 1)
    if len(lines) > most:
        lines = [*lines[: most - 1], squeezed(text[len(" ".join(lines[: most - 1])) :], room)]
    return [(Run("         "), Run(line, role)) for line in lines]
