"""The appliances: what each does, what its own display should read, what comes next."""

from passbell.tui.paint import Line, Run, cells_in, fill, full, width_of
from passbell.tui.views.model import ApplianceLine
from passbell.tui.widgets.painted import Painted


class ApplianceLines(Painted):
    """One line to an appliance, in file order."""

    def __init__(self) -> None:
        super().__init__("appliances")
        self._shown: tuple[ApplianceLine, ...] = ()

    def show(self, appliances: tuple[ApplianceLine, ...]) -> None:
        """Show these appliances."""
        if appliances != self._shown:
            self._shown = appliances
            self.look_again()

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room; the last says how many did not fit."""
        name = max((cells_in(a.name) for a in self._shown), default=0)
        drawn = [draw_appliance(appliance, width, name) for appliance in self._shown]
        if len(drawn) > height > 0:
            hidden = len(drawn) - height + 1
            alerts = [a.alert for a in self._shown[height - 1 :] if a.alert]
            words = f"   and {hidden} more" + (f": {alerts[0]}" if alerts else "")
            drawn = [*drawn[: height - 1], (Run(words, "alert" if alerts else "soft"),)]
        return drawn


_STANDING_WORDS = {"over": "switched off"}
_STANDING_ROLE = {"off": "soft", "over": "soft", "stopped": "off"}


def draw_appliance(appliance: ApplianceLine, width: int, name: int) -> Line:
    """One appliance in one line: name, state and mode, display, then alert or what comes.

    Args:
        appliance: what to show.
        width: cells to draw in.
        name: cells the longest name needs.
    """
    names = max(4, min(name, width // 6))
    word = _STANDING_WORDS.get(appliance.standing, appliance.standing)
    standing = f"{word}, " if appliance.mode else word
    reads = f"timer {appliance.display}" if appliance.display is not None else ""
    state = (Run(standing, _STANDING_ROLE.get(appliance.standing, "hot")), Run(appliance.mode))
    room = (28 if width < 100 else 38) if reads else max(10, width_of(state))
    if appliance.alert:
        taken = 4 + names + 1 + (12 if reads else 0) + cells_in(appliance.alert) + 4
        room = max(len(appliance.standing) + 1, min(room, width - taken))
    line: Line = (
        Run("   "),
        Run(fill(appliance.name, names), "strong"),
        Run(" "),
        *full(state, room, "plain"),
        Run(" "),
        *((Run(fill(reads, 11), "strong"), Run(" ")) if reads else ()),
    )
    inside = f"in it: {', '.join(appliance.inside)}" if appliance.inside and width >= 100 else ""
    tail: Line = ()
    if appliance.alert:
        tail = (Run(f" ! {appliance.alert} ", "alert"), Run("  "))
    elif appliance.coming:
        tail = (Run(appliance.coming), Run("   "))
    return full((*line, *tail, Run(inside, "soft")), width, "plain")
