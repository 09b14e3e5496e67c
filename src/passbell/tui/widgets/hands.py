"""The hands: how long she may leave, and what to prepare meanwhile."""

from passbell.tui.paint import Line, Run, span, spread, width_of, wrap
from passbell.tui.views.model import Hands
from passbell.tui.widgets.painted import Painted

_LEAST_ROOM = 24
"""Cells beneath which what to prepare would be cut beyond use."""


class HandsLine(Painted):
    """One figure always: how long the hands are free."""

    def __init__(self) -> None:
        super().__init__("hands")
        self._hands: Hands | None = None
        self._key = self._instead = ""

    def show(self, hands: Hands, instead: str = "", key: str = "") -> None:
        """Show these hands.

        Args:
            hands: what they have to do.
            instead: what has to be said in place of what to prepare.
            key: begins what there is time for.
        """
        if (hands, instead, key) != (self._hands, self._instead, self._key):
            self._hands, self._instead, self._key = hands, instead, key
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room."""
        if self._hands is None:
            return []
        return draw_hands(self._hands, width, height, self._instead, self._key)


def draw_hands(
    hands: Hands, width: int, height: int, instead: str = "", key: str = ""
) -> list[Line]:
    """The hands in so many cells: the figure first, then what to prepare, then the slack."""
    first = (Run("   "), Run("HANDS ", "soft"), *_figure(hands))
    spare = f"dish-up: slack {span(hands.slack)}" if hands.slack else "dish-up: no slack"
    slack: Line = (Run(f"{spare} ", "soft"),)
    prepare = _instead(instead, width, height) or _prepare(hands, width, max(1, height - 1), key)
    if width < 60 or hands.free is None:
        slack = ()
    if height == 1 and instead:
        first = first[:3]
    if height == 1:
        room = width - width_of(first) - width_of(slack) - 3
        also = (Run("  "), *prepare[0][1:]) if prepare and room >= _LEAST_ROOM else ()
        return [spread((*first, *also), slack, width, "plain")]
    return [spread(first, slack, width, "plain"), *prepare]


def _figure(hands: Hands) -> Line:
    if hands.away is not None:
        wanted = f"  waiting: {hands.busy}" if hands.busy else ""
        return (Run(f" AWAY, gone {span(hands.away)} ", "busy"), Run(wanted))
    if hands.free is None:
        return (Run("FREE", "free"), Run(", nothing more to do"))
    if hands.waits and not hands.busy:
        return (Run("FREE", "free"), Run(f", then {hands.until} {hands.waits}", "strong"))
    if hands.free == 0:
        if not hands.busy:
            return (Run("NOW", "busy"), Run(f" {hands.until}"))
        return (Run("BUSY", "busy"), Run(f" {hands.busy}"))
    until = f", then {hands.until}" if hands.until else ""
    return (Run(f"FREE {span(hands.free)}", "free"), Run(until, "strong"))


def _prepare(hands: Hands, width: int, most: int, key: str) -> list[Line]:
    if not hands.prepare:
        return []
    begin = f"begin in {span(hands.begin)}"
    now = f" now ({key})" if key else " now"
    text = {
        True: f"{'after that' if hands.busy else 'meanwhile'} {hands.prepare}: "
        f"time for it{'' if hands.busy else now}, or {begin}",
        False: f"later {hands.prepare}: {begin}, after {hands.before}",
        None: f"next {hands.prepare}: {begin}",
    }[hands.fits]
    text += f": {hands.doing}" if hands.doing else ""
    role = "soft" if hands.fits is False else "plain"
    return [(Run("         "), Run(line, role)) for line in wrap(text, width - 10, most)]


def _instead(text: str, width: int, height: int) -> list[Line]:
    lines = wrap(text, width - 10, max(1, height - 1))
    return [(Run("         "), Run(line, "strong")) for line in lines]
